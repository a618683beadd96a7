/** Findings in words: a sentence, one thing to try, and why to be careful. */
import type { Finding, FindingUnit } from '../findings/model.ts';
import type { Reading } from '../reading.ts';
import { german } from './de/findings.ts';
import { english } from './en/findings.ts';
import type { Amount, FindingWords, Told } from './facts.ts';
import type { TellingLanguage } from './language.ts';

export { tellingLanguage, type TellingLanguage } from './language.ts';
export type { FindingWords } from './facts.ts';

export const findingWords: Readonly<Record<TellingLanguage, FindingWords>> = { en: english, de: german };

const digits: Readonly<Record<FindingUnit, number>> = {
  ms: 0,
  pace: 1,
  'pace-slope': 1,
  dB: 1,
  'dB-slope': 1,
  share: 2,
  factor: 2,
};

/** Rounded, a figure that is surely not nothing never reads as 0; what was told is a size, else its sign stands. */
const amountOf = ({ figure: { unit, value, low, high }, told }: Finding, point: string): Amount => {
  const turned = told && value < 0;
  const [x, from, to] = turned ? [-value, -high, -low] : [value, low, high];
  const places = digits[unit];
  const zero = told && unit !== 'factor' && Number(from.toFixed(places)) === 0;
  const text = (number: number): string =>
    number
      .toFixed(zero ? places + 1 : places)
      .replace(/^-(?=0(\.0*)?$)/, '')
      .replace('-', '\u2212')
      .replace('.', point);
  // An interval has a width, even where rounding leaves none.
  const end = text(from) === text(to) ? text(to + 10 ** -places) : text(to);
  return { value: text(x), low: text(from), high: end, unit: unit === 'ms' || unit === 'dB' ? unit : '' };
};

/** Names of players as they are shown: with the part's id where two have one name. */
export const shownNames = ({ parts }: Pick<Reading, 'parts'>): ((id: string) => string) => {
  const shown = new Map(
    parts.map(({ id, name }) => {
      const shared = parts.some((other) => other.id !== id && other.name === name);
      return [id, name === '' ? id : shared ? `${name} (${id})` : name];
    }),
  );
  return (id) => shown.get(id) ?? id;
};

export interface FindingText {
  readonly sentence: string;
  readonly tryThis: string;
  /** Null where nothing calls for it. */
  readonly caution: string | null;
}

/** One finding in words. Only who leads is named; everyone else finds out by listening. */
export const findingText = (
  finding: Finding,
  reading: Pick<Reading, 'parts' | 'notes'>,
  language: TellingLanguage,
): FindingText => {
  const words = findingWords[language];
  const name = shownNames(reading);
  const { kind, told, small, bar, beat, toBar, rep, parts, figure, n, value, times } = finding;
  const facts: Told = {
    place: { bar, beat, toBar, rep: reading.notes.some((note) => note.rep > 1) ? rep : null, times },
    amount: amountOf(finding, words.point),
    up: figure.value > 0,
    n,
    names: [name(parts[0] ?? ''), name(parts[1] ?? '')],
    value: value ?? '',
  };
  const sentence = (told ? words.told : words.untold)[kind](facts);
  return {
    sentence: small ? `${sentence} ${words.small}` : sentence,
    tryThis: words.tryThis(words.tries[finding.toTry]),
    caution:
      finding.caution.length === 0
        ? null
        : words.caution(finding.caution.map((reason) => words.cautions[reason](facts))),
  };
};
