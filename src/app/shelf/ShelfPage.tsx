/** The shelf: a plain list of ensembles and pieces, and what comes in and goes out. */
import { useEffect, useRef } from 'preact/hooks';
import { ensemblesOf } from '../../desk/index.ts';
import { Pick, Write } from '../Fields.tsx';
import { problemWords } from '../wording.ts';
import { Ensembles, nameOf } from './Ensembles.tsx';
import { Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { NewPlan } from './NewPlan.tsx';
import { Trouble } from './Trouble.tsx';
import { shelfWords } from './words.ts';

interface Props {
  readonly keeper: Keeper;
}

const Said = ({ keeper }: Props) => {
  const { said, removed } = keeper.now;
  return (
    <div role="status" class="said">
      {said !== null && said.words !== '' && <p>{said.words}</p>}
      {said?.problems.map((one) => (
        <p key={problemWords(one)} class={one.severity === 'error' ? 'error' : ''}>
          {problemWords(one)}
        </p>
      ))}
      {removed !== null && (
        <p>
          {shelfWords.removed(removed.title)} <Word words={shelfWords.undo} onPress={() => keeper.undo()} />
        </p>
      )}
    </div>
  );
};

const Into = ({ keeper }: Props) => {
  const { ensemble, state } = keeper.now;
  const ensembles = ensemblesOf(state.records);
  return (
    <p>
      {ensembles.length > 1 && (
        <>
          {shelfWords.into}{' '}
          <Pick
            name="into"
            label={shelfWords.intoLabel}
            value={ensemble}
            choices={ensembles.map((one) => ({ value: one.id, words: nameOf(one) }))}
            onPick={(id) => keeper.chooseEnsemble(id)}
          />
        </>
      )}
    </p>
  );
};

const Bring = ({ keeper }: Props) => (
  <p class="open">
    <label>
      <span>{shelfWords.bring}</span>
      <input
        type="file"
        name="bring"
        multiple
        onChange={(event) => {
          const files = [...(event.currentTarget.files ?? [])];
          event.currentTarget.value = '';
          void files.reduce(async (before, file) => {
            await before;
            await keeper.openFile(file);
          }, Promise.resolve());
        }}
      />
    </label>{' '}
    <small>{shelfWords.bringHelp}</small>
  </p>
);

export const ShelfPage = ({ keeper }: Props) => {
  const { state, lasting } = keeper.now;
  const back = useRef<HTMLButtonElement>(null);
  useEffect(() => back.current?.focus(), []);
  return (
    <main class="shelf">
      <h1>{shelfWords.title}</h1>
      <p>
        <button type="button" class="do" ref={back} onClick={() => (location.hash = '')}>
          {shelfWords.back}
        </button>
      </p>
      <Trouble keeper={keeper} />
      <Said keeper={keeper} />
      <Ensembles keeper={keeper} />
      <section aria-label={shelfWords.add} class="new">
        <Bring keeper={keeper} />
        <NewPlan keeper={keeper} />
        <Into keeper={keeper} />
        <p>
          {shelfWords.newEnsemble}{' '}
          <Write
            name="new-ensemble"
            label={shelfWords.newEnsembleName}
            value=""
            size={12}
            onWrite={(name) => keeper.addEnsemble(name)}
          />
        </p>
        <p>
          <Word
            words={shelfWords.takeAll}
            onPress={() => void keeper.takeAlong(state.records.keys(), shelfWords.wholeFile)}
          />
        </p>
        <p class="aside" data-unkept={state.unkept}>
          {shelfWords.local} {lasting && shelfWords.keptLasting}
        </p>
      </section>
    </main>
  );
};
