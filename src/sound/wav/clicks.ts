import type { Timeline } from '../../drill/model.ts';
import { samplesAt, type Decibels, type Result } from '../../units/index.ts';
import { renderClicks } from '../render.ts';
import { writeWav } from './write.ts';

export interface ClickWavOptions {
  /** 16 (the usual), 24, or 32 for floating point. */
  readonly depth?: number;
  /** Peak of each click in dBFS, -60 to -1.5; -6 where it is left out. */
  readonly level?: Decibels;
}

/**
 * The click track of a drill as a mono WAV file in pieces, at the timeline's sample rate (8,000 to 192,000 Hz): every
 * click on its sample, exact zero between clicks, as long as the drill (its exact duration, rounded to the nearest
 * sample). Errors: those of `renderClicks` and `writeWav`.
 */
export const clickWav = (
  timeline: Pick<Timeline, 'sampleRate' | 'clicks' | 'duration'>,
  { depth = 16, level }: ClickWavOptions = {},
): Result<Iterable<Uint8Array>> => {
  const { sampleRate, clicks, duration } = timeline;
  // An unusable rate is refused by renderClicks; it must not stop the arithmetic in front of it.
  const frames = samplesAt(duration, Number.isInteger(sampleRate) ? sampleRate : 0);
  const blocks = renderClicks(clicks, frames, level === undefined ? { sampleRate } : { sampleRate, level });
  return blocks.ok ? writeWav(blocks.value, { sampleRate, channels: 1, depth, frames }) : blocks;
};
