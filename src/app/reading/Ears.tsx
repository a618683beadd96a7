/** Ears first: what the players heard, before they see what the ear found. */
import type { Reading } from '../../desk/index.ts';
import { Word } from '../shelf/Fields.tsx';
import { useWords } from '../words/context.ts';
import type { HeardTakes } from './heardTakes.ts';

interface Props {
  readonly heard: HeardTakes;
  readonly parts: readonly Pick<Reading['parts'][number], 'id' | 'name'>[];
  /** Printed number of the bar that was touched; null: none. */
  readonly bar: string | null;
}

const tempi = ['on', 'back', 'steady', 'unsure'] as const;

interface ChoiceProps {
  readonly name: string;
  readonly legend: string;
  readonly value: string;
  readonly choices: readonly (readonly [value: string, words: string])[];
  readonly onPick: (value: string) => void;
}

const Choice = ({ name, legend, value, choices, onPick }: ChoiceProps) => (
  <fieldset class="choice">
    <legend>{legend}</legend>
    {choices.map(([one, words]) => (
      <label key={one}>
        <input type="radio" name={name} value={one} checked={value === one} onChange={() => onPick(one)} />
        <span>{words}</span>
      </label>
    ))}
  </fieldset>
);

export const Ears = ({ heard, parts, bar }: Props) => {
  const { reading } = useWords();
  const said = heard.take?.said ?? {};
  const answered = ['led', 'tempo', 'bar'].some((key) => (said[key] ?? '') !== '');
  return (
    <section class="ears" aria-label={reading.ears}>
      <h2>{reading.ears}</h2>
      <p class="aside">{reading.earsHelp}</p>
      {parts.length > 1 && (
        <Choice
          name="led"
          legend={reading.led}
          value={said['led'] ?? ''}
          choices={[
            ...parts.map(({ id, name }): [string, string] => [id, name || id]),
            ['together', reading.together],
            ['unsure', reading.unsure],
          ]}
          onPick={(led) => heard.say({ led })}
        />
      )}
      <Choice
        name="said-tempo"
        legend={reading.tempo}
        value={said['tempo'] ?? ''}
        choices={tempi.map((one): [string, string] => [one, reading.tempi[one]])}
        onPick={(tempo) => heard.say({ tempo })}
      />
      <p>
        {reading.where} <span role="status">{bar === null ? '' : reading.whereAt(bar)}</span>{' '}
        {bar !== null && <Word words={reading.nowhere} onPress={() => heard.say({ bar: '' })} />}
      </p>
      <p>
        <button type="button" class="do" disabled={!answered} onClick={() => heard.say({ shown: 'yes' })}>
          {reading.show}
        </button>
      </p>
    </section>
  );
};

/** What was said, beside what was found. */
export const Said = ({ heard, parts, bar }: Props) => {
  const { reading, page } = useWords();
  const said = heard.take?.said ?? {};
  const led = said['led'] ?? '';
  const tempo = tempi.find((one) => one === said['tempo']);
  const words = [
    led === ''
      ? ''
      : led === 'together'
        ? reading.together
        : led === 'unsure'
          ? reading.unsure
          : reading.ahead(parts.find(({ id }) => id === led)?.name ?? led),
    tempo === undefined ? '' : reading.tempoWas(reading.tempi[tempo]),
    bar === null ? '' : reading.whereAt(bar),
  ].filter((one) => one !== '');
  return (
    <p class="youheard">
      {reading.youHeard} {page.listed(words)}.{' '}
      <Word words={reading.fold} onPress={() => heard.say({ shown: '' })} />
    </p>
  );
};
