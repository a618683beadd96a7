/**
 * The finder against the marks (test/lines/marks/README.md) of the tuning half, on which it was tuned. The figures stand in
 * docs/evidence/places.md, as they are; this checks that they are what it gives today. Places that are not sure count neither as missed nor as
 * false, likewise seams. A canon counts as imitation. LEVARE_REPORT=1 prints what differs.
 *
 * The report half is closed: it was run once, with the rules of that day, and what came out stays in the evidence as it came.
 */
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { findPlaces } from '../../src/lines/index.ts';
import { F } from '../../src/units/index.ts';
import { sharedData } from '../shared.ts';
import { addTally, fMeasure, noTally, samePlace, type Tally } from './marks/agreement.ts';
import { fileOf, marks as allMarks, ruled, type Marks, type Place } from './marks/marks.ts';

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
  const before = known.get(marks.file);
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
  known.set(marks.file, read);
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

const total = (half: Marks['half'], kind: string): Score => {
  let [places, seams] = [noTally, noTally];
  const differences: string[] = [];
  for (const marks of allMarks().filter((one) => one.half === half && one.exhaustive.includes(kind))) {
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

describe.skipIf(
  sharedData === null ||
    !allMarks()
      .filter(({ half }) => half === 'tuning')
      .every((marks) => existsSync(fileOf(marks, sharedData ?? ''))),
)('the finder against the marks', () => {
  it('does on the tuning half what docs/evidence/places.md says', () => {
    const half = 'tuning';
    const evidence = readFileSync(
      path.resolve(import.meta.dirname, '..', '..', 'docs', 'evidence', 'places.md'),
      'utf8',
    );
    const rows = kinds.map((kind) => {
      const { places, seams, differences } = total(half, kind);
      if (process.env['LEVARE_REPORT'] === '1')
        console.log(half, kind, counts(places), counts(seams), `\n${differences.join('\n')}`);
      const withSeams = kind === 'shared-line' || kind === 'imitation';
      return `| ${half} | ${kind} | ${counts(places)} | ${fMeasure(places).toFixed(2)} | ${withSeams ? `${counts(seams)} | ${fMeasure(seams).toFixed(2)}` : '| '} |`;
    });
    // Movement by movement: the right half of a row is what is found today.
    const byFile = allMarks()
      .filter((marks) => marks.half === half)
      .flatMap((marks) =>
        ['shared-line', 'imitation'].map((kind) => {
          const { places, seams } = compare(marks, kind);
          const name = marks.file.startsWith('demo/') ? 'demo' : marks.file.replace('.mxl', '');
          const today = `${counts(places)} | ${fMeasure(places).toFixed(2)} | ${counts(seams)} | ${fMeasure(seams).toFixed(2)} |`;
          return { start: `| ${name} | ${kind} |`, today };
        }),
      );
    for (const { start, today } of byFile)
      expect(evidence.split('\n').find((line) => line.startsWith(start))).toContain(today);
    const normal = (line: string): string => line.replace(/\s+/g, ' ').replace(/\| \| \|/g, '| | |');
    const lines = new Set(evidence.split('\n').map(normal));
    expect(rows.map(normal).filter((row) => !lines.has(row))).toEqual([]);
  });
});
