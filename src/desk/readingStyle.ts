/** How long notes sound and how even pairs of notes are, player by player and compared. */
import { durationRatios, longShortLogs, meanDifference } from '../together/articulation.ts';
import { meanEstimate } from '../together/estimates.ts';
import { mappedEstimate } from '../together/interval.ts';
import { F } from '../units/index.ts';
import { figure } from './figure.ts';
import type { Reading, ReadingLength } from './reading.ts';
import { same, type Heard, type Lines } from './readingLines.ts';

type Style = Pick<
  Reading,
  'lengths' | 'articulation' | 'articulationBetween' | 'evenness' | 'evennessBetween'
>;

/** Fewer notes tell nothing of a player's way. */
const fewest = 5;
/** Longest notes whose evenness is looked at: an eighth. */
const shortNote = 1 / 8 + same;

const follows = (a: Heard, b: Heard): boolean => Math.abs(a.at + a.length - b.at) < same;

/** Duration ratios of notes that are directly followed by the next. */
const ratiosOf = (line: readonly Heard[]): readonly ReadingLength[] =>
  line.flatMap((one, i) => {
    const next = line[i + 1];
    if (next === undefined || one.time === null || next.time === null || !follows(one, next)) return [];
    return durationRatios([
      { onset: one.time, offset: one.end },
      { onset: next.time, offset: null },
    ]).map((ratio) => ({ id: one.event.id, ratio }));
  });

/** Logarithms of the long-short ratios of pairs of equal short notes, the first on the stronger place, by note value. */
const pairsOf = (line: readonly Heard[]): ReadonlyMap<string, readonly number[]> => {
  const byValue = new Map<string, number[]>();
  line.forEach((first, i) => {
    const [second, after] = [line[i + 1], line[i + 2]];
    if (second === undefined || after === undefined || first.length > shortNote) return;
    if (!follows(first, second) || !follows(second, after)) return;
    // "2+1/2" begins on a fraction of a beat: the weaker place.
    if (Math.abs(first.length - second.length) > same || first.event.beat.includes('+')) return;
    const value = F.format(first.event.length);
    const logs = byValue.get(value) ?? [];
    logs.push(...longShortLogs([first.time, second.time, after.time]));
    byValue.set(value, logs);
  });
  return byValue;
};

const everyTwo = <T, U>(items: readonly T[], work: (a: T, b: T) => readonly U[]): readonly U[] =>
  items.flatMap((a, i) => items.slice(i + 1).flatMap((b) => work(a, b)));

/** Articulation and evenness of all players; null is nothing here: what cannot be told is left out. */
export const styleOf = ({ heard }: Lines): Style => {
  const lengths = [...heard].map(([part, line]) => ({ part, own: ratiosOf(line) }));
  const ratios = lengths
    .map(({ part, own }) => ({ part, values: own.map(({ ratio }) => ratio) }))
    .filter(({ values }) => values.length >= fewest);
  const logs = [...heard]
    .flatMap(([part, line]) => [...pairsOf(line)].map(([value, values]) => ({ part, value, values })))
    .filter(({ values }) => values.length >= fewest);
  return {
    lengths: lengths.flatMap(({ own }) => own),
    articulation: ratios.flatMap(({ part, values }) => {
      const ratio = meanEstimate(values);
      return ratio === null ? [] : [{ part, ratio: figure(ratio), n: values.length }];
    }),
    articulationBetween: everyTwo(ratios, (a, b) => {
      const difference = meanDifference(a.values, b.values);
      if (difference === null) return [];
      return [
        {
          parts: [a.part, b.part] as const,
          difference: figure(difference),
          n: [a.values.length, b.values.length] as const,
        },
      ];
    }),
    evenness: logs.flatMap(({ part, value, values }) => {
      const middle = meanEstimate(values);
      if (middle === null) return [];
      return [{ part, value, longShort: figure(mappedEstimate(middle, Math.exp)), n: values.length }];
    }),
    evennessBetween: everyTwo(logs, (a, b) => {
      const difference = a.value === b.value ? meanDifference(a.values, b.values) : null;
      if (difference === null) return [];
      return [
        {
          parts: [a.part, b.part] as const,
          value: a.value,
          ratio: figure(mappedEstimate(difference, Math.exp)),
          n: [a.values.length, b.values.length] as const,
        },
      ];
    }),
  };
};
