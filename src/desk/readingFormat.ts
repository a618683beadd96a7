/** The shape of "levare.reading/4", what `levare hear --json` prints; docs/schemas holds it as JSON Schema. */
import { z } from 'zod';
import type { Problem } from '../units/index.ts';
import { freeTimes } from './freeTimes.ts';
import { cautions, findingKinds, findingUnits, tries } from './findings/model.ts';
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

const count = z.int().min(0);
const counts = z.tuple([count, count]).readonly();
const two = z.tuple([part, part]).readonly();
const played = { rep, bar, barIndex, pass };
const around = z.strictObject({ before: figure.nullable(), after: figure.nullable() });
const noteValue = z.string().describe('Length of the notes as a fraction of a whole note');

const problem = z.strictObject({
  code: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
  severity: z.enum(['error', 'repair', 'assumption', 'note']),
  message: z.string(),
  part: z.string().exactOptional(),
  bar: z.string().exactOptional(),
  line: z.int().min(1).exactOptional(),
  column: z.int().min(1).exactOptional(),
}) satisfies z.ZodType<Problem>;

const finding = z.strictObject({
  kind: z.enum(findingKinds),
  told: z.boolean().describe('False: within its uncertainty, not to be told from together'),
  small: z.boolean().describe('Less than is likely to be heard'),
  bar,
  barIndex,
  beat,
  pass,
  rep: rep.describe('The first repetition that it rests on'),
  times: z.int().min(1).describe('Repetitions that it rests on'),
  toBar: z.string().nullable().describe('Last bar of what lasts several'),
  parts: z.array(part).readonly(),
  figure: z
    .strictObject({
      unit: z.enum(findingUnits),
      value: z.number(),
      low: z.number(),
      high: z.number(),
    })
    .describe('Ends of the interval, wider where it is one of many'),
  n: count.describe('Notes, pairs or places'),
  among: z.int().min(1).describe('Figures of the kind that were looked at'),
  value: noteValue.nullable().describe('Evenness: length of the notes as a fraction of a whole note'),
  asked: z.number().nullable().describe('Tempo: quarters a minute that are asked for'),
  caution: z.array(z.enum(cautions)).readonly(),
  toTry: z.enum(tries),
  weight: z.number().min(0).describe('What the order follows; a rule of thumb'),
});

/** See docs/formats/reading.md. */
export const readingSchema = z.strictObject({
  format: z.literal('levare.reading/4'),
  title: z.string(),
  bars: z.string().describe('The bars of the drill, as asked for'),
  click: z.strictObject({
    placement: z.string().describe('As typed for the drill'),
    perBar: z.number().min(0).describe('Clicks in a bar of the music, on average; 0 without a click'),
  }),
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
      lagError: z
        .number()
        .min(0)
        .exactOptional()
        .describe(
          'One recording for all: one standard deviation in seconds of how late all beginnings of this player may be heard',
        ),
    }),
  ),
  playing: z.enum(['click', 'free']).describe('Whether the players held to the click'),
  played: z
    .array(
      z.strictObject({
        ...played,
        start: time,
        end: time,
        gives: z.boolean().describe('Whether the tempo is asked to give way in it'),
      }),
    )
    .describe('Bars of the drill in the order in which they are played'),
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
        state: z
          .enum(['heard', 'rough', 'unsure', 'missing'])
          .describe('"rough": a time was heard, known too little for anything to rest on it'),
      }),
    )
    .describe('By expected time, then part'),
  written: z
    .array(
      z.strictObject({
        id: z.string().describe('Of the note'),
        length: noteValue,
        share: z.number().min(0).max(1).describe('Of its length that the articulation asks for'),
        slurred: z.boolean().describe('Bound to the next note'),
        level: z.number().describe('dB against mf that the dynamics ask for, hairpins not among them'),
        free: z
          .enum(freeTimes)
          .exactOptional()
          .describe("Why its beginning is its player's own affair: nobody is held against it in time"),
      }),
    )
    .describe('How the notes are written; empty where it is not known'),
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
      parts: two,
      n: count.describe('Shared places that were surely heard'),
      mean: figure.nullable().describe('Milliseconds, first minus second; null without a common clock'),
      sd: figure.nullable().describe('Milliseconds, sample standard deviation as heard'),
      sdWithoutNoise: figure.nullable().describe('Milliseconds, freed of the measuring noise'),
      meanAbsolute: figure.nullable().describe('Milliseconds; null without a common clock'),
    }),
  ),
  corrections: z
    .array(
      z.strictObject({
        part,
        to: z.array(part),
        n: count.describe('Intervals'),
        gains: z.array(figure).describe('One for each of "to"'),
      }),
    )
    .describe(
      'Share of the distance to others that is made good with the next note; only where notes suffice',
    ),
  timing: z
    .array(
      z.strictObject({
        part,
        n: count.describe('Intervals of one length'),
        clockSd: figure.nullable().describe('Milliseconds; null where the model does not fit'),
        motorSd: figure.nullable().describe('Milliseconds, the measuring noise among it'),
      }),
    )
    .describe('Inner clock and hand (Wing & Kristofferson 1973); only where notes suffice'),
  drift: z.array(
    z.strictObject({
      part: part.nullable().describe('Id of the part; null: all together'),
      n: count.describe('Intervals'),
      pace: figure.describe("Tempo in percent of the drill's"),
      percentPerMinute: figure.describe("Growth of the tempo against the drill's"),
    }),
  ),
  tempo: z.array(
    z.strictObject({
      part,
      ...played,
      n: count.describe('Notes that tell it'),
      perMinute: figure.describe('Quarters a minute'),
      asked: z.number().describe('What the drill asks for'),
    }),
  ),
  barLines: z.array(
    z.strictObject({
      part,
      ...played,
      late: figure.nullable().describe("Milliseconds after where the player's own bar before leads"),
      n: count.describe('Places of the bar before that lead there'),
      lateAtClick: figure
        .nullable()
        .describe("Milliseconds after the click's bar line; null in free playing and without a click"),
    }),
  ),
  entries: z
    .array(
      z.strictObject({
        ...played,
        beat,
        first: z.boolean().describe('Whether a repetition begins there'),
        parts: two,
        apart: figure.describe('Milliseconds, first less second'),
        cue: part
          .exactOptional()
          .describe("Which of the two gives the cue, where the players' own markings say so"),
      }),
    )
    .describe('Where two players come in together; only on a common clock'),
  seams: z.array(
    z.strictObject({
      from: part,
      to: part,
      ...played,
      beat,
      n: z.strictObject({ from: count, to: count }).describe('Notes before and after, surely heard'),
      late: figure
        .nullable()
        .describe("Milliseconds by which the taker enters after where the giver's line leads"),
      level: z
        .strictObject({ from: figure.nullable(), to: figure.nullable() })
        .describe('Decibels above the own other notes; two recordings are not compared'),
      length: figure.nullable().describe('Taker less giver, in shares of the time to the next note'),
      levelSlope: around.describe('Decibels a quarter'),
      tempoSlope: around.describe('Percent a quarter'),
    }),
  ),
  syncopations: z
    .array(
      z.strictObject({
        part,
        ...played,
        beat,
        n: count.describe('Notes before that tell the line'),
        late: figure
          .nullable()
          .describe(
            "Milliseconds by which the note that the short ones lead to comes after the player's line",
          ),
      }),
    )
    .describe('Short notes after syncopations, by the note that they lead to'),
  lengths: z.array(
    z.strictObject({
      id: z.string().describe('Of the note'),
      ratio: z.number().describe('Sounding length over the time to the next note'),
    }),
  ),
  articulation: z.array(
    z.strictObject({
      part,
      ratio: figure.describe('Sounding length over the time to the next note'),
      n: count.describe('Notes'),
    }),
  ),
  articulationBetween: z.array(
    z.strictObject({
      parts: two,
      difference: figure.describe('First less second, over notes that are written alike'),
      n: counts.describe('Notes written alike'),
      left: counts.describe('Notes left out'),
    }),
  ),
  evenness: z.array(
    z.strictObject({
      part,
      value: noteValue,
      longShort: figure.describe('First of each pair over the second; 1 is even'),
      n: count.describe('Pairs of notes'),
    }),
  ),
  evennessBetween: z.array(
    z.strictObject({
      parts: two,
      value: noteValue,
      ratio: figure.describe("The first's long-short ratio over the second's; 1 where alike"),
      n: counts,
    }),
  ),
  findings: z.array(finding).describe('Strongest first; what cannot be told comes last'),
  assumed: z.array(problem).describe('What was assumed, repaired or could not be told'),
}) satisfies z.ZodType<Reading>;
