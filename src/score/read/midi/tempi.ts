/**
 * Tempo events as tempo marks. MIDI says microseconds per quarter, whole ones: most tempi are rounded there. Rule: of
 * the figures with no, one or two decimals, the first whose own length of a quarter, 60000000/figure microseconds, lies
 * within half a microsecond of what the file says is taken; 652174 gives 92. Where there is none, 60000000/n is kept
 * exactly. A new tempo within 4 microseconds of the figure that is running is the writer's correction of its rounding
 * and no new tempo.
 */
import { beats, bpm, F, type Beats, type Bpm, type Fraction, type Problem } from '../../../units/index.ts';
import { countedProblem } from './problems.ts';
import type { Timed } from './events.ts';

export interface ReadTempo {
  readonly tick: number;
  /** Quarters. */
  readonly perMinute: Bpm;
}

export const quarterBeat: Beats = beats(F.fraction(1, 4));

const microsecondsAMinute = 60_000_000;
const correction = 4;

/** Bounds of a tempo that can be meant, in quarters per minute. Common practice, no source. */
const plausible = { slowest: F.fraction(5), fastest: F.fraction(1000) };

/** The figure meant by a number of microseconds per quarter, above zero. */
export const plainTempo = (microseconds: number): { readonly perMinute: Bpm; readonly rounded: boolean } => {
  for (const decimals of [1, 10, 100]) {
    const figure = Math.round((microsecondsAMinute * decimals) / microseconds);
    if (figure <= 0) continue;
    // |60000000 x decimals / figure - microseconds| <= 1/2, in whole numbers.
    const beside = Math.abs(microsecondsAMinute * decimals - microseconds * figure);
    if (2 * beside <= figure) return { perMinute: bpm(F.fraction(figure, decimals)), rounded: beside > 0 };
  }
  return { perMinute: bpm(F.fraction(microsecondsAMinute, microseconds)), rounded: false };
};

const isCorrection = (microseconds: number, running: Fraction): boolean =>
  Math.abs(microsecondsAMinute / F.toNumber(running) - microseconds) <= correction;

/** The tempi of a file, by tick, each different from the one before. */
export const readTempi = (
  events: readonly Timed<number>[],
): { readonly tempi: readonly ReadTempo[]; readonly problems: readonly Problem[] } => {
  const tempi: ReadTempo[] = [];
  let zeros = 0;
  let rounded = 0;
  let corrections = 0;
  let absurd = 0;
  for (const { tick, value } of events) {
    const last = tempi.at(-1);
    if (value === 0) {
      zeros += 1;
      continue;
    }
    const read = plainTempo(value);
    if (last !== undefined && F.equal(last.perMinute, read.perMinute)) continue;
    if (last !== undefined && last.tick < tick && isCorrection(value, last.perMinute)) {
      corrections += 1;
      continue;
    }
    if (last?.tick === tick) tempi.pop();
    const before = tempi.at(-1);
    if (before !== undefined && F.equal(before.perMinute, read.perMinute)) continue;
    if (read.rounded) rounded += 1;
    if (F.less(read.perMinute, plausible.slowest) || F.less(plausible.fastest, read.perMinute)) absurd += 1;
    tempi.push({ tick, perMinute: read.perMinute });
  }
  return {
    tempi,
    problems: [
      ...countedProblem(
        'repair',
        'tempo-zero',
        zeros,
        'tempo change says that a quarter lasts no time; it is left out.',
        'tempo changes say that a quarter lasts no time; they are left out.',
      ),
      ...countedProblem(
        'assumption',
        'tempo-rounded',
        rounded,
        'tempo is rounded to whole microseconds in the file; the plain figure that it stands for is taken.',
        'tempi are rounded to whole microseconds in the file; the plain figures that they stand for are taken.',
      ),
      ...countedProblem(
        'note',
        'tempo-corrections',
        corrections,
        'tempo change of at most 4 microseconds a quarter is a correction of that rounding and is passed over.',
        'tempo changes of at most 4 microseconds a quarter are corrections of that rounding and are passed over.',
      ),
      ...countedProblem(
        'note',
        'tempo-absurd',
        absurd,
        'tempo lies outside 5 to 1000 quarters a minute; it is kept as it is.',
        'tempi lie outside 5 to 1000 quarters a minute; they are kept as they are.',
      ),
    ],
  };
};
