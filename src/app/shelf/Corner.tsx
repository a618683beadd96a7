/** The shelf's corner of the margin: the way to it, what is kept of the piece on the stand, and whether it is kept. */
import { drillsOf, type SavedDrill } from '../../desk/index.ts';
import { WriteLine } from '../Fields.tsx';
import { useFold } from '../fold.ts';
import type { Session, Shown } from '../session.ts';
import { Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { Markings } from './Markings.tsx';
import { PieceSettings } from './PieceSettings.tsx';
import { savedDrill } from './records.ts';
import { askedIn } from './settings.ts';
import { Trouble } from './Trouble.tsx';
import { useWords } from '../words/context.ts';

interface DrillsProps {
  readonly keeper: Keeper;
  readonly session: Session;
  readonly piece: string;
}

const Drills = ({ keeper, session, piece }: DrillsProps) => {
  const { settings } = useWords();
  const fold = useFold('drills');
  const takeUp = (drill: SavedDrill): void => {
    const asked = askedIn(drill.asked);
    if (asked !== undefined) session.ask(asked);
  };
  return (
    <details class="drills" {...fold}>
      <summary>{settings.drills}</summary>
      <ul>
        {drillsOf(keeper.now.state.records, piece).map((drill) => (
          <li key={drill.id}>
            <Word words={drill.name} label={settings.take(drill.name)} onPress={() => takeUp(drill)} />{' '}
            <Word
              words={settings.forgetShort}
              label={settings.forget(drill.name)}
              onPress={() => void keeper.remove([`saved-drill:${drill.id}`], drill.name)}
            />
          </li>
        ))}
      </ul>
      <WriteLine
        words={settings.saveAs}
        name="save-drill"
        label={settings.saveAsLabel}
        value=""
        size={8}
        onWrite={(name) => {
          if (name.trim() !== '') keeper.add(savedDrill(piece, name.trim(), session.shown.asked));
        }}
      />
    </details>
  );
};

interface CornerProps {
  readonly keeper: Keeper;
  readonly session: Session;
  readonly shown: Shown;
}

export const Corner = ({ keeper, session, shown }: CornerProps) => {
  const { shelf, settings } = useWords();
  const { piece, state, gone, opened, removed } = keeper.now;
  const home = piece === null ? undefined : state.records.get(`ensemble:${piece.ensemble}`);
  return (
    <div class="corner">
      <Trouble keeper={keeper} />
      <div role="status" class="kept-state" data-unkept={state.unkept}>
        {gone ? (
          <p>
            {settings.gone} <Word words={settings.putBack} onPress={() => keeper.putBack()} />
          </p>
        ) : opened !== null ? (
          <p class="aside">{settings[opened]}</p>
        ) : removed !== null ? (
          <p>
            {shelf.removed(removed.title)} <Word words={shelf.undo} onPress={() => keeper.undo()} />
          </p>
        ) : null}
      </div>
      <p>
        <Word words={shelf.toShelf} onPress={() => (location.hash = '#shelf')} />
      </p>
      {piece !== null && shown.piece !== null && (
        <>
          <PieceSettings
            keeper={keeper}
            piece={piece}
            look={shown.piece.look}
            ensemble={home?.kind === 'ensemble' ? home.value : null}
          />
          <Markings keeper={keeper} session={session} shown={shown} piece={piece.id} />
          <Drills keeper={keeper} session={session} piece={piece.id} />
        </>
      )}
    </div>
  );
};
