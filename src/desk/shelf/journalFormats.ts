/**
 * The journal: rehearsals with their plans, takes with what was read of them, notes in words. Records of the shelf like any other: they merge field by
 * field, and travel with a piece. What was deleted leaves a mark that it is gone, which no merge takes back.
 */
import { z } from 'zod';
import { id, stamps, text } from './fields.ts';

const day = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}$/)
  .describe('Day by the calendar: "2026-11-28"');

const count = z.int().min(0).max(1_000_000);

/** A figure of a reading. */
const figure = z
  .strictObject({ value: z.number(), low: z.number().nullable(), high: z.number().nullable() })
  .describe('A figure and the ends of its 95 % interval; null where there is too little to tell');

/** What is on a plan. */
const itemKinds = ['settle', 'retest', 'work', 'break', 'free'] as const;

const item = z.looseObject({
  kind: z.enum(itemKinds),
  minutes: z.number().min(0).max(1440),
  piece: text.describe('Id of the piece; empty for a break'),
  place: text.describe('Key of the place; empty where it is none'),
  bars: text.describe('Bars as a drill names them; empty where all or none are meant'),
  step: text.describe('Key of the step; empty where it is none'),
  words: text.describe('What the players wrote there; empty: as the plan says it'),
});

export const rehearsalSchema = z
  .looseObject({
    format: z.literal('levare.rehearsal/1'),
    id,
    ensemble: id,
    day,
    minutes: z.number().min(0).max(1440),
    present: z.record(text, z.boolean()).describe('Who is there, by ids of players. Merged key by key'),
    concert: z.union([day, z.literal('')]).describe('Day of the concert; empty where none is set'),
    plan: z.array(item).max(500).describe('In the order of playing; empty where there is none'),
    stamps,
  })
  .describe('A rehearsal, planned or past');

export const journalTakeSchema = z
  .looseObject({
    format: z.literal('levare.journal-take/2'),
    id,
    piece: id,
    rehearsal: id.describe('Id of its rehearsal'),
    day,
    nth: count.describe('Its place among the takes of the rehearsal, from 1'),
    place: text.describe('Key of the place: kind, bars and beats, parts'),
    bars: text.describe('Bars as a drill names them'),
    step: text.describe('Key of the step: what is kept, where it clicks, how it is counted in'),
    playing: z.enum(['click', 'free']),
    told: z
      .enum(['', 'held', 'not-yet'])
      .describe(
        'What the players said of it by their own ears, where nothing was recorded; empty: it was read',
      ),
    parts: z
      .record(
        text,
        z
          .looseObject({
            player: text.describe('Id of who played; empty where nobody is named'),
            heard: count,
            notes: count,
          })
          .nullable(),
      )
      .describe('By part; null where the player had it deleted. Merged key by key'),
    pairs: z
      .record(
        text,
        z
          .looseObject({ n: count, sd: figure.nullable().describe('Milliseconds, freed of measuring noise') })
          .nullable(),
      )
      .describe('By two parts joined by a blank; null where a player had it deleted. Merged key by key'),
    arrival: z
      .looseObject({
        late: figure.describe('Milliseconds'),
        spacing: z.number().describe('Milliseconds from click to click'),
      })
      .nullable()
      .describe('Bar lines under a click once a bar or less'),
    change: figure
      .nullable()
      .describe(
        'Free playing: percent by which the tempo grows from the first third to the last, unmarked bars only',
      ),
    proposed: z
      .enum(['', 'stay', 'on', 'back', 'leave'])
      .describe('What the tool proposed after it; empty where nothing'),
    decided: z
      .enum(['', 'stay', 'on', 'back', 'leave'])
      .describe('What the ensemble decided; empty where it has not said'),
    out: z
      .enum(['', 'yes'])
      .exactOptional()
      .describe('"yes": the players say that it was not so; it counts nowhere, and can be put back'),
    stamps,
  })
  .describe('A take of a place, as it was read or told');

export const journalNoteSchema = z
  .looseObject({
    format: z.literal('levare.journal-note/1'),
    id,
    piece: id,
    rehearsal: z.union([id, z.literal('')]).describe('Id of its rehearsal; empty where it belongs to none'),
    day,
    place: text.describe('Key of the place; empty: the whole piece'),
    by: text.describe('Id of the player who wrote it; empty: all'),
    text,
    stamps,
  })
  .describe('A note in words');

export const goneSchema = z
  .looseObject({
    format: z.literal('levare.gone/1'),
    id,
    of: z
      .string()
      .regex(/^[a-z-]{1,40}$/)
      .describe('Kind of the record that was deleted'),
    stamps,
  })
  .describe('A record that was deleted: nothing of it is left but its name, and no merge brings it back');

export type Rehearsal = z.infer<typeof rehearsalSchema>;
export type JournalTake = z.infer<typeof journalTakeSchema>;
export type JournalNote = z.infer<typeof journalNoteSchema>;
export type Gone = z.infer<typeof goneSchema>;
