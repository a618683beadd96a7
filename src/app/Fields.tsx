/** Words in the margin that can be changed: the browser's own controls, drawn as text. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import type { Choice } from './choices.ts';

interface SelectProps {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly choices: readonly Choice[];
  readonly onPick: (value: string) => void;
}

/** A choice among words. A value that is none of the choices stands as it is. */
export const Pick = ({ name, label, value, choices, onPick }: SelectProps) => (
  <select
    name={name}
    aria-label={label}
    value={value}
    onChange={(event) => onPick(event.currentTarget.value)}
  >
    {(choices.some((choice) => choice.value === value) ? choices : [...choices, { value, words: value }]).map(
      (choice) => (
        <option key={choice.value} value={choice.value}>
          {choice.words}
        </option>
      ),
    )}
  </select>
);

interface WriteProps {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly hint?: string;
  /** Room for so many characters at least. */
  readonly size: number;
  /** Digits only, so that a tablet shows its digits, and the space key is free to play. */
  readonly digits?: boolean;
  /** What the arrow keys make of the value: one more (1) or one less (-1). */
  readonly step?: (value: string, by: 1 | -1) => string;
  readonly onWrite: (value: string) => void;
}

/**
 * A word that is written. It counts when one leaves it or presses Enter; until then what is typed stays, whatever
 * happens on the page.
 */
export const Write = ({ name, label, value, hint, size, digits = false, step, onWrite }: WriteProps) => {
  const [draft, setDraft] = useState<string | null>(null);
  const shown = draft ?? value;
  const write = (text: string): void => {
    setDraft(null);
    if (text !== value) onWrite(text);
  };
  return (
    <input
      type="text"
      name={name}
      aria-label={label}
      value={shown}
      placeholder={hint ?? ''}
      autocomplete="off"
      spellcheck={false}
      inputMode={digits ? 'numeric' : 'text'}
      data-drafted={draft === null ? undefined : 'yes'}
      data-types={digits ? undefined : 'space'}
      size={Math.max(size, shown.length)}
      onInput={(event) => setDraft(event.currentTarget.value)}
      onChange={(event) => write(event.currentTarget.value)}
      onKeyDown={(event) => {
        const by = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : null;
        if (by === null || step === undefined) return;
        event.preventDefault();
        write(step(event.currentTarget.value, by));
      }}
    />
  );
};

interface LineProps {
  /** What stands before the field. */
  readonly words: string;
  readonly class?: string;
  /** What follows it. */
  readonly children?: ComponentChildren;
}

/** A line of the margin: words, the choice that goes with them, and what follows. */
export const PickLine = ({ words, class: kind, children, ...pick }: SelectProps & LineProps) => (
  <p class={kind}>
    {words} <Pick {...pick} />
    {children}
  </p>
);

/** A line of the margin with a word that is written. */
export const WriteLine = ({ words, class: kind, children, ...write }: WriteProps & LineProps) => (
  <p class={kind}>
    {words} <Write {...write} />
    {children}
  </p>
);
