/**
 * Pages on which the places that were found and those that were marked by hand differ, for the tuning half of the marks
 * (test/lines/marks): marked ones in plain brackets, found ones in dashed ones.
 *
 *   npm run build && node bench/misses.mjs FOLDER [KIND]     shared-line where no kind is named
 *
 * A place is the same where kind, value and both ends within one beat are. The report half is not read.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { pagesWith } from '../dist/desk/placesPages.js';
import { nodeEngraver, nodePdf } from '../dist/host/node/index.js';
import { findPlaces } from '../dist/lines/index.js';
import { asWritten, barGrids, beatOffset } from '../dist/rhythm/beats.js';
import { readScore } from '../dist/score/read/recognise.js';
import { F } from '../dist/units/index.js';
import { value } from './drills.mjs';

const root = path.resolve(import.meta.dirname, '..');
const folder = path.join(root, 'test', 'lines', 'marks');
const quartets = path.resolve(root, '..', 'shared', 'data', 'scores', 'openscore-quartets');

const [out, kind = 'shared-line'] = process.argv.slice(2);
if (out === undefined) {
  console.error('Say where the pages go: node bench/misses.mjs FOLDER [KIND]');
  process.exit(2);
}

const sameKind = (one) => (one === 'canon' ? 'imitation' : one);
const lengthOf = ({ value: length }) => (length === undefined || length === null ? '' : String(length));

/** Whether two places are one, both ends within a beat. */
const same = (grids, a, b) => {
  const near = (x, y) => {
    const beat = grids[x.barIndex]?.tempoUnit ?? F.fraction(1, 4);
    const gap = F.sub(x.at, y.at);
    return F.atMost(gap, beat) && F.atMost(F.sub(F.zero, beat), gap);
  };
  return lengthOf(a) === lengthOf(b) && near(a.from, b.from) && near(a.to, b.to);
};

const differing = (marks) => {
  const file = marks.file.includes('/') ? path.join(root, marks.file) : path.join(quartets, marks.file);
  if (!existsSync(file)) return null;
  const score = value(readScore(new Uint8Array(readFileSync(file))));
  const grids = barGrids(score, asWritten);
  const placed = (spot) => ({
    barIndex: spot.barIndex,
    at: F.add(score.bars[spot.barIndex].start, value(beatOffset(grids[spot.barIndex], spot.beat))),
  });
  const marked = marks.places
    .filter((place) => place.kind === kind)
    .map((place) => ({
      ...place,
      from: placed(place.from),
      to: placed(place.to),
      seams: (place.seams ?? []).map((seam) => ({ ...seam, ...placed(seam) })),
    }));
  const found = findPlaces(score)
    .places.filter((place) => sameKind(place.kind) === kind)
    .filter(({ from, to }) => from.barIndex >= marks.bars.from && to.barIndex <= marks.bars.to)
    .map((place) => ({ ...place, value: place.value === null ? null : F.format(place.value) }));
  const missed = marked.filter((one) => !found.some((other) => same(grids, one, other)));
  const extra = found.filter((one) => !marked.some((other) => same(grids, one, other)));
  return { score, missed, extra };
};

/** Differences whose bars touch stand on one page. */
const clusters = (all) => {
  const rows = [];
  for (const one of all.toSorted((a, b) => a.from.barIndex - b.from.barIndex)) {
    const row = rows.at(-1);
    if (row !== undefined && one.from.barIndex <= row.to + 1) {
      row.places.push(one);
      row.to = Math.max(row.to, one.to.barIndex);
    } else rows.push({ from: one.from.barIndex, to: one.to.barIndex, places: [one] });
  }
  return rows;
};

const engraver = nodeEngraver();
mkdirSync(out, { recursive: true });
for (const name of readdirSync(folder).filter((one) => one.endsWith('.json'))) {
  const marks = JSON.parse(readFileSync(path.join(folder, name), 'utf8'));
  if (marks.half !== 'tuning') continue;
  const compared = differing(marks);
  if (compared === null) {
    console.log(`${marks.file} is not here: skipped.`);
    continue;
  }
  const { score, missed, extra } = compared;
  const all = [
    ...missed.map((place) => ({ ...place, who: 'marked' })),
    ...extra.map((place) => ({ ...place, who: 'found' })),
  ];
  for (const { from, to, places } of clusters(all)) {
    const pencil = places.map(({ who, sure = true, parts, seams, ...place }, i) => ({
      id: `place-${i + 1}`,
      label: `${who}${sure ? '' : ', not sure'}: ${lengthOf(place)} ${score.parts
        .filter(({ id }) => parts.includes(id))
        .map(({ name: player, abbreviation, id }) => abbreviation || player || id)
        .join(' ')}`,
      parts,
      seams: kind === 'shared-line' ? seams : [],
      line: who === 'marked' ? 'plain' : 'dashed',
      ...place,
    }));
    const said = {
      manner: kind.replaceAll('-', ' '),
      key: [
        { words: 'marked by hand', line: 'plain' },
        { words: 'found', line: 'dashed' },
      ],
    };
    const bars = `@${Math.max(0, from - 1)}-@${Math.min(score.bars.length - 1, to + 1)}`;
    const made = value(await pagesWith(score, bars, pencil, said, { engraver, pdf: nodePdf }));
    const stem = `${path.parse(marks.file).name}-${from}`;
    for (const file of made.files) writeFileSync(path.join(out, `${stem}-${file.name}`), [...file.chunks][0]);
    console.log(`${stem}: ${places.map(({ who }) => who).join(', ')}`);
  }
}
await engraver.close();
