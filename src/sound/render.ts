/** Click events to samples, block by block, so that an hour needs no more memory than a minute. */
import { ok, type Decibels, type Result, type Samples } from '../units/index.ts';
import { clickMaker, usualLevel, type ClickRegister } from './click.ts';
import { clickQueue, softness, type ClickOnset } from './clickQueue.ts';

export type { ClickOnset } from './clickQueue.ts';

export interface RenderOptions {
  /** Hz, a whole number from 8,000 to 192,000. */
  readonly sampleRate: number;
  /** Peak of each click in dBFS, -60 to -1.5; -6 where it is left out. */
  readonly level?: Decibels;
  /** "middle" where it is left out. */
  readonly register?: ClickRegister;
}

/** Samples in a block; the last block may be shorter. */
export const blockLength = 65_536;

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
  { sampleRate, level = usualLevel, register = 'middle' }: RenderOptions,
): Result<Iterable<Float64Array>> => {
  const maker = clickMaker(sampleRate, level, register);
  if (!maker.ok) return maker;
  const queue = clickQueue(events, length);
  if (!queue.ok) return queue;
  const make = maker.value;
  const clicks = queue.value;

  function* blocks(): Generator<Float64Array> {
    let index = 0;
    let sound = new Float64Array(0);
    let made = -1;
    for (let start = 0; start < length; start += blockLength) {
      const block = new Float64Array(Math.min(blockLength, length - start));
      const end = start + block.length;
      for (let event = clicks[index]; event !== undefined && event.sample < end; event = clicks[index]) {
        if (made !== index) {
          sound = Float64Array.from(make(event.first ? 'first beat' : 'beat', event.room));
          if (event.soft) sound = sound.map((value) => value * softness);
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
