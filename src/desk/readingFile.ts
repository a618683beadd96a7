/** A reading that was kept as reading.json, taken up again; older versions are brought up to date. */
import { z } from 'zod';
import { fail, ok, type Result } from '../units/index.ts';
import { findingsOf } from './findings/index.ts';
import type { Reading } from './reading.ts';
import { readingSchema } from './readingFormat.ts';

const version = 4;
const pattern = /^levare\.reading\/([1-9]\d*)$/;

const known = z.looseObject({ format: z.string() });

/** What version 1 had and version 2 needs to know. */
const older = z.looseObject({
  click: z.looseObject({ perBar: z.number() }),
  barLines: z.array(z.looseObject({ lateAtClick: z.unknown() })),
});

/**
 * Version 1 knew no bars in time, no entries, syncopations nor lengths by note: they stay empty. Whether players were held to the
 * click shows in whether any bar line was.
 */
const fromFirst = (json: object): object => {
  const read = older.safeParse(json);
  const free =
    read.success &&
    (read.data.click.perBar === 0 ||
      (read.data.barLines.length > 0 && read.data.barLines.every(({ lateAtClick }) => lateAtClick === null)));
  return {
    ...json,
    format: 'levare.reading/2',
    playing: free ? 'free' : 'click',
    played: [],
    entries: [],
    syncopations: [],
    lengths: [],
    findings: [],
  };
};

/** What version 2 had and version 3 says more of. */
const second = z.looseObject({ played: z.array(z.looseObject({})) });

/**
 * Version 2 did not know how notes are written, nor where the tempo is asked to give way: players' lengths that it held against each other whatever is written
 * are left out.
 */
const fromSecond = (json: object): object => {
  const read = second.safeParse(json);
  return {
    ...json,
    ...(read.success ? { played: read.data.played.map((bar) => ({ ...bar, gives: false })) } : {}),
    format: 'levare.reading/3',
    written: [],
    articulationBetween: [],
    findings: [],
  };
};

/** Version 3 called what is rough unsure: of its notes nothing changes. */
const fromThird = (json: object): object => ({ ...json, format: 'levare.reading/4' });

/** One step for each version, from the first on. */
const steps = [fromFirst, fromSecond, fromThird] as const;

const upToDate = (json: object, found: number): object =>
  steps.slice(found - 1).reduce((now, step) => step(now), json);

/**
 * Reads a reading from parsed JSON. Errors: `format-newer` where a later Levare wrote it; `reading-damaged` where it is no
 * reading or a field is missing, unknown or of the wrong kind (the field is named).
 */
export const parseReading = (json: unknown): Result<Reading> => {
  const head = known.safeParse(json);
  const found = Number(pattern.exec(head.success ? head.data.format : '')?.[1] ?? 0);
  if (!head.success || found === 0)
    return fail('reading-damaged', 'This is not a reading: its "format" should be "levare.reading/4".');
  if (found > version)
    return fail(
      'format-newer',
      `This reading has format version ${found}; this Levare reads up to ${version}. A newer Levare wrote it: bring this one up to date.`,
    );
  const read = readingSchema.safeParse(upToDate(head.data, found));
  if (!read.success) {
    const [issue] = read.error.issues;
    const keys = issue?.code === 'unrecognized_keys' ? issue.keys : [];
    const field = [...(issue?.path.map(String) ?? []), ...keys.slice(0, 1)].join('.');
    return fail(
      'reading-damaged',
      `The reading is damaged: its field "${field}" is missing or is not what it should be.`,
    );
  }
  return ok(found < 3 ? { ...read.data, findings: findingsOf(read.data) } : read.data);
};
