/**
 * The finder against the marks (test/lines/marks/README.md) of the tuning half, on which it was tuned. The figures stand in
 * docs/evidence/places.md, as they are; this checks that they are what it gives today. Places that are not sure count neither as missed nor as
 * false, likewise seams. A canon counts as imitation. LEVARE_REPORT=1 prints what differs.
 *
 * The report half is closed: it was run twice, with the first and the third rules, and what came out stays in the evidence as it came. The later
 * set was run once with the second rules; since then it is tuning material as well.
 */
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { findPlaces } from '../../src/lines/index.ts';
import { F } from '../../src/units/index.ts';
import { sharedData } from '../shared.ts';
import { addTally, fMeasure, noTally, samePlace, type Tally } from './marks/agreement.ts';
import { fileOf, laterMarks, marks as allMarks, ruled, type Marks, type Place } from './marks/marks.ts';

interface Score {
  readonly places: Tally;
  readonly seams: Tally;
  readonly differences: readonly string[];
}

interface Read {
  readonly music: ReturnType<typeof ruled>;
  readonly places: readonly Place[];
}
const known = new Map<string, Read>();

const found = (marks: Marks): Read => {
  const key = `${marks.file} ${marks.bars.from}`;
  const before = known.get(key);
  if (before !== undefined) return before;
  const music = ruled(new Uint8Array(readFileSync(fileOf(marks, sharedData ?? 'absent'))));
  const places = findPlaces(music.score)
    .places.filter(({ from, to }) => from.barIndex >= marks.bars.from && to.barIndex <= marks.bars.to)
    .map(({ kind, value, parts, from, to, seams }): Place => ({
      kind: kind === 'canon' ? 'imitation' : kind,
      ...(value === null ? {} : { value: F.format(value) }),
      sure: true,
      parts,
      from,
      to,
      seams,
    }));
  const read = { music, places };
  known.set(key, read);
  return read;
};

const text = ({ kind, value = '', parts, from, to }: Place): string =>
  `${kind} ${value} ${parts.join(' ')} ${from.bar}:${from.beat}-${to.bar}:${to.beat}`;

const overlaps = (a: Place, b: Place): boolean =>
  a.kind === b.kind &&
  a.value === b.value &&
  a.from.barIndex <= b.to.barIndex &&
  b.from.barIndex <= a.to.barIndex;

const compare = (marks: Marks, kind: string): Score => {
  const { music, places } = found(marks);
  const wanted = marks.places.filter((place) => place.kind === kind);
  const left = places.filter((place) => place.kind === kind);
  const differences: string[] = [];
  let [sure, both] = [0, 0];
  for (const place of wanted) {
    const index = left.findIndex((other) => samePlace(music, place, other));
    if (place.sure) sure += 1;
    if (index < 0) {
      if (place.sure) differences.push(`missed: ${text(place)}`);
      continue;
    }
    left.splice(index, 1);
    if (place.sure) both += 1;
  }
  // What is told where a place that is not sure lies may be right or not.
  const unsure = wanted.filter((place) => !place.sure);
  const wrong = left.filter((place) => !unsure.some((other) => overlaps(place, other)));
  for (const place of wrong) differences.push(`false: ${text(place)}`);

  const key = (place: Place, { barIndex, beat, from, to }: NonNullable<Place['seams']>[number]): string =>
    [place.value ?? '', barIndex, beat, from, to].join(' ');
  const seamsOf = (
    list: readonly Place[],
    keep: (place: Place, seam: NonNullable<Place['seams']>[number]) => boolean,
  ) =>
    new Set(
      list.flatMap((place) =>
        (place.seams ?? []).filter((seam) => keep(place, seam)).map((seam) => key(place, seam)),
      ),
    );
  const certain = seamsOf(wanted, (place, seam) => place.sure && seam.sure !== false);
  const doubtful = seamsOf(wanted, (place, seam) => !place.sure || seam.sure === false);
  const told = [
    ...seamsOf(
      places.filter((place) => place.kind === kind),
      () => true,
    ),
  ].filter((one) => !doubtful.has(one));
  const hit = told.filter((one) => certain.has(one)).length;
  return {
    places: { first: sure, second: both + wrong.length, both },
    seams: { first: certain.size, second: told.length, both: hit },
    differences,
  };
};

const total = (set: readonly Marks[], kind: string): Score => {
  let [places, seams] = [noTally, noTally];
  const differences: string[] = [];
  for (const marks of set.filter((one) => one.exhaustive.includes(kind))) {
    const one = compare(marks, kind);
    places = addTally(places, one.places);
    seams = addTally(seams, one.seams);
    differences.push(...one.differences.map((line) => `${marks.file} ${line}`));
  }
  return { places, seams, differences };
};

const kinds: readonly string[] = [
  'shared-line',
  'imitation',
  'joint-entry',
  'hemiola',
  'metre-change',
  'tempo-change',
  'last-notes',
  'rhythmic-unison',
];
const counts = ({ first, second, both }: Tally): string => `${first}/${second}/${both}`;

const tuning = allMarks().filter(({ half }) => half === 'tuning');
const later = laterMarks();

const present = (set: readonly Marks[]): boolean =>
  sharedData !== null && set.every((marks) => existsSync(fileOf(marks, sharedData ?? '')));

const evidence = readFileSync(
  path.resolve(import.meta.dirname, '..', '..', 'docs', 'evidence', 'places.md'),
  'utf8',
);

/** The rows of the table, as they are found today. */
const rowsOf = (name: string, set: readonly Marks[]): readonly string[] =>
  kinds.map((kind) => {
    const { places, seams, differences } = total(set, kind);
    if (process.env['LEVARE_REPORT'] === '1')
      console.log(name, kind, counts(places), counts(seams), `\n${differences.join('\n')}`);
    const withSeams = kind === 'shared-line' || kind === 'imitation';
    return `| ${name} | ${kind} | ${counts(places)} | ${fMeasure(places).toFixed(2)} | ${withSeams ? `${counts(seams)} | ${fMeasure(seams).toFixed(2)}` : '| '} |`;
  });

const normal = (line: string): string => line.replace(/\s+/g, ' ').replace(/\| \| \|/g, '| | |');
const missing = (rows: readonly string[]): readonly string[] => {
  const lines = new Set(evidence.split('\n').map(normal));
  return rows.map(normal).filter((row) => !lines.has(row));
};

/** Movement by movement and stretch by stretch: the right half of a row is what is found today. */
const expectRows = (set: readonly Marks[], nameOf: (marks: Marks) => string): void => {
  for (const marks of set)
    for (const kind of ['shared-line', 'imitation'].filter((one) => marks.exhaustive.includes(one))) {
      const { places, seams } = compare(marks, kind);
      const today = `${counts(places)} | ${fMeasure(places).toFixed(2)} | ${counts(seams)} | ${fMeasure(seams).toFixed(2)} |`;
      const row = evidence.split('\n').find((line) => line.startsWith(`| ${nameOf(marks)} | ${kind} |`));
      expect(row).toMatch(new RegExp(`${today.replaceAll('|', '\\|').replaceAll('.', '\\.')}$`));
    }
};
const short = ({ file }: Marks): string => (file.startsWith('demo/') ? 'demo' : file.replace('.mxl', ''));

describe.skipIf(!present(tuning))('the finder against the marks', () => {
  it('does on the tuning half what docs/evidence/places.md says', () => {
    expectRows(tuning, short);
    expect(missing(rowsOf('tuning', tuning))).toEqual([]);
  });
});

describe.skipIf(!present(later))('the finder against the later marks', () => {
  it('does what docs/evidence/places.md says', () => {
    expectRows(later, (marks) => `${short(marks)}-${marks.bars.from}`);
    expect(missing(rowsOf('later', later))).toEqual([]);
  });
});
