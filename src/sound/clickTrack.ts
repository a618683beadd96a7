/** The click of a drill with its spoken count: one channel of samples. */
import type { Timeline } from '../drill/model.ts';
import { ok, samplesAt, type Decibels, type Result } from '../units/index.ts';
import { usualLevel, type ClickRegister } from './click.ts';
import { chooseRegister, type SoundingNote } from './registers.ts';
import { soundingClicks, spokenWords, type CountSound } from './counts.ts';
import { renderClicks } from './render.ts';
import { checkReference, referencePitches } from './tuning.ts';
import type { PlacedWord } from './words/place.ts';
import type { WordSet } from './words/wordSet.ts';

export { accented, type CountSound } from './counts.ts';

export type ClickTimeline = Pick<Timeline, 'sampleRate' | 'clicks' | 'duration'> & {
  /** The click keeps clear of their register; without notes it lies in the middle one. */
  readonly notes?: readonly SoundingNote[];
};

export interface ClickTrackOptions {
  /** Peak of each click in dBFS, -60 to -1.5; -6 where it is left out. Nothing in the track passes it. */
  readonly level?: Decibels;
  /** Left out: the one that is clearest of the timeline's notes. */
  readonly register?: ClickRegister;
  /** No accent on first beats in the music (counts keep theirs), see `isLight`; false where it is left out. */
  readonly light?: boolean;
  /** The spoken count; null or left out: counts are clicked. */
  readonly words?: WordSet | null;
  /** "both" where it is left out. */
  readonly count?: CountSound;
  /** A4 in Hz, 392 to 466, for the choice of the register; 440 where it is left out. */
  readonly reference?: number;
}

function* together(blocks: Iterable<Float64Array>, placed: readonly PlacedWord[]): Generator<Float64Array> {
  let from = 0;
  let next = 0;
  for (const block of blocks) {
    const end = from + block.length;
    for (let i = next; i < placed.length; i += 1) {
      const { start, samples } = placed[i] ?? { start: end, samples: new Float64Array(0) };
      if (start >= end) break;
      const last = Math.min(end, start + samples.length);
      for (let n = Math.max(from, start); n < last; n += 1)
        block[n - from] = (block[n - from] ?? 0) + (samples[n - start] ?? 0);
      if (start + samples.length <= end && i === next) next += 1;
    }
    from = end;
    yield block;
  }
}

export interface ClickTrack {
  readonly frames: number;
  readonly register: ClickRegister;
  /** Mono, full scale 1, blocks of `blockLength` (render.ts); fresh each time. */
  readonly blocks: Iterable<Float64Array>;
}

/**
 * Renders the click track. Clicks begin on their samples; of a spoken count the vowel does. Problems: those of
 * `placeWords`. Errors: those of `renderClicks`, and "reference-pitch".
 */
export const renderClickTrack = (
  timeline: ClickTimeline,
  options: ClickTrackOptions = {},
): Result<ClickTrack> => {
  const { level = usualLevel, light = false, words = null, count = 'both' } = options;
  const { sampleRate, clicks, duration } = timeline;
  const reference = checkReference(options.reference ?? referencePitches.usual);
  if (!reference.ok) return reference;
  // An unusable rate is refused by renderClicks; it must not stop the arithmetic in front of it.
  const frames = samplesAt(duration, Number.isInteger(sampleRate) ? sampleRate : 0);
  const register = options.register ?? chooseRegister(timeline.notes ?? [], sampleRate, reference.value);
  const sounding = renderClicks(soundingClicks(clicks, light, words, count), frames, {
    sampleRate,
    level,
    register,
  });
  if (!sounding.ok) return sounding;
  const { placed, problems } = spokenWords(clicks, sampleRate, frames, level, words, count);
  const blocks = sounding.value;
  return ok({ frames, register, blocks: { [Symbol.iterator]: () => together(blocks, placed) } }, problems);
};
