/** Places of the largest shared quartet against the time to read it; that time grows with the bars; two, four and eight parts. */
import { readScore } from '../dist/score/read/recognise.js';
import { findPlaces } from '../dist/lines/index.js';
import { find } from '../dist/desk/find.js';
import { value } from './drills.mjs';
import { demo, largestQuartet } from './scores.mjs';

const timed = (work, times = 3) => {
  let best = Infinity;
  let result;
  for (let i = 0; i < times; i++) {
    const start = performance.now();
    result = work();
    best = Math.min(best, performance.now() - start);
  }
  return { ms: best, result };
};

/** The same score with its parts said several times over, or fewer of them. */
const withParts = (score, count) => ({
  ...score,
  parts: Array.from({ length: count }, (_, i) => ({
    ...score.parts[i % score.parts.length],
    id: `P${i + 1}`,
  })),
});

/** The first bars of a score. */
const firstBars = (score, count) => ({
  ...score,
  bars: score.bars.slice(0, count),
  marks: score.marks.filter(({ bar }) => bar < count),
  parts: score.parts.map((part) => ({
    ...part,
    notes: part.notes.filter(({ bar }) => bar < count),
    written: part.written.filter(({ bar }) => bar < count),
    directions: part.directions.filter(({ bar }) => bar < count),
  })),
});

export const benchFind = () => {
  const bytes = largestQuartet() ?? demo;
  const read = timed(() => value(readScore(bytes)));
  const score = read.result;
  const found = timed(() => findPlaces(score));
  const all = timed(() => value(find(bytes, { bars: null, parts: null, kind: null })), 1);
  console.log(`read: ${read.ms.toFixed(0)} ms, ${score.bars.length} bars, ${score.parts.length} parts`);
  console.log(
    `places: ${found.ms.toFixed(0)} ms (${(found.ms / read.ms).toFixed(2)} of the reading), ${found.result.places.length} places`,
  );
  console.log(`read, places and steps: ${all.ms.toFixed(0)} ms`);
  for (const share of [8, 4, 2, 1]) {
    const count = Math.floor(score.bars.length / share);
    const { ms } = timed(() => findPlaces(firstBars(score, count)));
    console.log(
      `${String(count).padStart(5)} bars: ${ms.toFixed(0)} ms, ${((1000 * ms) / count).toFixed(0)} us a bar`,
    );
  }
  for (const count of [2, 4, 8]) {
    const { ms } = timed(() => findPlaces(withParts(score, count)));
    console.log(`${count} parts: ${ms.toFixed(0)} ms`);
  }
};
