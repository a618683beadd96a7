/**
 * The records of a shelf as they are kept and exported: an ensemble, a piece that it plays, a drill that was saved.
 * Each says its own format and version. Fields that this version does not know stay where they are.
 */
import { z } from 'zod';
import { id, stamps, text } from './fields.ts';
import {
  goneSchema,
  journalNoteSchema,
  journalTakeSchema,
  rehearsalSchema,
  type Gone,
  type JournalNote,
  type JournalTake,
  type Rehearsal,
} from './journalFormats.ts';

export const sha256Schema = z
  .string()
  .regex(/^[0-9a-f]{64}$/)
  .describe("SHA-256 of the score's bytes, in hexadecimal");

const player = z.looseObject({ name: text, instrument: text });

export const ensembleSchema = z
  .looseObject({
    format: z.literal('levare.ensemble/1'),
    id,
    name: text.describe('Empty where none was given'),
    players: z
      .record(text, player.nullable())
      .describe('By an id of their own; null for one who has left. Merged key by key'),
    stamps,
  })
  .describe('An ensemble and its players');

const steps = z.int().min(-60).max(60);

export const pieceSchema = z
  .looseObject({
    format: z.literal('levare.piece/2'),
    id: id.describe('The id of the ensemble, a dot, and the SHA-256 of the score'),
    ensemble: id,
    score: sha256Schema,
    file: text.describe('What the score is called where it gives no title: its file, without the ending'),
    found: text.describe('Title that stands in the score; may be empty'),
    title: text.describe('Title to be shown; empty: as in the score'),
    players: z
      .record(text, text)
      .describe('Who plays which part: ids of players by part id, empty for nobody. Merged key by key'),
    octaves: z
      .record(text, z.int().min(-4).max(4))
      .describe('Octaves that a part sounds above what the score says, by part id. Merged key by key'),
    transpositions: z
      .record(text, z.looseObject({ diatonic: steps, chromatic: steps }).nullable())
      .describe(
        'Staff steps and semitones from written to sounding pitch, in place of what the score says, by part id; null: as the score says. Merged key by key',
      ),
    barShift: z
      .int()
      .min(-100_000)
      .max(100_000)
      .describe("Added to the score's bar numbers, so that they are those of the players' edition"),
    asked: z
      .record(text, text)
      .describe(
        'What was last asked of it, by the words of the margin: from, to (bar numbers as shown), keep, click, ownClick, tempo, times, countIn',
      ),
    sound: z
      .record(text, text)
      .describe(
        'How it sounds here: parts (on, off), click and level/part id (pp to ff, silent), count (spoken, clicked), place (centre, left), pitch (of A in Hz), wait (seconds that a start by touch waits), seat/part id (metres to the one microphone), instrument/part id (where no player is named). What is not named is as usual. Merged key by key',
      ),
    stamps,
  })
  .describe('A piece on the shelf of one ensemble, with what is set for it');

export const savedDrillSchema = z
  .looseObject({
    format: z.literal('levare.saved-drill/1'),
    id,
    piece: id,
    name: text,
    asked: z.record(text, text).describe('As in a piece'),
    stamps,
  })
  .describe('A drill of a piece that was saved under a name');

/** What players write into their parts. */
export const markingKinds = [
  'breath',
  'caesura',
  'up-bow',
  'down-bow',
  'rit',
  'a-tempo',
  'dynamics',
  'cue',
  'leads',
  'words',
] as const;

export const markingSchema = z
  .looseObject({
    format: z.literal('levare.marking/2'),
    id,
    piece: id,
    kind: z.enum(markingKinds),
    part: text.describe('Id of the part it is written in; empty: it concerns all'),
    bar: z.int().min(0).max(1_000_000).describe('Index of the bar in the score, from 0'),
    beat: text.describe('As players count by the metre\'s own beat: "2", "2+1/2"'),
    text: text.describe('Dynamics and words as they are written; else empty'),
    time: z
      .int()
      .min(1)
      .max(99)
      .nullable()
      .describe('Dynamics: the only time through in which they count, from 1; null: each time'),
    note: text.describe(
      'Which of several notes that begin there: its staff, a slash, its voice ("1/2"); empty: the first',
    ),
    stamps,
  })
  .describe("A player's own marking in a piece");

/** Why a take ends. */
export const takeEnds = [
  'played',
  'stopped',
  'full-length',
  'microphone-gone',
  'no-room',
  'asleep',
  'cut-off',
  'brought',
] as const;

const takeSound = z.looseObject({
  file: id.describe('Its name among the sounds of this device'),
  name: text.describe('What the file was called; empty where it was recorded here'),
  part: text.describe('Id of the part that it is of; empty: of all together'),
  recorded: z.boolean().describe('Whether it was recorded here, so that what sounded is known with it'),
  seconds: z.number().min(0).nullable().describe('Null where it is not known'),
  bytes: z.int().min(0),
  along: z.boolean().describe('Whether it was taken along as a file'),
});

export const takeSchema = z
  .looseObject({
    format: z.literal('levare.take/1'),
    id,
    piece: id,
    name: text.describe('Empty: by the time at which it was begun'),
    asked: z.record(text, text).describe('The drill, as in a piece'),
    begun: text.describe('When it was begun: ISO 8601, universal time'),
    click: z
      .enum(['room', 'headphones'])
      .describe(
        'Where the click was heard; in headphones no recording has it, and it is laid on the drill freely',
      ),
    ended: z.enum(takeEnds),
    sounds: z
      .record(text, takeSound.nullable())
      .describe(
        'By an id of their own; null for one that was deleted. Merged key by key. The sound itself is apart',
      ),
    said: z
      .record(text, text)
      .exactOptional()
      .describe(
        'What the players heard before they saw the reading: "led" (a part, "together", "unsure"), "tempo" ("on", "back", "steady", "unsure"), "bar" (index in the score), "shown" ("yes"). Merged key by key',
      ),
    out: z
      .record(text, text)
      .exactOptional()
      .describe(
        'What players say was not so, and is left out of all figures: "take", or "note/" and the id of a note; "yes", or empty where it was so after all. Merged key by key',
      ),
    stamps,
  })
  .describe('A take: one or several recordings of the same playing');

export type Take = z.infer<typeof takeSchema>;
export type TakeSound = z.infer<typeof takeSound>;
export type Marking = z.infer<typeof markingSchema>;
export type Ensemble = z.infer<typeof ensembleSchema>;
export type Piece = z.infer<typeof pieceSchema>;
export type SavedDrill = z.infer<typeof savedDrillSchema>;

/** A record of a kind or a version that this program does not know: kept as it is, and not shown. */
export const strangeSchema = z
  .looseObject({
    format: z.string().regex(/^levare\.[a-z-]{1,40}\/[1-9]\d{0,8}$/),
    id,
  })
  .describe('A record of another kind, or of a later version: kept as it is');
export type Strange = z.infer<typeof strangeSchema>;

export type ShelfRecord =
  | { readonly kind: 'ensemble'; readonly value: Ensemble }
  | { readonly kind: 'piece'; readonly value: Piece }
  | { readonly kind: 'saved-drill'; readonly value: SavedDrill }
  | { readonly kind: 'marking'; readonly value: Marking }
  | { readonly kind: 'take'; readonly value: Take }
  | { readonly kind: 'rehearsal'; readonly value: Rehearsal }
  | { readonly kind: 'journal-take'; readonly value: JournalTake }
  | { readonly kind: 'journal-note'; readonly value: JournalNote }
  | { readonly kind: 'gone'; readonly value: Gone }
  | { readonly kind: 'strange'; readonly value: Strange };

/** The file shelf.json in an exported shelf. */
export const shelfSchema = z
  .looseObject({
    format: z.literal('levare.shelf/1'),
    records: z
      .array(
        z.union([
          ensembleSchema,
          pieceSchema,
          savedDrillSchema,
          markingSchema,
          takeSchema,
          rehearsalSchema,
          journalTakeSchema,
          journalNoteSchema,
          goneSchema,
          strangeSchema,
        ]),
      )
      .describe('By kind and id'),
    scores: z
      .record(sha256Schema, z.string().regex(/^scores\/[A-Za-z0-9][A-Za-z0-9._-]{0,120}$/))
      .describe('The file of each score in the same archive, by the SHA-256 of its bytes'),
  })
  .describe('A shelf, whole or in part, as it is taken along: shelf.json in a ZIP archive beside its scores');

/** The same with its records not looked at yet: one that is damaged is no reason to refuse the others. */
export const shelfListSchema = shelfSchema.extend({ records: z.array(z.unknown()) });
export type ShelfList = z.infer<typeof shelfListSchema>;

/** Plain data with names. */
export type Plain = Readonly<Record<string, unknown>>;
export const isPlain = (value: unknown): value is Plain =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
