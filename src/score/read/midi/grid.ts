/**
 * Positions as whole numbers of a fine unit, and the bars of the file on them. A unit is 1/322560 of a whole note:
 * 322560 = 2^10 x 3^2 x 5 x 7, so that 256th notes, their triplets and ninths, fifths and sevenths are whole numbers,
 * as is the bar of every metre that MIDI can say down to 1024ths.
 */
import {
  beats,
  F,
  problem,
  Refusal,
  countText,
  lengthText,
  type Beats,
  type Problem,
} from '../../../units/index.ts';
import { metre, type Metre } from '../../metre.ts';
import type { Bar } from '../../model.ts';
import type { RawMidi } from './events.ts';

export const whole = 322_560;
export const quarter = whole / 4;
/** Metres change on a 96th of a quarter; bar lines elsewhere mean nothing on paper. */
const barLineGrid = quarter / 96;
/** Bars in one file. The longest operas have about 10,000. */
const maximumBars = 20_000;

/** Units of a tick: whole quarters first, so that no digit is lost in long files. */
export const unitsOf = (tick: number, ticksPerQuarter: number): number => {
  const whole = Math.floor(tick / ticksPerQuarter);
  return whole * quarter + ((tick - whole * ticksPerQuarter) * quarter) / ticksPerQuarter;
};

/** Units as exact beats; each value is made once. */
export class BeatsTable {
  readonly #known = new Map<number, Beats>();

  of(units: number): Beats {
    const known = this.#known.get(units);
    if (known !== undefined) return known;
    const value = beats(F.fraction(units, whole));
    this.#known.set(units, value);
    return value;
  }
}

interface Stretch {
  readonly start: number;
  readonly metre: Metre;
  readonly length: number;
}

interface GridBar {
  readonly start: number;
  length: number;
  readonly metre: Metre;
}

/** The bars that the time signatures make. */
export class BarGrid {
  readonly problems: Problem[] = [];
  readonly #bars: GridBar[] = [];
  readonly #last: Stretch;
  #pickup = false;

  constructor(midi: Pick<RawMidi, 'metres'>, ticksPerQuarter: number, end: number) {
    const stretches = this.#stretches(midi, ticksPerQuarter, end);
    let short = 0;
    let firstShort = 0;
    stretches.forEach(({ start, metre: value, length }, k) => {
      const next = stretches[k + 1];
      if (next === undefined) return;
      this.#room((next.start - start) / length);
      for (let at = start; at < next.start; at += length) {
        const own = Math.min(length, next.start - at);
        if (own < length && short === 0) firstShort = this.#bars.length;
        if (own < length) short += 1;
        this.#bars.push({ start: at, length: own, metre: value });
      }
    });
    const last = stretches.at(-1);
    if (last === undefined) throw new Refusal('midi-unreadable', 'The MIDI file has no metre.');
    this.#last = last;
    this.#findPickup(stretches);
    if (short > 0)
      this.problems.push(
        problem(
          'repair',
          'metre-mid-bar',
          `A time signature stands inside a bar (${short} times, first in bar ${this.numberOf(firstShort)}): the bar ends there and is shorter than its metre.`,
          { bar: this.numberOf(firstShort) },
        ),
      );
  }

  get count(): number {
    return this.#bars.length;
  }

  /** Adds bars until a position lies before the last bar line. */
  cover(position: number): void {
    const { metre: value, length } = this.#last;
    this.#room((position - this.end) / length);
    while (this.end <= position || this.#bars.length === 0)
      this.#bars.push({ start: this.end, length, metre: value });
  }

  /** Adds the bars that end at or before a position, unless they are more than a file may have. */
  fill(position: number): void {
    const { metre: value, length } = this.#last;
    if (this.#bars.length + (position - this.end) / length > maximumBars) return;
    while (this.end + length <= position) this.#bars.push({ start: this.end, length, metre: value });
  }

  get end(): number {
    const bar = this.#bars.at(-1);
    return bar === undefined ? this.#last.start : bar.start + bar.length;
  }

  /** Index of the bar that holds a position; beyond the end, the last one. */
  at(position: number): number {
    let low = 0;
    let high = this.#bars.length - 1;
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if ((this.#bars[middle]?.start ?? 0) <= position) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  bar(index: number): { readonly start: number; readonly length: number } {
    return this.#bars[index] ?? { start: this.end, length: whole };
  }

  numberOf(index: number): string {
    return String(this.#pickup ? index : index + 1);
  }

  bars(table: BeatsTable): Bar[] {
    const second = this.#bars[1];
    return this.#bars.map(({ start, length, metre: value }, index) => {
      const pickup = this.#pickup && index === 0;
      return {
        index,
        number: this.numberOf(index),
        start: table.of(start),
        length: table.of(length),
        metre: pickup && second !== undefined ? second.metre : value,
        pickup,
        repeatStart: false,
        repeatEnd: 0,
        repeatAfterJump: false,
        ending: null,
        jumps: [],
        barline: index === this.#bars.length - 1 ? 'final' : 'regular',
        fermata: false,
      };
    });
  }

  #room(more: number): void {
    if (this.#bars.length + more > maximumBars)
      throw new Refusal(
        'too-many-bars',
        `The MIDI file is longer than ${maximumBars} bars. A note or a time signature stands far behind the music.`,
      );
  }

  #stretches({ metres }: Pick<RawMidi, 'metres'>, ticksPerQuarter: number, end: number): Stretch[] {
    const stretches: Stretch[] = [];
    let offGrid = 0;
    for (const { tick, value } of metres) {
      const exact = unitsOf(tick, ticksPerQuarter);
      const start = Math.round(exact / barLineGrid) * barLineGrid;
      // A signature behind the last note changes nothing.
      if (start > 0 && start >= end) continue;
      if (Math.abs(start - exact) >= quarter / ticksPerQuarter) offGrid += 1;
      const { numerator, denominator } = value;
      const stretch = {
        start,
        metre: metre(numerator, denominator),
        length: (whole / denominator) * numerator,
      };
      if (stretches.at(-1)?.start === start) stretches.pop();
      stretches.push(stretch);
    }
    if (offGrid > 0)
      this.problems.push(
        problem(
          'repair',
          'midi-metre-off-grid',
          `${countText(offGrid, 'time signature stands beside any note value; it is', 'time signatures stand beside any note value; they are')} moved to the nearest 96th of a quarter.`,
        ),
      );
    if (stretches[0]?.start !== 0) {
      // Standard MIDI Files 1.0: "4/4 is assumed" where no time signature is given.
      stretches.unshift({ start: 0, metre: metre(4, 4), length: whole });
      this.problems.push(
        problem(
          'assumption',
          'metre-assumed',
          'The MIDI file begins without a time signature; 4/4 is assumed.',
        ),
      );
    }
    return stretches;
  }

  /** One bar at the beginning that is shorter than the metre of the bars after it is read as an upbeat. */
  #findPickup(stretches: readonly Stretch[]): void {
    const [first, second, third] = stretches;
    if (first === undefined || second === undefined) return;
    const oneBar = second.start === first.length && first.length < second.length;
    const stays = third === undefined || third.start - second.start >= 2 * second.length;
    if (!oneBar || !stays) return;
    this.#pickup = true;
    this.problems.push(
      problem(
        'assumption',
        'pickup-assumed',
        `The first bar lasts ${lengthText(F.fraction(first.length, whole))} and the metre changes after it: it is taken as a pickup, bar 0.`,
        { bar: '0' },
      ),
    );
  }
}
