/** The shelf: a plain list of ensembles and pieces, and what comes in and goes out. */
import { useEffect, useRef } from 'preact/hooks';
import { ensemblesOf, soundsNamed } from '../../desk/index.ts';
import { Pick, Write } from '../Fields.tsx';
import { problemText } from '../words/index.ts';
import { Ensembles } from './Ensembles.tsx';
import { Word } from './Fields.tsx';
import type { Keeper } from './keeping.ts';
import { NewPlan } from './NewPlan.tsx';
import { Trouble } from './Trouble.tsx';
import { useSpeech, useWords } from '../words/context.ts';

interface Props {
  readonly keeper: Keeper;
}

const Said = ({ keeper }: Props) => {
  const speech = useSpeech();
  const { shelf } = speech.words;
  const { said, removed } = keeper.now;
  return (
    <div role="status" class="said">
      {said !== null && said.words !== '' && <p>{said.words}</p>}
      {said?.problems.map((one) => (
        <p key={problemText(one, speech)} class={one.severity === 'error' ? 'error' : ''}>
          {problemText(one, speech)}
        </p>
      ))}
      {removed !== null && (
        <p>
          {shelf.removed(removed.title)} <Word words={shelf.undo} onPress={() => keeper.undo()} />
        </p>
      )}
    </div>
  );
};

const Into = ({ keeper }: Props) => {
  const { shelf } = useWords();
  const { ensemble, state } = keeper.now;
  const ensembles = ensemblesOf(state.records);
  return (
    <p>
      {ensembles.length > 1 && (
        <>
          {shelf.into}{' '}
          <Pick
            name="into"
            label={shelf.intoLabel}
            value={ensemble}
            choices={ensembles.map((one) => ({ value: one.id, words: one.name || shelf.firstEnsemble }))}
            onPick={(id) => keeper.chooseEnsemble(id)}
          />
        </>
      )}
    </p>
  );
};

const Bring = ({ keeper }: Props) => {
  const { shelf } = useWords();
  return (
    <p class="open">
      <label>
        <span>{shelf.bring}</span>
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
      <small>{shelf.bringHelp}</small>
    </p>
  );
};

export const ShelfPage = ({ keeper }: Props) => {
  const { shelf } = useWords();
  const { state, lasting } = keeper.now;
  const hasSounds = soundsNamed(state.records).size > 0;
  const back = useRef<HTMLButtonElement>(null);
  useEffect(() => back.current?.focus(), []);
  return (
    <main class="shelf">
      <h1>{shelf.title}</h1>
      <p>
        <button type="button" class="do" ref={back} onClick={() => (location.hash = '')}>
          {shelf.back}
        </button>
      </p>
      <Trouble keeper={keeper} />
      <Said keeper={keeper} />
      <Ensembles keeper={keeper} />
      <section aria-label={shelf.add} class="new">
        <Bring keeper={keeper} />
        <NewPlan keeper={keeper} />
        <Into keeper={keeper} />
        <p>
          {shelf.newEnsemble}{' '}
          <Write
            name="new-ensemble"
            label={shelf.newEnsembleName}
            value=""
            size={12}
            onWrite={(name) => keeper.addEnsemble(name)}
          />
        </p>
        <p>
          <Word
            words={shelf.takeAll}
            onPress={() => void keeper.takeAlong(state.records.keys(), shelf.wholeFile)}
          />
        </p>
        {hasSounds && <p class="aside">{shelf.soundsApart}</p>}
        <p class="aside" data-unkept={state.unkept}>
          {shelf.local} {lasting && shelf.keptLasting}
        </p>
      </section>
    </main>
  );
};
