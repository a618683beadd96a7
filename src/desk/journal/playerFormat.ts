/** All that the shelf has of one player, as it is handed to them: "levare.player/1"; docs/schemas holds it as JSON Schema. */
import { z } from 'zod';
import { fail, ok, type Result } from '../../units/index.ts';
import { readVersion, type Format } from '../shelf/versions.ts';
import type { PlayerData } from './keep.ts';

const spread = z
  .strictObject({ value: z.number(), low: z.number().nullable(), high: z.number().nullable() })
  .nullable()
  .describe('Milliseconds, with the ends of its 95 % interval; null where it could not be told');

const texts = z.array(z.string()).readonly();

export const playerSchema = z
  .strictObject({
    format: z.literal('levare.player/1'),
    player: z.string().describe('Their id on the shelf'),
    name: z.string(),
    instrument: z.string(),
    ensembles: texts.describe('Names of their ensembles'),
    parts: z
      .array(z.strictObject({ piece: z.string(), parts: texts }))
      .readonly()
      .describe('What they play, by ids of pieces and parts'),
    rehearsals: texts.describe('Days on which they were there'),
    takes: z
      .array(
        z.strictObject({
          day: z.string(),
          piece: z.string(),
          place: z.string(),
          step: z.string(),
          heard: z.int().min(0).describe('Notes of theirs that were surely heard'),
          notes: z.int().min(0),
          apart: z
            .array(z.strictObject({ part: z.string(), sd: spread }))
            .readonly()
            .describe('Their spread against each other part'),
        }),
      )
      .readonly(),
    notes: z
      .array(z.strictObject({ day: z.string(), piece: z.string(), text: z.string() }))
      .readonly()
      .describe('Notes that they wrote'),
  })
  .describe('What is kept about one player') satisfies z.ZodType<PlayerData>;

/** One version so far. */
export const playerFormat: Format<PlayerData> = {
  name: 'levare.player',
  version: 1,
  schema: playerSchema,
  upgraders: new Map(),
};

/** Reads a player's data from parsed JSON, as whoever got them may. Errors: `format-newer`, `player-damaged`. */
export const readPlayerData = (json: unknown): Result<PlayerData> => {
  const read = readVersion(playerFormat, json);
  switch (read.kind) {
    case 'read':
      return ok(read.value);
    case 'newer':
      return fail(
        'format-newer',
        `What was kept about a player has format version ${read.version}; this Levare reads up to ${playerFormat.version}. A newer Levare wrote it: bring this one up to date.`,
      );
    case 'other':
      return fail(
        'player-damaged',
        'This is not what is kept about a player: its "format" should be "levare.player/1".',
      );
    case 'damaged':
      return fail(
        'player-damaged',
        `What was kept about a player is damaged: its field "${read.field}" is missing or is not what it should be.`,
      );
  }
};
