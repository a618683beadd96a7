/** The shelf's corner of the margin: the way to it, what is kept of the piece on the stand, and whether it is kept. */
import { drillsOf } from '../../desk/index.ts';
import { Write } from '../Fields.tsx';
import type { Shown } from '../session.ts';
import { Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { PieceSettings } from './PieceSettings.tsx';
import { Trouble } from './Trouble.tsx';
import { settingsWords, shelfWords } from './words.ts';

const Drills = ({ keeper, piece }: { readonly keeper: Keeper; readonly piece: string }) => (
  <details class="drills">
    <summary>{settingsWords.drills}</summary>
    <ul>
      {drillsOf(keeper.now.state.records, piece).map((drill) => (
        <li key={drill.id}>
          <Word
            words={drill.name}
            label={settingsWords.take(drill.name)}
            onPress={() => keeper.takeUp(drill)}
          />{' '}
          <Word
            words={settingsWords.forgetShort}
            label={settingsWords.forget(drill.name)}
            onPress={() => void keeper.remove([`saved-drill:${drill.id}`], drill.name)}
          />
        </li>
      ))}
    </ul>
    <p>
      {settingsWords.saveAs}{' '}
      <Write
        name="save-drill"
        label={settingsWords.saveAsLabel}
        value=""
        size={8}
        onWrite={(name) => {
          if (name.trim() !== '') keeper.saveDrill(name.trim());
        }}
      />
    </p>
  </details>
);

export const Corner = ({ keeper, shown }: { readonly keeper: Keeper; readonly shown: Shown }) => {
  const { piece, state, gone, opened, removed } = keeper.now;
  const home = piece === null ? undefined : state.records.get(`ensemble:${piece.ensemble}`);
  return (
    <div class="corner">
      <Trouble keeper={keeper} />
      <div role="status" class="kept-state" data-unkept={state.unkept}>
        {gone ? (
          <p>
            {settingsWords.gone} <Word words={settingsWords.putBack} onPress={() => keeper.putBack()} />
          </p>
        ) : opened !== null ? (
          <p class="aside">{settingsWords[opened]}</p>
        ) : removed !== null ? (
          <p>
            {shelfWords.removed(removed.title)} <Word words={shelfWords.undo} onPress={() => keeper.undo()} />
          </p>
        ) : null}
      </div>
      <p>
        <Word words={shelfWords.toShelf} onPress={() => (location.hash = '#shelf')} />
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
