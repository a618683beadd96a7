/** How long notes sound and how even pairs of notes are, player by player and compared. */
import { differenceWithin, durationRatios, longShortLogs } from '../together/articulation.ts';
import { meanEstimate } from '../together/estimates.ts';
import { mappedEstimate } from '../together/interval.ts';
import { mean } from '../together/moments.ts';
import { F } from '../units/index.ts';
import { figure, systematicLength } from './figure.ts';
import type { Reading, ReadingLength, ReadingWritten } from './reading.ts';
import { same, type Heard, type Lines } from './readingLines.ts';
import { heldAs } from './readingWritten.ts';

type Style = Pick<
  Reading,
  'lengths' | 'articulation' | 'articulationBetween' | 'evenness' | 'evennessBetween'
>;

/** Fewer notes tell nothing of a player's way. */
const fewest = 5;
/** Longest notes whose evenness is looked at: an eighth. */
const shortNote = 1 / 8 + same;

const follows = (a: Heard, b: Heard): boolean => Math.abs(a.at + a.length - b.at) < same;

/** With the seconds to the next note that the drill asks for. */
type Length = ReadingLength & { readonly step: number };

/** Duration ratios of notes that are directly followed by the next. */
const ratiosOf = (line: readonly Heard[]): readonly Length[] =>
  line.flatMap((one, i) => {
    const next = line[i + 1];
    if (next === undefined || one.time === null || next.time === null || !follows(one, next)) return [];
    return durationRatios([
      { onset: one.time, offset: one.end },
      { onset: next.time, offset: null },
    ]).map((ratio) => ({ id: one.event.id, ratio, step: next.expected - one.expected }));
  });

/** A value that may be held against another player's only where the notes are written alike. */
interface Valued {
  readonly written: string;
  readonly value: number;
}

type WrittenById = ReadonlyMap<string, ReadingWritten>;

const writtenAs = ({ event: { id } }: Heard, written: WrittenById): string => {
  const found = written.get(id);
  return found === undefined ? '' : heldAs(found);
};

/** Logarithms of the long-short ratios of pairs of equal short notes, the first on the stronger place, by note value. */
const pairsOf = (line: readonly Heard[], written: WrittenById): ReadonlyMap<string, readonly Valued[]> => {
  const byValue = new Map<string, Valued[]>();
  line.forEach((first, i) => {
    const [second, after] = [line[i + 1], line[i + 2]];
    if (second === undefined || after === undefined || first.length > shortNote) return;
    if (!follows(first, second) || !follows(second, after)) return;
    // "2+1/2" begins on a fraction of a beat: the weaker place.
    if (Math.abs(first.length - second.length) > same || first.event.beat.includes('+')) return;
    const value = F.format(first.event.length);
    const logs = byValue.get(value) ?? [];
    const as = `${writtenAs(first, written)} / ${writtenAs(second, written)}`;
    logs.push(
      ...longShortLogs([first.time, second.time, after.time]).map((log) => ({ written: as, value: log })),
    );
    byValue.set(value, logs);
  });
  return byValue;
};

const everyTwo = <T, U>(items: readonly T[], work: (a: T, b: T) => readonly U[]): readonly U[] =>
  items.flatMap((a, i) => items.slice(i + 1).flatMap((b) => work(a, b)));

const valuesOf = (values: readonly Valued[]): readonly number[] => values.map(({ value }) => value);

/** First less second over what is written alike; null where too little is. */
const compared = (a: readonly Valued[], b: readonly Valued[]) => {
  const kinds = [...new Set(a.map(({ written }) => written))].map((kind) => ({
    first: valuesOf(a.filter(({ written }) => written === kind)),
    second: valuesOf(b.filter(({ written }) => written === kind)),
  }));
  const shared = kinds.filter(({ first, second }) => first.length >= 2 && second.length >= 2);
  const n = [
    shared.reduce((sum, { first }) => sum + first.length, 0),
    shared.reduce((sum, { second }) => sum + second.length, 0),
  ] as const;
  const difference = Math.min(...n) < fewest ? null : differenceWithin(shared);
  return difference === null ? null : { difference, n, left: [a.length - n[0], b.length - n[1]] as const };
};

/** Articulation and evenness of all players; null is nothing here: what cannot be told is left out. Players are compared where both are written alike. */
export const styleOf = ({ heard }: Lines, written: readonly ReadingWritten[]): Style => {
  const byId = new Map(written.map((one) => [one.id, one]));
  const lengths = [...heard].map(([part, line]) => ({ part, own: ratiosOf(line) }));
  const ratios = lengths
    .map(({ part, own }) => ({
      part,
      step: mean(own.map(({ step }) => step)) ?? 0,
      values: own.map(({ id, ratio }): Valued => {
        const found = byId.get(id);
        return { written: found === undefined ? '' : heldAs(found), value: ratio };
      }),
    }))
    .filter(({ values }) => values.length >= fewest);
  const logs = [...heard]
    .flatMap(([part, line]) => [...pairsOf(line, byId)].map(([value, values]) => ({ part, value, values })))
    .filter(({ values }) => values.length >= fewest);
  return {
    lengths: lengths.flatMap(({ own }) => own.map(({ id, ratio }) => ({ id, ratio }))),
    articulation: ratios.flatMap(({ part, values, step }) => {
      const ratio = meanEstimate(valuesOf(values));
      const more = systematicLength(step, 1);
      return ratio === null ? [] : [{ part, ratio: figure(ratio, { more }), n: values.length }];
    }),
    articulationBetween: everyTwo(ratios, (a, b) => {
      const seen = compared(a.values, b.values);
      if (seen === null) return [];
      const { difference, n, left } = seen;
      const more = systematicLength(Math.min(a.step, b.step), 2);
      return [{ parts: [a.part, b.part] as const, difference: figure(difference, { more }), n, left }];
    }),
    evenness: logs.flatMap(({ part, value, values }) => {
      const middle = meanEstimate(valuesOf(values));
      if (middle === null) return [];
      return [{ part, value, longShort: figure(mappedEstimate(middle, Math.exp)), n: values.length }];
    }),
    evennessBetween: everyTwo(logs, (a, b) => {
      const seen = a.value === b.value ? compared(a.values, b.values) : null;
      if (seen === null) return [];
      const ratio = figure(mappedEstimate(seen.difference, Math.exp));
      return [{ parts: [a.part, b.part] as const, value: a.value, ratio, n: seen.n }];
    }),
  };
};
