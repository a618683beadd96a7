/** The reading of a take as it is kept with it, and the drill that the take is held against. */
import { z } from 'zod';
import { drillSchema, parseDrill } from '../drill/format.ts';
import { fail, ok, type Result } from '../units/index.ts';
import { asInScore, type PieceSettings } from './fitScore.ts';
import type { HeardDrill } from './hear.ts';
import { holdPiece, liveDrill } from './live.ts';
import type { Reading } from './reading.ts';
import { parseReading } from './readingFile.ts';
import { readingSchema } from './readingFormat.ts';
import { readRequest, type RequestTexts } from './request.ts';
import { markingSchema, pieceSchema } from './shelf/formats.ts';

const settingsSchema = z.object({
  ...pieceSchema.pick({ title: true, barShift: true, octaves: true, transpositions: true }).shape,
  markings: z.array(
    markingSchema.pick({ kind: true, part: true, bar: true, beat: true, text: true, time: true, note: true }),
  ),
});

const seconds = z.number().min(0);

const around = {
  format: z.literal('levare.take-reading/1'),
  take: z.string().describe('Id of the take'),
  settings: settingsSchema.describe('What the ensemble had set for the piece'),
  sounds: z
    .record(z.string(), z.string())
    .describe('The sound in which each part was heard, by part id: ids of the sounds of the take'),
  cut: seconds.describe('Seconds that were cut off the beginning of the sound before it was read'),
  until: seconds
    .nullable()
    .describe('Seconds on the timeline of the drill at which playing was stopped; null: its end'),
};

/** What is kept: what was heard, as it was heard. What players said of it stands with the take. */
export const takeReadingSchema = z
  .strictObject({ ...around, drill: drillSchema, reading: readingSchema })
  .describe('The raw reading of a take, with the drill that it was held against');

/** Of any version: their own readers bring them up to date. */
const keptSchema = z.strictObject({
  ...around,
  drill: z.looseObject({ format: z.string() }),
  reading: z.looseObject({ format: z.string() }),
});

export interface TakeReading extends Omit<z.infer<typeof keptSchema>, 'drill' | 'reading' | 'settings'> {
  readonly drill: HeardDrill['drill'];
  readonly settings: PieceSettings;
  readonly reading: Reading;
}

const newer = /^levare\.take-reading\/(\d+)$/;

/** Errors: `format-newer`, `reading-damaged`, those of `parseDrill` and `parseReading`. */
export const parseTakeReading = (json: unknown): Result<TakeReading> => {
  const head = z.looseObject({ format: z.string() }).safeParse(json);
  const version = Number(newer.exec(head.success ? head.data.format : '')?.[1] ?? 0);
  if (version > 1)
    return fail(
      'format-newer',
      `This reading of a take has format version ${version}; this Levare reads up to 1. A newer Levare wrote it: bring this one up to date.`,
    );
  const read = keptSchema.safeParse(json);
  if (!read.success)
    return fail(
      'reading-damaged',
      `The reading of this take is damaged: its field "${read.error.issues[0]?.path.map(String).join('.') ?? ''}" is missing or is not what it should be.`,
    );
  const drill = parseDrill(read.data.drill);
  if (!drill.ok) return drill;
  const reading = parseReading(read.data.reading);
  return reading.ok ? ok({ ...read.data, drill: drill.value, reading: reading.value }) : reading;
};

/** What was played: a drill that sounded while it was recorded, with the settings of that time, or what was asked for in words. */
export type PlayedDrill =
  | { readonly kind: 'sounded'; readonly drill: unknown; readonly settings: unknown }
  | { readonly kind: 'asked'; readonly texts: RequestTexts; readonly settings: PieceSettings };

/** Hz; no drill depends on it. */
const anyRate = 8000;

/** The drill of a take with its score. Errors: those of the score's reader, of the drill, and of `parseDrill`. */
export const playedDrill = (
  bytes: Uint8Array,
  played: PlayedDrill,
): Result<{ readonly drill: HeardDrill['drill']; readonly settings: PieceSettings }> => {
  if (played.kind === 'sounded') {
    const drill = parseDrill(played.drill);
    const settings = settingsSchema.safeParse(played.settings);
    return drill.ok
      ? ok({ drill: drill.value, settings: settings.success ? settings.data : asInScore })
      : drill;
  }
  const piece = holdPiece(bytes, played.settings);
  if (!piece.ok) return piece;
  const request = readRequest(played.texts);
  if (!request.ok) return request;
  const made = liveDrill(piece.value, request.value, anyRate);
  return made.ok ? ok({ drill: made.value.live.drill, settings: played.settings }) : made;
};
