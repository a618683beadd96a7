/**
 * What really sounded while a take was recorded: "levare.performed/1", and the notes from which it is made. Notes are written
 * as things happen, a line each, so that a take that was cut off knows all up to its end.
 */
import { z } from 'zod';
import { fail, ok, type Result } from '../../units/index.ts';
import { takeEnds } from '../shelf/formats.ts';

const sample = z.int();
const text = z.string().max(2000);

const clickSchema = z.strictObject({
  sample,
  rep: z.int().min(1).describe('Repetition, from 1'),
  bar: z.string().nullable().describe('Printed number of its bar; null for what is counted before the music'),
  beat: z.string().describe('"2", "2+1/2"'),
  word: z.string().nullable().describe('The count word; null for clicks in the music'),
});

const barSchema = z.strictObject({
  sample: sample.describe('Where it begins'),
  rep: z.int().min(1),
  barIndex: z.int().min(0).describe('Index of the bar in the score, from 0'),
  number: z.string().describe('Printed'),
});

const settingsSchema = z
  .record(z.string(), z.unknown())
  .describe(
    'What the ensemble had set for the piece (title, barShift, octaves, transpositions, markings): the drill is worked out on the score with it',
  );

const soundingSchema = z.strictObject({
  parts: z.boolean().describe('Whether the parts sounded too'),
  reference: z.number().describe('Their A4 in Hz'),
});

/** Of any version: `parseDrill` brings it up to date. */
const drillSchema = z.looseObject({ format: z.string().regex(/^levare\.drill\/[1-9]\d{0,8}$/) });

const runSchema = z.strictObject({
  drill: drillSchema,
  settings: settingsSchema,
  sounding: soundingSchema,
  at: sample.describe("Where the drill's first sample lies, or would lie; may be negative"),
  from: sample.describe('Where it began to sound'),
  to: sample.describe('Where it was left: at its end, at a stop, or for the next run'),
  clicks: z.array(clickSchema).describe('Those that sounded, by time'),
  bars: z
    .array(barSchema)
    .describe('Those that were played, by time; what stands between repetitions is not among them'),
});

export const performedSchema = z
  .strictObject({
    format: z.literal('levare.performed/1'),
    begun: text.describe('When the recording was begun: ISO 8601, universal time'),
    rate: z.int().min(1).describe('Samples a second'),
    samples: z.int().min(0).describe('Length of the recording'),
    piece: text.describe('Id of the piece on the shelf'),
    asked: z.record(text, text).describe('The words of the margin'),
    click: z.enum(['room', 'headphones']),
    ended: z.enum(takeEnds),
    unasked: z
      .array(text)
      .describe(
        'Processing of voices that the browser did not switch off: echoCancellation, noiseSuppression, autoGainControl',
      ),
    runs: z.array(runSchema).describe('By time. A drill that took over from another is a run of its own'),
  })
  .describe(
    'What sounded while a take was recorded. All samples are those of the recording, by the one audio clock of click and microphone; sound travels on top of it, so the clicks that are heard in the recording are the finer clock',
  );

export type Performed = z.infer<typeof performedSchema>;
export type PerformedRun = z.infer<typeof runSchema>;

/** The first line of the notes. */
const headSchema = z.looseObject({
  format: z.literal('levare.performing/1'),
  begun: text,
  rate: z.int().min(1),
  piece: text,
  asked: z.record(text, text),
  click: z.enum(['room', 'headphones']),
  unasked: z.array(text),
});
export type PerformedHead = Omit<z.infer<typeof headSchema>, 'format'>;

/** A run as it begins: clicks and bars in samples of the drill, all of them. */
const begunSchema = z.looseObject({ run: runSchema.omit({ to: true }) });
export type RunBegun = z.infer<typeof begunSchema>['run'];
const leftSchema = z.looseObject({ left: sample });
const endedSchema = z.looseObject({ ended: z.enum(takeEnds), samples: z.int().min(0) });

const jsonOf = (line: string): unknown => {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
};

/** Clips a run to what was recorded and sounded, its clicks and bars brought to samples of the recording. */
const runOf = ({ clicks, bars, ...run }: RunBegun, to: number): PerformedRun => {
  const end = Math.max(to, run.from);
  const sounded = <T extends { readonly sample: number }>(list: readonly T[]): T[] =>
    list
      .map((one) => ({ ...one, sample: one.sample + run.at }))
      .filter((one) => one.sample >= run.from && one.sample < end && one.sample >= 0);
  return { ...run, to: end, clicks: sounded(clicks), bars: sounded(bars) };
};

/**
 * What was performed, from its notes; `recorded`: samples in the recording, where no end is noted. A last line that was cut off
 * is left. Errors: `take-damaged`, `format-newer`.
 */
export const performedOf = (notes: string, recorded: number): Result<Performed> => {
  const lines = notes.split('\n').map(jsonOf);
  const head = headSchema.safeParse(lines[0]);
  const said = z.looseObject({ format: z.string() }).safeParse(lines[0]);
  const version = Number(
    /^levare\.performing\/(\d{1,9})$/.exec(said.success ? said.data.format : '')?.[1] ?? 0,
  );
  if (version > 1)
    return fail(
      'format-newer',
      `What sounded with this take has format version ${version}; this Levare reads up to 1. A newer Levare wrote it: bring this one up to date.`,
    );
  if (!head.success)
    return fail('take-damaged', 'What sounded with this take is not known any more; its sound is there.');
  const ends = lines.flatMap((line) => {
    const read = endedSchema.safeParse(line);
    return read.success ? [read.data] : [];
  });
  const end = ends.at(-1) ?? { ended: 'cut-off' as const, samples: recorded };
  const runs: PerformedRun[] = [];
  let now: RunBegun | null = null;
  const leave = (at: number): void => {
    if (now !== null) runs.push(runOf(now, Math.min(at, end.samples)));
    now = null;
  };
  for (const line of lines) {
    const begun = begunSchema.safeParse(line);
    const left = leftSchema.safeParse(line);
    if (begun.success) {
      leave(begun.data.run.from);
      now = begun.data.run;
    } else if (left.success) leave(left.data.left);
  }
  leave(end.samples);
  const { begun, rate, piece, asked, click, unasked } = head.data;
  return ok({
    format: 'levare.performed/1',
    begun,
    rate,
    samples: end.samples,
    piece,
    asked,
    click,
    ended: end.ended,
    unasked,
    runs,
  });
};
