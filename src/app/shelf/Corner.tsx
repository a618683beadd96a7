/** The shelf's corner of the margin: the way to it, what is kept of the piece on the stand, and whether it is kept. */
import { drillsOf } from '../../desk/index.ts';
import { Write } from '../Fields.tsx';
import type { Shown } from '../session.ts';
import { Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { PieceSettings } from './PieceSettings.tsx';
import { Trouble } from './Trouble.tsx';
import { useWords } from '../words/context.ts';

const Drills = ({ keeper, piece }: { readonly keeper: Keeper; readonly piece: string }) => {
  const { settings } = useWords();
  return (
    <details class="drills">
      <summary>{settings.drills}</summary>
      <ul>
        {drillsOf(keeper.now.state.records, piece).map((drill) => (
          <li key={drill.id}>
            <Word words={drill.name} label={settings.take(drill.name)} onPress={() => keeper.takeUp(drill)} />{' '}
            <Word
              words={settings.forgetShort}
              label={settings.forget(drill.name)}
              onPress={() => void keeper.remove([`saved-drill:${drill.id}`], drill.name)}
            />
          </li>
        ))}
      </ul>
      <p>
        {settings.saveAs}{' '}
        <Write
          name="save-drill"
          label={settings.saveAsLabel}
          value=""
          size={8}
          onWrite={(name) => {
            if (name.trim() !== '') keeper.saveDrill(name.trim());
          }}
        />
      </p>
    </details>
  );
};

export const Corner = ({ keeper, shown }: { readonly keeper: Keeper; readonly shown: Shown }) => {
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
          <Drills keeper={keeper} piece={piece.id} />
        </>
      )}
    </div>
  );
};
