import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { countLanguages, countNames, countWordIn, fastCount } from '../../src/click/words.ts';
import type { ClickEvent } from '../../src/drill/model.ts';
import type { ClickTimeline } from '../../src/sound/clickTrack.ts';
import { renderClickTrack } from '../../src/sound/clickTrack.ts';
import { clickWav } from '../../src/sound/wav/clicks.ts';
import { spokenCounts } from '../../src/sound/words/place.ts';
import { resample } from '../../src/sound/words/resample.ts';
import { readWords, wordFile, type WordSet } from '../../src/sound/words/wordSet.ts';
import { beats, F, samplesAt } from '../../src/units/index.ts';
import { exactly, readVowels } from './music.ts';

const folder = path.resolve('assets', 'words');
const index: unknown = JSON.parse(readFileSync(path.join(folder, 'index.json'), 'utf8'));
const wordsOf = (language: string): WordSet => {
  const file = wordFile(index, language);
  const words = readWords(index, language, new Uint8Array(readFileSync(path.join(folder, file ?? 'none'))));
  if (!words.ok) throw new Error(words.error.message);
  return words.value;
};

/** Counts at exact times in seconds. */
const counting = (
  counts: readonly (readonly [string, string | null])[],
  length: string,
  sampleRate = 48_000,
): ClickTimeline => ({
  sampleRate,
  duration: exactly(length),
  clicks: counts.map(([at, word]): ClickEvent => ({
    kind: word === null ? 'click' : 'count-in',
    at: beats(F.zero),
    time: exactly(at),
    sample: samplesAt(exactly(at), sampleRate),
    bar: null,
    barIndex: null,
    beat: '1',
    pass: null,
    rep: 1,
    word,
    first: word === 'one',
  })),
});
const samplesOf = (
  timeline: ClickTimeline,
  options: Parameters<typeof renderClickTrack>[1],
): Float64Array => {
  const track = renderClickTrack(timeline, options);
  if (!track.ok) throw new Error(track.error.message);
  return Float64Array.from([...track.value.blocks].flatMap((block) => [...block]));
};
const largest = (samples: Float64Array): number =>
  samples.reduce((high, x) => Math.max(high, Math.abs(x)), 0);

describe('the spoken count', () => {
  // By a program that shares nothing with what made the words: share of the vowel's spectrum, voicing.
  it.each(countLanguages.flatMap((language) => [false, true].map((fast) => ({ language, fast }))))(
    'has every vowel within 10 ms of its beat: $language, fast: $fast',
    async ({ language, fast }) => {
      const words = wordsOf(language);
      // Fast counts come in pairs 0.28 s apart, so that the second of a pair is heard on its own.
      const times = countNames.map((_, i) => (fast ? `${7 * i + 10}/25` : `${3 * i + 3}/5`));
      const timeline = counting(
        countNames.map((name, i) => [times[i] ?? '0', name] as const),
        fast ? '5' : '9',
      );
      const beatsAt = timeline.clicks.map(({ sample }): number => sample);
      const spoken = spokenCounts(
        timeline.clicks.map(({ sample, word }) => ({ sample, word: word ?? '' })),
        words,
        48_000,
      );
      expect(spoken.map(({ entry }) => entry?.fast)).toEqual(countNames.map(() => fast));
      const wav = clickWav(timeline, { words, count: 'words' });
      if (!wav.ok) throw new Error(wav.error.message);
      const late = await readVowels(wav.value, beatsAt);
      const missed = late.flatMap((ms, i) =>
        ms !== null && Math.abs(ms) <= 10 ? [] : [`${countNames[i] ?? ''}: ${String(ms)} ms`],
      );
      expect(missed).toEqual([]);
    },
    60_000,
  );

  it('would be found out if it were 15 ms late', async () => {
    const timeline = counting([['1', 'ten']], '2');
    const wav = clickWav(timeline, { words: wordsOf('en'), count: 'words' });
    if (!wav.ok) throw new Error(wav.error.message);
    const [late] = await readVowels(wav.value, [48_000 - 720]);
    expect(late).toBeGreaterThan(10);
  });

  it('is written as the page writes it', () => {
    for (const language of countLanguages) {
      const words = wordsOf(language);
      expect(words.fastBelow).toBe(fastCount);
      for (const { word, fast, text } of words.entries) expect(text).toBe(countWordIn(language, word, fast));
      expect(words.entries.map(({ word }) => word)).toEqual([...countNames, ...countNames]);
    }
  });

  it('never passes the click, with soft clicks on the very beats, and ends where the music begins', () => {
    const timeline = counting(
      [
        ['1/2', 'one'],
        ['1', 'two'],
        ['3/2', 'three'],
        ['2', 'four'],
        ['9/4', null],
      ],
      '4',
    );
    const words = wordsOf('de');
    const both = samplesOf(timeline, { words });
    const clicks = samplesOf(timeline, { words, count: 'clicks' });
    const alone = samplesOf(timeline, { words, count: 'words' });
    expect(largest(both)).toBeLessThanOrEqual(10 ** (-6 / 20) + 1e-12);
    expect(clicks).toEqual(samplesOf(timeline, {}));
    // The soft click's first sample is its largest: 10.5 dB below -6 dBFS.
    expect((both[48_000] ?? 0) - (alone[48_000] ?? 0)).toBeCloseTo(0.3 * 10 ** (-6 / 20), 12);
    expect(both.slice(108_000)).toEqual(clicks.slice(108_000));
    expect(alone.slice(0, 10_000).every((x) => x === 0)).toBe(true);
  });

  it('says so where a consonant is cut off or a word is missing, and clicks there', () => {
    const timeline = counting(
      [
        ['0', 'three'],
        ['1', '13'],
      ],
      '2',
    );
    const track = renderClickTrack(timeline, { words: wordsOf('en'), count: 'words' });
    expect(track.ok ? track.problems.map(({ code }) => code) : []).toEqual([
      'count-word-missing',
      'count-word-cut',
    ]);
    const samples = samplesOf(timeline, { words: wordsOf('en'), count: 'words' });
    expect(samples[48_000]).toBeCloseTo(10 ** (-6 / 20), 12);
  });

  it('is the same each time', () => {
    const timeline = counting(
      [
        ['1/2', 'one'],
        ['1', 'two'],
      ],
      '2',
      44_100,
    );
    const words = wordsOf('it');
    expect(samplesOf(timeline, { words })).toEqual(samplesOf(timeline, { words }));
  });

  it('is refused where the index or the sound is damaged, or the language unknown', () => {
    const wav = new Uint8Array(readFileSync(path.join(folder, 'en.wav')));
    expect(readWords(index, 'la', wav)).toMatchObject({ error: { code: 'words-language' } });
    expect(readWords({}, 'en', wav)).toMatchObject({ error: { code: 'words-damaged' } });
    expect(readWords(index, 'en', wav.slice(0, 20_000))).toMatchObject({ error: { code: 'words-damaged' } });
    expect(wordFile(index, 'la')).toBeNull();
  });
});

describe('resampling', () => {
  // A tone keeps its frequency, phase and strength: compared with the tone itself at the new rate.
  it.each([44_100, 48_000, 96_000, 16_000])('keeps a tone of 1 kHz, and where it lies, at %d Hz', (rate) => {
    const tone = Float32Array.from({ length: 4_410 }, (_, n) =>
      Math.sin((2 * Math.PI * 1_000 * (n - 2_000)) / 22_050),
    );
    const { samples, anchor } = resample(tone, 22_050, rate, 2_000);
    for (let n = -200; n <= 200; n += 1) {
      expect(samples[anchor + n]).toBeCloseTo(Math.sin((2 * Math.PI * 1_000 * n) / rate), 3);
    }
  });

  it('filters out what a lower rate cannot hold', () => {
    const tone = Float32Array.from({ length: 8_820 }, (_, n) => Math.sin((2 * Math.PI * 7_000 * n) / 22_050));
    const { samples } = resample(tone, 22_050, 8_000, 0);
    expect(largest(samples.slice(100, -100))).toBeLessThan(0.01);
  });
});
