/** Count words on their beats. */
import { problem, type Problem } from '../../units/index.ts';
import { exponential } from '../exponential.ts';
import { resample, type Resampled } from './resample.ts';
import type { WordEntry, WordSet } from './wordSet.ts';

/** A count: where its beat lies, in samples, and the timeline's word. */
export interface Count {
  readonly sample: number;
  readonly word: string;
}

/** A count as it is said. */
export interface SpokenCount extends Count {
  /** Null where there is no such word; then nothing is said. */
  readonly entry: WordEntry | null;
}

/** A clip at its place in the sound. */
export interface PlacedWord {
  readonly start: number;
  readonly samples: Float64Array;
}

/** The timeline cuts some English names when fast: they are the same counts. */
const nameOf = (word: string): string => ({ sev: 'seven', lev: 'eleven' })[word] ?? word;

/** Whether a timeline's count can be said. */
export const hasWord = (words: WordSet, word: string): boolean =>
  words.entries.some((entry) => entry.word === nameOf(word));

/**
 * Which form of each count is said. A count is said in one syllable where the next one, or for the last of a run the
 * one before, is nearer than the set's `fastBelow`. `rate`: of the counts, in Hz. Counts by time.
 */
export const spokenCounts = (
  counts: readonly Count[],
  words: WordSet,
  rate: number,
): readonly SpokenCount[] =>
  counts.map((count, i) => {
    const next = counts[i + 1];
    const before = counts[i - 1];
    // More than four seconds on is another count-in.
    const near = next !== undefined && next.sample - count.sample < 4 * rate ? next : before;
    const apart = near === undefined ? Infinity : Math.abs(near.sample - count.sample) / rate;
    const fast = apart < words.fastBelow;
    const forms = words.entries.filter(({ word }) => word === nameOf(count.word));
    return { ...count, entry: forms.find((form) => form.fast === fast) ?? forms[0] ?? null };
  });

/** Seconds in which a word that is cut off fades. */
const fade = 0.008;

/** `samples` without the first `skip` and beyond `most`, with a short fade wherever something was cut. */
const trimmed = (samples: Float64Array, skip: number, most: number, rate: number): Float64Array => {
  const result = samples.slice(skip, Math.max(skip, most));
  const count = Math.min(Math.floor(fade * rate), result.length);
  for (let k = 0; k < count; k += 1) {
    const strength = (1 - exponential(0, (Math.PI * (k + 1)) / (count + 1)).re) / 2;
    const last = result.length - 1 - k;
    if (skip > 0) result[k] = (result[k] ?? 0) * strength;
    if (most < samples.length) result[last] = (result[last] ?? 0) * strength;
  }
  return result;
};

/** Words at a rate, kept as long as their set is: a drill that is made again and again brings each word to its rate once. */
const resampledOf = new WeakMap<WordSet, Map<string, Resampled>>();

const resampledWord = (words: WordSet, entry: WordEntry, rate: number): Resampled => {
  const known = resampledOf.get(words) ?? new Map<string, Resampled>();
  resampledOf.set(words, known);
  const key = `${entry.start} ${rate}`;
  const piece = words.samples.subarray(entry.start, entry.start + entry.length);
  const made = known.get(key) ?? resample(piece, words.sampleRate, rate, entry.vowel);
  known.set(key, made);
  return made;
};

/**
 * Lays the words of `counts` so that each vowel begins on the beat's sample. No sample passes `peak`. A word ends where
 * the next one begins; what lies before the sound's first sample is cut, so that a count right at its start loses its
 * consonant (Problem "count-word-cut"). Counts without a word: Problem "count-word-missing". By start.
 */
export const placeWords = (
  counts: readonly Count[],
  words: WordSet,
  rate: number,
  frames: number,
  peak: number,
): { readonly placed: readonly PlacedWord[]; readonly problems: readonly Problem[] } => {
  const cache = new Map<WordEntry, Resampled>();
  const clipOf = (entry: WordEntry): Resampled => {
    const known = cache.get(entry);
    if (known !== undefined) return known;
    const { samples, anchor } = resampledWord(words, entry, rate);
    const largest = samples.reduce((high, value) => Math.max(high, Math.abs(value)), 1);
    const clip = { samples: samples.map((value) => (value * peak) / largest), anchor };
    cache.set(entry, clip);
    return clip;
  };
  const spoken = spokenCounts(counts, words, rate);
  const missing = [...new Set(spoken.filter(({ entry }) => entry === null).map(({ word }) => word))];
  const said = spoken.flatMap(({ sample, entry }) => {
    if (entry === null) return [];
    const clip = clipOf(entry);
    return [{ start: sample - clip.anchor, clip, text: entry.text }];
  });
  const cut = said.filter(({ start }) => start < 0).map(({ text }) => text);
  // Words that are cut alike are one and the same array: a drill of many counts needs few.
  const known = new Map<Resampled, Map<string, Float64Array>>();
  const cutTo = (clip: Resampled, skip: number, most: number): Float64Array => {
    const key = `${skip} ${Math.min(most, clip.samples.length)}`;
    const forms = known.get(clip) ?? new Map<string, Float64Array>();
    known.set(clip, forms);
    const samples = forms.get(key) ?? trimmed(clip.samples, skip, most, rate);
    forms.set(key, samples);
    return samples;
  };
  const placed = said.map(({ start, clip }, i) => {
    const skip = Math.max(0, -start);
    const until = Math.min(frames, said[i + 1]?.start ?? frames);
    return { start: start + skip, samples: cutTo(clip, skip, until - start) };
  });
  const problems: readonly Problem[] = [
    ...(missing.length === 0
      ? []
      : [
          problem(
            'note',
            'count-word-missing',
            `There is no spoken word for ${missing.join(', ')}; only the click is heard there.`,
          ),
        ]),
    ...(cut.length === 0
      ? []
      : [
          problem(
            'note',
            'count-word-cut',
            `The sound begins on the beat of "${cut.join('", "')}", so that the consonant before the vowel is cut off there.`,
          ),
        ]),
  ];
  return { placed, problems };
};
