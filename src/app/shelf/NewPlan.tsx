/** A bar plan, typed in. What is typed stays through loading anew until it is put on the shelf. */
import { useState } from 'preact/hooks';
import { setTabNote, tabNote } from '../../host/browser/index.ts';
import { problemWords } from '../wording.ts';
import type { Keeper } from './keeping.ts';
import { shelfWords } from './words.ts';

const draft = 'plan';

export const NewPlan = ({ keeper }: { readonly keeper: Keeper }) => {
  const [text, setText] = useState(() => tabNote(draft) ?? '');
  const [error, setError] = useState<string | null>(null);
  const write = (now: string): void => {
    setText(now);
    setTabNote(draft, now === '' ? null : now);
  };
  return (
    <details class="plan" open={text !== ''}>
      <summary>{shelfWords.plan}</summary>
      <p>{shelfWords.planHelp}</p>
      <p class="example">{shelfWords.planExample}</p>
      <textarea
        name="plan"
        aria-label={shelfWords.planLabel}
        rows={4}
        maxLength={100_000}
        spellcheck={false}
        value={text}
        onInput={(event) => write(event.currentTarget.value)}
      />
      {error !== null && (
        <p role="alert" class="error">
          {error}
        </p>
      )}
      <button
        type="button"
        class="do"
        disabled={text.trim() === ''}
        onClick={() => {
          void keeper.newPlan(text).then((made) => {
            setError(made.ok ? null : problemWords(made.error));
            if (made.ok) write('');
          });
        }}
      >
        {shelfWords.planMake}
      </button>
    </details>
  );
};
