/** Clicks and counts of a drill as they are heard: which clicks sound and how, and the words that are said. For files and for live sound. */
import type { ClickEvent } from '../drill/model.ts';
import type { Decibels, Problem } from '../units/index.ts';
import type { ClickOnset } from './clickQueue.ts';
import { factorOf } from './tuning.ts';
import { hasWord, placeWords, type PlacedWord } from './words/place.ts';
import type { WordSet } from './words/wordSet.ts';

/** How counts are heard: spoken, clicked, or spoken over soft clicks. */
export type CountSound = 'words' | 'clicks' | 'both';

/** Peak of a word against that of a click: with a soft click under it, it stays below the click. */
const wordShare = 0.7;

/** Clicks with the accent of first beats taken off in the music where the placement is to be light; counts keep theirs. */
export const accented = (clicks: readonly ClickEvent[], light: boolean): readonly ClickEvent[] =>
  light ? clicks.map((event) => (event.kind === 'click' ? { ...event, first: false } : event)) : clicks;

/** The words that are said; null where counts are clicked. */
const voiceOf = (words: WordSet | null, count: CountSound): WordSet | null =>
  count === 'clicks' ? null : words;

/** The clicks that sound; counts that are spoken are soft or silent. */
export const soundingClicks = (
  clicks: readonly ClickEvent[],
  light: boolean,
  words: WordSet | null,
  count: CountSound,
): readonly ClickOnset[] => {
  const voice = voiceOf(words, count);
  const spoken = ({ kind, word }: ClickEvent): boolean =>
    kind === 'count-in' && word !== null && voice !== null && hasWord(voice, word);
  return accented(clicks, light)
    .filter((event) => !(count === 'words' && spoken(event)))
    .map((event) => ({
      sample: event.sample,
      first: event.first,
      soft: spoken(event),
    }));
};

/** Ends each word where the music's next click begins. */
const clearOf = (placed: readonly PlacedWord[], clicks: readonly ClickEvent[]): readonly PlacedWord[] => {
  const music = clicks.filter(({ kind }) => kind === 'click').map(({ sample }): number => sample);
  let next = 0;
  return placed.map(({ start, samples }) => {
    while ((music[next] ?? Infinity) < start) next += 1;
    const room = (music[next] ?? Infinity) - start;
    return room >= samples.length ? { start, samples } : { start, samples: samples.subarray(0, room) };
  });
};

/**
 * The words of a drill's counts in their places, by start; no two overlap. `rate` in Hz, `frames`: samples of the whole sound, `level`:
 * that of the clicks. Problems: those of `placeWords`.
 */
export const spokenWords = (
  clicks: readonly ClickEvent[],
  rate: number,
  frames: number,
  level: Decibels,
  words: WordSet | null,
  count: CountSound,
): { readonly placed: readonly PlacedWord[]; readonly problems: readonly Problem[] } => {
  const voice = voiceOf(words, count);
  if (voice === null) return { placed: [], problems: [] };
  const counts = clicks.flatMap(({ kind, sample, word }) =>
    kind === 'count-in' && word !== null ? [{ sample, word }] : [],
  );
  const { placed, problems } = placeWords(counts, voice, rate, frames, factorOf(level) * wordShare);
  return { placed: clearOf(placed, clicks), problems };
};
