import type { Result } from '../../units/index.ts';
import { renderClickTrack, type ClickTimeline, type ClickTrackOptions } from '../clickTrack.ts';
import { writeWav } from './write.ts';

export interface ClickWavOptions extends ClickTrackOptions {
  /** 16 (the usual), 24, or 32 for floating point. */
  readonly depth?: number;
}

/**
 * The click track of a drill as a mono WAV file in pieces, at the timeline's sample rate (8,000 to 192,000 Hz): every
 * click on its sample, exact zero between clicks and words, as long as the drill (its exact duration, rounded to the
 * nearest sample). Problems and errors: those of `renderClickTrack` and `writeWav`.
 */
export const clickWav = (
  timeline: ClickTimeline,
  { depth = 16, ...options }: ClickWavOptions = {},
): Result<Iterable<Uint8Array>> => {
  const track = renderClickTrack(timeline, options);
  if (!track.ok) return track;
  const { frames, blocks } = track.value;
  const wav = writeWav(blocks, { sampleRate: timeline.sampleRate, channels: 1, depth, frames });
  return wav.ok ? { ...wav, problems: [...track.problems, ...wav.problems] } : wav;
};
