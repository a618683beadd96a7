/** The drill as it is kept in a file: `drill.json`, format "levare.drill/2". Older versions are brought up to date. */
import { z } from 'zod';
import { fail, ok, type Result } from '../units/index.ts';
import type { Drill } from './model.ts';

/** The version that this program writes. */
const drillVersion = 2;

const text = z.string().max(2000);

/** A plain file name: it names a file of the drill's own folder and never leads out of it. */
const fileName = z
  .string()
  .regex(/^[A-Za-z0-9][A-Za-z0-9._-]{0,99}$/)
  .describe('Name of the score file in the folder of the drill');

/** The shape of "levare.drill/2". What the texts mean is checked when the drill is worked out on its score. */
export const drillSchema = z
  .strictObject({
    format: z.literal('levare.drill/2'),
    score: z.strictObject({
      sha256: z
        .string()
        .regex(/^[0-9a-f]{64}$/)
        .describe("SHA-256 of the score file's bytes, in hexadecimal"),
      title: z.string(),
      file: fileName,
    }),
    bars: text.describe('The bars by their printed numbers or rehearsal marks: "12-15", "12", "A-C", "all"'),
    pass: z.int().nullable().describe('Which time through, from 1; null: the one that the passage needs'),
    parts: z.array(text).max(1000).nullable().describe('Ids of the parts; null: all'),
    keep: text.describe('The line filter: "all", "1/8+", "1/16", "1/8-", "1/8t", or several with commas'),
    click: text.describe(
      'The click placement: "every", "half", "weak", "after", "2bars", "1/8", "2 4" ...; bars apart after commas: "weak,12:1 3"',
    ),
    tacet: z
      .strictObject({ with: z.int(), without: z.int() })
      .nullable()
      .describe('Bars with the click, then bars without; null: always with'),
    count: text.nullable().describe('The note value counted, "1/8"; null: the beat of the metre'),
    groups: text
      .nullable()
      .describe('Groups of an irregular metre, "2+2+3"; null: as beamed, or the usual ones'),
    tempo: z.array(text).max(1000).describe('Tempo steps: "90", "1/4.=60", "80%"; none: as the score says'),
    times: z.int().describe('How often the passage is played at each tempo step, from 1'),
    gap: z.int().nullable().describe('Whole silent bars between repetitions; null: as usual'),
    countIn: text.describe('"auto", "none", "first", "each", a number of bars, "first:2", "each:1"'),
    upbeat: text.describe('"auto", "none", or a length such as "1/4"'),
    holds: z.enum(['count', 'through']).describe('At fermatas: stop and count one bar again, or keep on'),
    octaves: z.record(text, z.int()).describe('Octaves added to how a part sounds, by part id'),
  })
  .describe('A drill: what was asked for, in few words. It names its score by the hash of its bytes.');

/**
 * Brings a drill of one version to the next; by the version that it starts from. Version 2 knows bars apart in `click`
 * ("every,12:1 3"), which no drill of version 1 has.
 */
const upgraders: ReadonlyMap<number, (older: unknown) => unknown> = new Map([
  [
    1,
    (older) => (typeof older === 'object' && older !== null ? { ...older, format: 'levare.drill/2' } : older),
  ],
]);

const formatPattern = /^levare\.drill\/(\d{1,9})$/;

/** Whether some JSON says of itself that it is a drill, of whichever version. */
export const isDrillJson = (json: unknown): boolean => formatPattern.test(formatOf(json));

const formatOf = (json: unknown): string =>
  typeof json === 'object' && json !== null && 'format' in json && typeof json.format === 'string'
    ? json.format
    : '';

/**
 * Reads a drill from parsed JSON. Errors: `format-newer` where a later Levare wrote it; `drill-damaged` where it is
 * no drill or a field is missing, unknown or of the wrong kind (the field is named).
 */
export const parseDrill = (json: unknown): Result<Drill> => {
  const version = formatPattern.exec(formatOf(json))?.[1];
  if (version === undefined) {
    return fail('drill-damaged', 'This is not a drill: its "format" should be "levare.drill/2".');
  }
  if (Number(version) > drillVersion) {
    return fail(
      'format-newer',
      `This drill has format version ${version}; this Levare reads up to ${drillVersion}. A newer Levare wrote it: bring this one up to date.`,
    );
  }
  let current = json;
  for (let from = Number(version); from < drillVersion; from++) {
    const upgrade = upgraders.get(from);
    if (upgrade === undefined) {
      return fail('drill-damaged', `There has never been a drill of format version ${version}.`);
    }
    current = upgrade(current);
  }
  const read = drillSchema.safeParse(current);
  if (read.success) return ok(read.data);
  const [issue] = read.error.issues;
  const path = issue?.path.map(String) ?? [];
  if (issue?.code === 'unrecognized_keys') {
    const [key = ''] = issue.keys;
    return fail(
      'drill-damaged',
      `The drill is damaged: it has a field "${[...path, key].join('.')}", which no drill has.`,
    );
  }
  return fail(
    'drill-damaged',
    `The drill is damaged: its field "${path.join('.')}" is missing or is not what it should be (${issue?.message ?? 'unknown'}).`,
  );
};

/** The file's text. Same drill, same text: fields in a fixed order, parts' octaves by id. */
export const drillJson = (drill: Drill): string => {
  const octaves = Object.fromEntries(
    Object.entries(drill.octaves).sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)),
  );
  const { format, score, bars, pass, parts, keep, click, tacet, count, groups, tempo, times } = drill;
  const { gap, countIn, upbeat, holds } = drill;
  const ordered: Drill = {
    format,
    score: { sha256: score.sha256, title: score.title, file: score.file },
    bars,
    pass,
    parts,
    keep,
    click,
    tacet: tacet === null ? null : { with: tacet.with, without: tacet.without },
    count,
    groups,
    tempo,
    times,
    gap,
    countIn,
    upbeat,
    holds,
    octaves,
  };
  return `${JSON.stringify(ordered, null, 2)}\n`;
};
