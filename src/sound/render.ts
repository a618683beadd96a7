/** Click events to samples, block by block, so that an hour needs no more memory than a minute. */
import { fail, ok, type Decibels, type Result, type Samples } from '../units/index.ts';
import { clickMaker, usualLevel } from './click.ts';

/** Where a click begins, counted from the file's first sample, and whether it is the first beat of a bar. */
export interface ClickOnset {
  readonly sample: Samples;
  readonly first: boolean;
}

export interface RenderOptions {
  /** Hz, a whole number from 8,000 to 192,000. */
  readonly sampleRate: number;
  /** Peak of each click in dBFS, -60 to -1.5; -6 where it is left out. */
  readonly level?: Decibels;
}

/** Samples in a block; the last block may be shorter. */
export const blockLength = 65_536;

/** By time, with clicks on the same sample made one: two together would only be louder. */
const merged = (events: readonly ClickOnset[]): readonly ClickOnset[] => {
  const firstAt = new Map<Samples, boolean>();
  for (const { sample, first } of events) firstAt.set(sample, first || firstAt.get(sample) === true);
  return [...firstAt].map(([sample, first]) => ({ sample, first })).sort((a, b) => a.sample - b.sample);
};

/**
 * Renders clicks to mono blocks, full scale 1. Each click begins exactly on its sample. It is cut to three quarters of
 * the way to the next click, where that is shorter, and to the end of the file; so clicks never overlap, the peak is
 * that of one click whatever the events, and between clicks there is exact zero. (Clicks fewer than two samples apart
 * leave no room for a zero.) The blocks can be iterated more than once and are fresh each time.
 *
 * `length`: samples in all. Errors: "sample-rate", "click-level", "click-outside" (a click before the beginning, or at
 * or after the end, or on no whole sample), "sound-length" (a length that is no whole number from 0).
 */
export const renderClicks = (
  events: readonly ClickOnset[],
  length: Samples,
  { sampleRate, level = usualLevel }: RenderOptions,
): Result<Iterable<Float64Array>> => {
  const maker = clickMaker(sampleRate, level);
  if (!maker.ok) return maker;
  if (!Number.isSafeInteger(length) || length < 0) {
    return fail(
      'sound-length',
      `The sound would last ${length} samples. That has to be a whole number from 0.`,
    );
  }
  const outside = events.find(
    ({ sample }) => !Number.isSafeInteger(sample) || sample < 0 || sample >= length,
  );
  if (outside !== undefined) {
    return fail(
      'click-outside',
      `A click lies on sample ${outside.sample}, but the sound has samples 0 to ${length - 1}. The drill's length and its clicks contradict each other.`,
    );
  }
  const make = maker.value;
  const clicks = merged(events);
  const roomAt = (index: number): Samples => {
    const sample = clicks[index]?.sample ?? 0;
    const next = clicks[index + 1]?.sample;
    const room = next === undefined ? length - sample : Math.floor(((next - sample) * 3) / 4);
    return Math.max(1, room) as Samples;
  };

  function* blocks(): Generator<Float64Array> {
    let index = 0;
    let sound = new Float64Array(0);
    let made = -1;
    for (let start = 0; start < length; start += blockLength) {
      const block = new Float64Array(Math.min(blockLength, length - start));
      const end = start + block.length;
      for (let event = clicks[index]; event !== undefined && event.sample < end; event = clicks[index]) {
        if (made !== index) {
          sound = Float64Array.from(make(event.first ? 'first beat' : 'beat', roomAt(index)));
          made = index;
        }
        const from = Math.max(start, event.sample);
        const to = Math.min(end, event.sample + sound.length);
        block.set(sound.subarray(from - event.sample, to - event.sample), from - start);
        if (event.sample + sound.length > end) break;
        index += 1;
      }
      yield block;
    }
  }
  return ok({ [Symbol.iterator]: blocks });
};
