/** A bar plan, typed in. What is typed stays through loading anew until it is put on the shelf. */
import { useState } from 'preact/hooks';
import { setTabNote, tabNote } from '../../host/browser/index.ts';
import type { Problem } from '../../units/index.ts';
import { problemText } from '../words/index.ts';
import type { Keeper } from './keeping.ts';
import { useSpeech } from '../words/context.ts';

const draft = 'plan';

export const NewPlan = ({ keeper }: { readonly keeper: Keeper }) => {
  const speech = useSpeech();
  const { shelf } = speech.words;
  const [text, setText] = useState(() => tabNote(draft) ?? '');
  const [error, setError] = useState<Problem | null>(null);
  const write = (now: string): void => {
    setText(now);
    setTabNote(draft, now === '' ? null : now);
  };
  return (
    <details class="plan" open={text !== ''}>
      <summary>{shelf.plan}</summary>
      <p>{shelf.planHelp}</p>
      <p class="example">{shelf.planExample}</p>
      <textarea
        name="plan"
        aria-label={shelf.planLabel}
        rows={4}
        maxLength={100_000}
        spellcheck={false}
        value={text}
        onInput={(event) => write(event.currentTarget.value)}
      />
      {error !== null && (
        <p role="alert" class="error">
          {problemText(error, speech)}
        </p>
      )}
      <button
        type="button"
        class="do"
        disabled={text.trim() === ''}
        onClick={() => {
          void keeper.newPlan(text).then((made) => {
            setError(made.ok ? null : made.error);
            if (made.ok) write('');
          });
        }}
      >
        {shelf.planMake}
      </button>
    </details>
  );
};
