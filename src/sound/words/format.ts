/** The shape of the index of spoken count words, "levare.words/1" (assets/words/index.json); docs/schemas holds it as JSON Schema. */
import { z } from 'zod';

const place = z.int().min(0);

const entry = z.strictObject({
  word: z.string().describe('English name of the count: "one" to "twelve", or "and"'),
  fast: z.boolean().describe('In one syllable'),
  text: z.string().describe('As it is written in its language'),
  start: place.describe('First sample in the file'),
  length: place.describe('Samples'),
  vowel: place.describe('Samples from its start to where its vowel begins: this stands on the beat'),
});

export const wordsSchema = z
  .strictObject({
    format: z.literal('levare.words/1'),
    sampleRate: z.int().min(1).describe('Hz, of all files'),
    fastBelow: z.number().min(0).describe('Seconds from count to count below which the fast forms are said'),
    languages: z
      .record(z.string(), z.strictObject({ file: z.string(), words: z.array(entry) }))
      .describe('By the code of the language'),
  })
  .describe(
    'Count words as they were recorded: one WAV file for each language, and where in it each word lies',
  );
