/** How well the beginning of the part fits the recording at each possible offset: pitches alone, coarsely. */
import type { OffsetScores } from './clock.ts';
import type { Event } from './events.ts';
import type { Coarse } from './likeness.ts';
import { frameSeconds } from './spectra.ts';

/** Seconds of notes, from the first on, that are looked at: beyond that free players are elsewhere. */
const searched = 20;

/** One score for each frame of offset, from `least` seconds on: mean likeness in the middle of the notes. */
export const noteScores = (coarse: Coarse, events: readonly Event[], least: number): OffsetScores => {
  const begin = events[0]?.time ?? 0;
  const used = events.filter(({ time, midis }) => time <= begin + searched && midis.length > 0);
  const count = Math.max(1, coarse.frames - Math.floor(least / frameSeconds));
  const scores = new Float32Array(count);
  const width = coarse.pitches.length;
  for (const { time, duration, midis } of used) {
    const at = Math.round((least + time + Math.min(0.1, duration / 2)) / frameSeconds);
    for (const midi of midis) {
      const p = coarse.pitches.indexOf(midi);
      for (let o = Math.max(0, -at); o < count && o + at < coarse.frames; o += 1)
        scores[o] =
          (scores[o] ?? 0) + (coarse.likeness[(o + at) * width + p] ?? 0) / (used.length * midis.length);
    }
  }
  return { least, scores };
};
