import { decibels, ok, type Decibels, type Result } from '../../units/index.ts';
import { usualLevel } from '../click.ts';
import { renderClickTrack, type ClickTimeline, type ClickTrackOptions } from '../clickTrack.ts';
import { renderParts, type PartsOptions, type PartsTimeline } from '../parts/mix.ts';
import { factorOf } from '../tuning.ts';
import type { PartSound } from '../voices/voiceOf.ts';
import { partsCeiling } from './parts.ts';
import { writeWav } from './write.ts';

export interface FullWavOptions extends PartsOptions, ClickTrackOptions {
  /** 16 (the usual), 24, or 32 for floating point. */
  readonly depth?: number;
  /**
   * "centre", the usual: the click in every channel, together with the parts. "left": the click alone in the left
   * channel and the parts, mixed to one, in the right, so that one ear hears the click or a cable carries it alone.
   * With the seating "apart" the click has the first channel and each part one of its own, wherever it is placed.
   */
  readonly place?: 'centre' | 'left';
}

/** Where click and parts share a channel: the largest sum of both, and the most that the click takes of it, in dBFS. */
const together = { both: decibels(-1.5), click: decibels(-4.6) } as const;

/** The next block, or silence of that length after the last. */
const nextOf = (blocks: Iterator<Float64Array>, length: number): Float64Array => {
  const found = blocks.next();
  return found.done === true ? new Float64Array(length) : found.value;
};

/** The click in the first channel, the parts' channels after it. Blocks of both have the same lengths. */
function* sideBySide(
  clicks: Iterable<Float64Array>,
  parts: Iterable<Float64Array>,
  channels: number,
): Generator<Float64Array> {
  const others = parts[Symbol.iterator]();
  for (const block of clicks) {
    const other = nextOf(others, (channels - 1) * block.length);
    const frames = new Float64Array(channels * block.length);
    for (let n = 0; n < block.length; n += 1) {
      frames[channels * n] = block[n] ?? 0;
      for (let k = 1; k < channels; k += 1) frames[channels * n + k] = other[(channels - 1) * n + k - 1] ?? 0;
    }
    yield frames;
  }
}

/** The click added to every channel of the parts. */
function* added(
  clicks: Iterable<Float64Array>,
  parts: Iterable<Float64Array>,
  channels: number,
): Generator<Float64Array> {
  const others = parts[Symbol.iterator]();
  for (const block of clicks) {
    const frames = nextOf(others, channels * block.length);
    block.forEach((value, n) => {
      if (value === 0) return;
      for (let channel = 0; channel < channels; channel += 1) {
        const at = n * channels + channel;
        frames[at] = (frames[at] ?? 0) + value;
      }
    });
    yield frames;
  }
}

/**
 * Click, spoken count and parts of a drill as one WAV file in pieces. No sample passes -1.5 dBFS where click and parts
 * share a channel: the click has its level (at most -4.6 dBFS there) and the parts what is left. With the click on the
 * left, each channel has its own room. Problems and errors: those of `renderClickTrack`,
 * `renderParts` and `writeWav`.
 */
export const fullWav = (
  timeline: ClickTimeline & PartsTimeline,
  parts: readonly PartSound[],
  { depth = 16, place = 'centre', seating = 'mono', level = usualLevel, ...options }: FullWavOptions = {},
): Result<Iterable<Uint8Array>> => {
  const apart = place === 'left' || seating === 'apart';
  const clickLevel: Decibels = apart || !(level > together.click) || level > 0 ? level : together.click;
  const track = renderClickTrack(timeline, { ...options, level: clickLevel });
  if (!track.ok) return track;
  const room = (factorOf(together.both) - factorOf(clickLevel)) * (1 - 1e-9);
  const sound = renderParts(timeline, parts, apart ? partsCeiling : room, {
    ...options,
    seating: place === 'left' ? 'mono' : seating,
  });
  if (!sound.ok) return sound;
  const { frames } = track.value;
  const channels = sound.value.channels + (apart ? 1 : 0);
  const blocks = {
    [Symbol.iterator]: () =>
      apart
        ? sideBySide(track.value.blocks, sound.value.blocks, channels)
        : added(track.value.blocks, sound.value.blocks, channels),
  };
  const wav = writeWav(blocks, { sampleRate: timeline.sampleRate, channels, depth, frames });
  return wav.ok ? ok(wav.value, [...track.problems, ...sound.problems, ...wav.problems]) : wav;
};
