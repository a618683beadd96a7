/**
 * Which notes make up a tuplet. Kern gives lengths only ("12" is a twelfth of a whole note); brackets and nested groups are found
 * from what the notes add up to (common practice, no source).
 */
import { F, type Fraction } from '../../../units/index.ts';
import type { WrittenNote } from '../../notes.ts';
import { drawnAs, type Recip } from './recip.ts';
import type { Entry } from './types.ts';

type Mark = WrittenNote['tupletMarks'][number];

export interface Tuplets {
  readonly marks: ReadonlyMap<Entry, readonly Mark[]>;
  /** How notes of inner groups are drawn. */
  readonly nested: ReadonlyMap<Entry, Pick<Recip, 'value' | 'tuplet'>>;
}

/** Entries that stand for time: no grace notes, no rests of a whole bar and only the first of a chord. */
const inTime = ({ chord, token, recip }: Entry): boolean =>
  !chord && token.grace === 'none' && token.rest < 2 && recip !== null;

const ratioOf = ({ recip }: Entry): Recip['tuplet'] => recip?.tuplet ?? { actual: 1, normal: 1 };
const lengthOf = ({ recip }: Entry): Fraction => recip?.length ?? F.zero;
const same = (a: Entry, b: Entry): boolean =>
  ratioOf(a).actual === ratioOf(b).actual && ratioOf(a).normal === ratioOf(b).normal;

/** Whether only twos divide the length. */
const isPlain = ({ d }: Fraction): boolean => (d & (d - 1n)) === 0n;

const sumOf = (run: readonly Entry[]): Fraction => run.map(lengthOf).reduce(F.add, F.zero);

/** Whether a run is complete: its sum is plain again; of duplets and the like, it fills the time of its shortest value. */
const isComplete = (run: readonly Entry[], sum: Fraction, shortest: Fraction): boolean => {
  const [first] = run;
  const actual = first === undefined ? 1 : ratioOf(first).actual;
  return actual % 2 === 1 && actual > 1
    ? isPlain(sum)
    : F.div(sum, F.mul(shortest, F.fraction(Math.max(1, actual)))).d === 1n;
};

/** Longer runs are no group that anyone reads as one. */
const longest = 200;

/** One voice's runs of tuplet notes, each as short as it can be. */
const runsOf = (voice: readonly Entry[]): readonly (readonly Entry[])[] => {
  const runs: Entry[][] = [];
  let run: Entry[] = [];
  let sum = F.zero;
  let shortest = F.zero;
  const close = (): void => {
    if (run.length > 0) runs.push(run);
    run = [];
  };
  for (const entry of voice) {
    const { actual, normal } = ratioOf(entry);
    if (actual === normal) {
      close();
      continue;
    }
    const length = lengthOf(entry);
    if (run.length === 0) {
      sum = F.zero;
      shortest = length;
    }
    run.push(entry);
    sum = F.add(sum, length);
    shortest = F.min(shortest, length);
    if (isComplete(run, sum, shortest) || run.length >= longest) close();
  }
  close();
  return runs;
};

/** Pieces of a run in which the ratio stays the same. */
const piecesOf = (run: readonly Entry[]): Entry[][] => {
  const pieces: Entry[][] = [];
  for (const entry of run) {
    const last = pieces.at(-1);
    if (last?.[0] !== undefined && same(last[0], entry)) last.push(entry);
    else pieces.push([entry]);
  }
  return pieces;
};

/** Groups and nested groups of the notes of one bar and part. */
export const tupletsOf = (entries: readonly Entry[]): Tuplets => {
  const marks = new Map<Entry, Mark[]>();
  const nested = new Map<Entry, Pick<Recip, 'value' | 'tuplet'>>();
  const mark = (run: readonly Entry[], number: number): void => {
    const [first] = run;
    const last = run.at(-1);
    if (first === undefined || last === undefined) return;
    marks.set(first, [...(marks.get(first) ?? []), { type: 'start', number }]);
    marks.set(last, [...(marks.get(last) ?? []), { type: 'stop', number }]);
  };

  /** Inner groups: the outer ratio is the smallest; what it leaves of the others is their own. False where that does not fit. */
  const nest = (run: readonly Entry[], pieces: readonly (readonly Entry[])[]): boolean => {
    const outer = run.map(ratioOf).reduce((least, one) => (one.actual < least.actual ? one : least));
    const scale = F.fraction(outer.actual, outer.normal);
    const inner = pieces.filter(([first]) => first !== undefined && ratioOf(first).actual !== outer.actual);
    const found = new Map<Entry, Pick<Recip, 'value' | 'tuplet'>>();
    for (const entry of inner.flat()) {
      const own = drawnAs(F.mul(lengthOf(entry), scale), entry.recip?.value?.dots ?? 0);
      if (own.value === null || own.tuplet.actual === own.tuplet.normal) return false;
      const actual = own.tuplet.actual * outer.actual;
      if (actual !== ratioOf(entry).actual) return false;
      found.set(entry, { value: own.value, tuplet: { actual, normal: own.tuplet.normal * outer.normal } });
    }
    if (!isPlain(sumOf(run)) || inner.some((piece) => !isPlain(F.mul(sumOf(piece), scale)))) return false;
    mark(run, 1);
    for (const piece of inner) mark(piece, 2);
    for (const [entry, drawn] of found) nested.set(entry, drawn);
    return true;
  };

  const voices = new Map<string, Entry[]>();
  for (const entry of entries) {
    if (!inTime(entry)) continue;
    const voice = voices.get(entry.voice);
    if (voice === undefined) voices.set(entry.voice, [entry]);
    else voice.push(entry);
  }
  for (const voice of voices.values())
    for (const run of runsOf(voice)) {
      const pieces = piecesOf(run);
      if (pieces.length === 1) mark(run, 1);
      else if (!nest(run, pieces)) for (const piece of pieces) mark(piece, 1);
    }
  return { marks, nested };
};
