/** The shape of "levare.find/1", which `levare find --json` prints; docs/schemas holds it as JSON Schema. */
import { z } from 'zod';
import { placeKinds } from '../lines/index.ts';
import type { Problem } from '../units/index.ts';
import type { FoundPlaces } from './find.ts';

const spot = {
  bar: z.string().describe('Number of the bar as printed; empty where none is'),
  barIndex: z.int().min(0).describe('From 0, in written order'),
  beat: z.string().describe('The beat, and "+" the part of it gone by: "2", "2+1/2"'),
};

const problemSchema = z.strictObject({
  code: z.string(),
  severity: z.enum(['error', 'repair', 'assumption', 'note']),
  message: z.string(),
  part: z.string().exactOptional(),
  bar: z.string().exactOptional(),
  line: z.int().min(1).exactOptional(),
  column: z.int().min(1).exactOptional(),
}) satisfies z.ZodType<Problem>;

const stepSchema = z
  .strictObject({
    bars: z.string(),
    parts: z.array(z.string()).nullable().describe('Ids; null: all'),
    keep: z.string(),
    click: z.string(),
    tempo: z.array(z.string()),
    times: z.int().min(1),
    countIn: z.string(),
    upbeat: z.string(),
    holds: z.enum(['count', 'through']),
    branch: z.enum(['main', 'side']).describe('"side": may be left out'),
    why: z.string(),
  })
  .describe('Settings of a drill (levare.drill/2); those not given are as usual');

export const findSchema = z.strictObject({
  format: z.literal('levare.find/1'),
  places: z
    .array(
      z.strictObject({
        kind: z.enum(placeKinds),
        value: z
          .string()
          .regex(/^\d+\/\d+$/)
          .nullable()
          .describe('Of a shared line: a fraction of a whole note, "1/12" a triplet eighth'),
        parts: z.array(z.string()).describe('Ids, in score order'),
        from: z.strictObject(spot).describe('The first note'),
        to: z.strictObject(spot).describe('The onset of the last note'),
        seams: z
          .array(z.strictObject({ from: z.string(), to: z.string(), ...spot }))
          .describe('At the first note of the player who takes over, or who follows'),
        weight: z.number().min(0).describe('For ordering only: it measures nothing'),
        why: z.string(),
        steps: z.array(stepSchema).describe('From most support to none'),
      }),
    )
    .describe('Weightiest first'),
  problems: z.array(problemSchema),
}) satisfies z.ZodType<FoundPlaces>;
