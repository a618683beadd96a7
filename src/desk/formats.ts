/** The shapes of what is printed for other programs; docs/schemas holds them as JSON Schema (scripts/schemas.mjs). */
import { z } from 'zod';
import { drillSchema } from '../drill/format.ts';
import { wordsSchema } from '../sound/words/format.ts';
import { readingSchema } from '../together/format.ts';
import type { Problem } from '../units/index.ts';
import { findSchema } from './findFormat.ts';
import { playerSchema } from './journal/playerFormat.ts';
import type { Look } from './look.ts';
import type { Made } from './made.ts';
import { markingsSchema } from './markingsFile.ts';
import { readingSchema as heardSchema } from './readingFormat.ts';
import { planSchema } from './planFiles.ts';
import { shelfSchema } from './shelf/formats.ts';
import { performedSchema } from './takes/performed.ts';
import { takeReadingSchema } from './takeReading.ts';
import type { PrintedTimeline } from './timelineJson.ts';
import type { Together } from './together.ts';

const barNumber = z.string().describe('Number of the bar as printed; empty where none is');
const index = z.int().min(0);
const fractionText = z
  .string()
  .regex(/^\d+(\/\d+)?$/)
  .describe('A fraction of a whole note');
const beat = z.string().describe('The beat, and "+" the part of it gone by: "2", "2+1/2"');

const problemSchema = z.strictObject({
  code: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
  severity: z.enum(['error', 'repair', 'assumption', 'note']),
  message: z.string(),
  part: z.string().exactOptional(),
  bar: z.string().exactOptional(),
  line: z.int().min(1).exactOptional(),
  column: z.int().min(1).exactOptional(),
}) satisfies z.ZodType<Problem>;

/** What `levare look --json` prints. */
export const lookSchema = z.strictObject({
  format: z.literal('levare.look/1'),
  title: z.string(),
  parts: z.array(
    z.strictObject({
      id: z.string(),
      name: z.string(),
      transpose: z.number().describe('Semitones from written to sounding pitch at the start'),
      notes: z.int().min(0).describe('Sounding notes, ties merged, without grace notes'),
      graces: z.int().min(0),
    }),
  ),
  bars: z.array(
    z.strictObject({
      index,
      number: barNumber,
      metre: z.string().describe('"4/4", "3+2/8"; "free" for music without metre'),
      length: fractionText,
      pickup: z.boolean(),
    }),
  ),
  played: z.array(index).describe('Indices of bars in the order in which they are played'),
  tempi: z.array(
    z.strictObject({
      bar: barNumber,
      barIndex: index,
      beat,
      unit: fractionText,
      perMinute: z.number(),
      printed: z.boolean().describe('Whether the page shows it'),
    }),
  ),
  problems: z.array(problemSchema),
}) satisfies z.ZodType<Look>;

const rep = z.int().min(1).describe('Repetition, from 1');
const pass = z.int().min(1).describe('Which time through the bar');
const time = z.number().describe('Seconds from the first sample of click.wav');

/** What is in timeline.json. */
export const timelineSchema = z.strictObject({
  format: z.literal('levare.timeline/1'),
  sampleRate: z.int().describe('Hz'),
  clicks: z
    .array(
      z.strictObject({
        time,
        sample: index,
        bar: barNumber.nullable().describe('Null for what is counted before the music'),
        barIndex: index.nullable(),
        beat,
        pass: pass.nullable(),
        rep,
        kind: z.enum(['count-in', 'click']),
        word: z.string().nullable().describe('The count word of a count-in'),
      }),
    )
    .describe('By time'),
  notes: z
    .array(
      z.strictObject({
        id: z.string().describe('Unique in the timeline'),
        part: z.string(),
        time,
        duration: z.number(),
        bar: barNumber,
        barIndex: index,
        beat,
        pass,
        rep,
        midi: z.number().nullable().describe('Sounding pitch, A4 = 69; null for unpitched percussion'),
        kept: z.boolean().describe('Whether the line filter keeps it'),
      }),
    )
    .describe('By time, then part'),
  duration: z.number().describe('Seconds'),
}) satisfies z.ZodType<PrintedTimeline>;

/** What `levare drill --json` prints. */
export const madeSchema = z.strictObject({
  format: z.literal('levare.made/1'),
  folder: z.string(),
  files: z.array(z.strictObject({ name: z.string(), bytes: z.int().min(0) })),
  title: z.string(),
  asked: z.string(),
  bars: z.array(barNumber),
  parts: z.array(z.string()),
  upbeat: fractionText.nullable(),
  repetitions: z.int().min(1),
  tempi: z.array(z.strictObject({ unit: fractionText, perMinute: z.number() })),
  tempoChanges: z.boolean(),
  countIn: z.array(z.string()),
  clicks: z.int().min(0),
  kept: z.int().min(0),
  notes: z.int().min(0),
  duration: z.number(),
  problems: z.array(problemSchema),
}) satisfies z.ZodType<Made>;

/** What `levare pack --json` prints. */
export const packsSchema = z.strictObject({
  format: z.literal('levare.packs/1'),
  folder: z.string(),
  files: z
    .array(z.strictObject({ name: z.string(), bytes: z.int().min(0) }))
    .describe('One zip for each player'),
  problems: z.array(problemSchema),
});

/** What `levare together --json` prints. */
export const togetherSchema = readingSchema.extend({
  problems: z.array(problemSchema),
}) satisfies z.ZodType<Together>;

const titled = (schema: z.ZodType, title: string): unknown => ({ title, ...z.toJSONSchema(schema) });

/** JSON Schema (draft 2020-12) of each format, by file name. */
export const jsonSchemas = (): Readonly<Record<string, unknown>> => ({
  'levare.drill.2.json': titled(drillSchema, 'levare.drill/2'),
  'levare.timeline.1.json': titled(timelineSchema, 'levare.timeline/1'),
  'levare.look.1.json': titled(lookSchema, 'levare.look/1'),
  'levare.made.1.json': titled(madeSchema, 'levare.made/1'),
  'levare.reading.4.json': titled(heardSchema, 'levare.reading/4'),
  'levare.find.1.json': titled(findSchema, 'levare.find/1'),
  'levare.together.1.json': titled(togetherSchema, 'levare.together/1'),
  'levare.markings.1.json': titled(markingsSchema, 'levare.markings/1'),
  'levare.shelf.1.json': titled(shelfSchema, 'levare.shelf/1'),
  'levare.plan.1.json': titled(planSchema, 'levare.plan/1'),
  'levare.packs.1.json': titled(packsSchema, 'levare.packs/1'),
  'levare.player.1.json': titled(playerSchema, 'levare.player/1'),
  'levare.performed.1.json': titled(performedSchema, 'levare.performed/1'),
  'levare.take-reading.1.json': titled(takeReadingSchema, 'levare.take-reading/1'),
  'levare.words.1.json': titled(wordsSchema, 'levare.words/1'),
});
