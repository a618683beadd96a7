/** The shape of "levare.reading/1", what `levare hear --json` prints; docs/schemas holds it as JSON Schema. */
import { z } from 'zod';
import type { Problem } from '../units/index.ts';
import type { Reading } from './reading.ts';

const part = z.string().describe('Id of the part');
const rep = z.int().min(1).describe('Repetition, from 1');
const pass = z.int().min(1).describe('Which time through the bar');
const bar = z.string().describe('Number of the bar as printed; empty where none is');
const barIndex = z.int().min(0);
const beat = z.string().describe('The beat, and "+" the part of it gone by: "2", "2+1/2"');
const time = z.number().describe("Seconds on the drill's timeline");
const figure = z
  .strictObject({ value: z.number(), low: z.number().nullable(), high: z.number().nullable() })
  .describe('A figure and the ends of its 95 % interval; null where there is too little to tell');

const problem = z.strictObject({
  code: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
  severity: z.enum(['error', 'repair', 'assumption', 'note']),
  message: z.string(),
  part: z.string().exactOptional(),
  bar: z.string().exactOptional(),
  line: z.int().min(1).exactOptional(),
  column: z.int().min(1).exactOptional(),
}) satisfies z.ZodType<Problem>;

/** See docs/formats/reading.md. */
export const readingSchema = z.strictObject({
  format: z.literal('levare.reading/1'),
  title: z.string(),
  bars: z.string().describe('The bars of the drill, as asked for'),
  parts: z.array(
    z.strictObject({
      id: part,
      name: z.string(),
      file: z.string().describe('The recording, as it was named'),
      reference: z.number().describe('The pitch of A in Hz, as played'),
    }),
  ),
  clock: z.array(
    z.strictObject({
      part,
      file: z.string(),
      offset: z.number().describe("Seconds in the recording at which the drill's time 0 lies"),
      ppm: z.number().describe("Millionths by which the recording's second is longer"),
      offsetError: z.number().min(0).describe('One standard deviation, in seconds'),
      ppmError: z.number().min(0).describe('One standard deviation'),
      by: z.enum(['clicks', 'notes']).describe('What it rests on; by notes it is arbitrary on the whole'),
      clicksHeard: z.int().min(0),
      clicksExpected: z.int().min(0),
    }),
  ),
  notes: z
    .array(
      z.strictObject({
        id: z.string().describe('As in timeline.json'),
        part,
        bar,
        barIndex,
        beat,
        pass,
        rep,
        expected: time,
        onset: time.nullable().describe('Physical start; null where the note is missing'),
        perceived: time.nullable().describe('Perceived beat'),
        offset: time.nullable().describe('End'),
        level: z.number().nullable().describe('dB below full scale of that recording, K-weighted'),
        cents: z.number().nullable().describe("Deviation from the take's own tuning"),
        uncertainty: z.number().min(0).nullable().describe('One standard deviation of onset, in seconds'),
        perceivedUncertainty: z.number().min(0).nullable().describe('The same of perceived'),
        state: z.enum(['heard', 'unsure', 'missing']),
      }),
    )
    .describe('By expected time, then part'),
  added: z.array(
    z.strictObject({
      part,
      time,
      duration: z.number(),
      midi: z.number().nullable().describe('Sounding pitch, A4 = 69; null where it is not clear'),
    }),
  ),
  pairs: z.array(
    z.strictObject({
      parts: z.tuple([part, part]).readonly(),
      places: z.int().min(0).describe('Shared places that were surely heard'),
      mean: figure.nullable().describe('Milliseconds, first minus second; null without a common clock'),
      sd: figure.nullable().describe('Milliseconds, freed of the measuring noise'),
      meanAbsolute: figure.nullable().describe('Milliseconds'),
    }),
  ),
  drift: z.array(z.strictObject({ part, percentPerMinute: figure })),
  tempo: z.array(
    z.strictObject({
      part,
      rep,
      bar,
      barIndex,
      pass,
      perMinute: z.number().describe('Quarters a minute'),
      asked: z.number().describe('What the drill asks for'),
    }),
  ),
  barLines: z.array(
    z.strictObject({
      part,
      rep,
      bar,
      barIndex,
      pass,
      late: z.number().nullable().describe('Milliseconds; null in free playing'),
      uncertainty: z.number().min(0).describe('One standard deviation, in milliseconds'),
    }),
  ),
  seams: z.array(
    z.strictObject({
      from: part,
      to: part,
      rep,
      bar,
      barIndex,
      beat,
      late: z.number().describe('Milliseconds by which the new player enters late against the line'),
      uncertainty: z.number().min(0),
    }),
  ),
  articulation: z.array(
    z.strictObject({
      part,
      ratio: figure.describe('Sounding length over the time to the next note'),
      notes: z.int(),
    }),
  ),
  evenness: z.array(
    z.strictObject({
      part,
      value: z.string().describe('Length of the notes as a fraction of a whole note'),
      longShort: figure.describe('First of each pair over the second; 1 is even'),
      pairs: z.int(),
    }),
  ),
  assumed: z.array(problem).describe('What was assumed, repaired or could not be told'),
}) satisfies z.ZodType<Reading>;
