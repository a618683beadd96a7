/** What `levare together --json` prints: the format "levare.together/1". */
import { z } from 'zod';

const interval = z
  .tuple([z.number(), z.number()])
  .nullable()
  .describe('95 % interval, low and high, in the unit of its value; null where there is too little for one');

const estimate = (what: string): z.ZodType<PrintedEstimate> =>
  z.strictObject({ value: z.number().describe(what), ci95: interval });

/** A value and its 95 % interval. */
export interface PrintedEstimate {
  readonly value: number;
  readonly ci95: [number, number] | null;
}

const ms = z.number().nullable();
const count = z.int().min(0);

const spreadFields = {
  n: count.describe('Places where both have an onset'),
  meanMs: ms.describe('Mean of first minus second; above 0 the first comes later; null for n = 0'),
  sdMs: ms.describe('Sample standard deviation (n - 1); null for n < 2'),
  meanAbsMs: ms.describe('Mean of the sizes'),
  sdWithoutNoiseMs: ms.describe('Standard deviation less the measuring noise; null where none was told'),
  ci95: z
    .strictObject({ meanMs: interval, sdMs: interval, meanAbsMs: interval, sdWithoutNoiseMs: interval })
    .describe('95 % intervals; what hangs together from note to note counts for less'),
  lag1: z.number().nullable().describe('Correlation of one asynchrony with the next'),
  effectiveN: z.number().nullable().describe('Independent notes that would tell as much about the mean'),
};

const pair = z.strictObject({
  parts: z.tuple([z.string(), z.string()]).describe('First and second'),
  ...spreadFields,
  firstAhead: estimate('Share of the notes on which the first is ahead').nullable(),
  following: z
    .strictObject({
      together: estimate('Correlation of intervals at the same place').nullable(),
      firstFollows: estimate('Of the first with the second one note before').nullable(),
      secondFollows: estimate('Of the second with the first one note before').nullable(),
    })
    .describe('Who follows whom in tempo'),
});

const pace = {
  tempo: estimate('Beats (or rows) a minute in the middle').nullable(),
  driftPercentPerMinute: estimate('What the tempo gains in a minute, in percent').nullable(),
};

/** The shape of "levare.together/1" without its problems, which every printed format has. */
export const readingSchema = z.strictObject({
  format: z.literal('levare.together/1'),
  unit: z
    .enum(['beats', 'rows'])
    .nullable()
    .describe('What tempi count: the beats of the table or its rows; null where neither is known'),
  noiseMs: z.number().nullable().describe('Standard deviation of the measuring error of one onset, as told'),
  players: z.array(
    z.strictObject({
      part: z.string(),
      n: count.describe('Onsets'),
      ...pace,
      clockSdMs: estimate('Standard deviation of the inner clock (Wing & Kristofferson 1973)').nullable(),
      motorSdMs: estimate('Standard deviation of the motor delay').nullable(),
      clockMotorFits: z.boolean().nullable().describe('False where a variance came out below zero'),
      npvi: z.number().nullable().describe('Normalised pairwise variability index of the intervals'),
    }),
  ),
  pairs: z.array(pair).describe('Each player with each later one, in the order of the columns'),
  click: z
    .array(z.strictObject({ part: z.string(), ...spreadFields }))
    .describe('Each player minus the click'),
  corrections: z
    .array(
      z.strictObject({
        part: z.string(),
        n: count.describe('Intervals'),
        to: z.array(z.string()),
        gains: z.array(estimate('Share of the distance made good with the next note')),
        clockSdMs: z.number(),
        motorSdMs: z.number(),
      }),
    )
    .describe('Phase correction by player'),
  ensemble: z.strictObject(pace).describe('All players together: mean onset of each place'),
  bars: z.array(z.strictObject({ bar: z.string(), n: count, tempo: estimate('Beats a minute') })),
  barLines: z.array(
    z.strictObject({
      bar: z.string(),
      lateMs: estimate('Arrival against the tempo of the bar before; above 0 late'),
      clickMs: estimate('Arrival against the click').nullable(),
    }),
  ),
});

/** "levare.together/1" without its problems. */
export type Reading = Readonly<z.infer<typeof readingSchema>>;
