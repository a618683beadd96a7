/** Places of the largest shared quartet against the time to read it; and how that time grows with bars and parts. */
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

/** Least processor time of several runs, in ms: it says more than the clock where other work shares the machine. */
const worked = (work, times) => {
  let best = Infinity;
  for (let i = 0; i < times; i++) {
    const start = process.cpuUsage();
    work();
    best = Math.min(best, process.cpuUsage(start).user / 1000);
  }
  return best;
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
  // More parts are the same parts again: who runs together is then sought among twice as many. Ratios are to the cell of a quarter of the bars
  // and two parts; in brackets what a bar and part costs beside that cell. Linear in both would be 1.00 throughout.
  const shares = [4, 2, 1];
  const counts = [2, 4, 8];
  const cells = shares.map((share) => {
    const bars = Math.floor(score.bars.length / share);
    const part = firstBars(score, bars);
    return { bars, ms: counts.map((count) => worked(() => findPlaces(withParts(part, count)), 9)) };
  });
  const least = cells[0];
  console.log(`  bars ${counts.map((count) => `${count} parts`.padStart(24)).join('')}`);
  for (const { bars, ms } of cells)
    console.log(
      `${String(bars).padStart(6)} ${ms
        .map((one, i) => {
          const times = one / least.ms[0];
          const each = (times * least.bars * counts[0]) / (bars * counts[i]);
          return `${one.toFixed(0)} ms, ${times.toFixed(1)}x (${each.toFixed(2)})`.padStart(24);
        })
        .join('')}`,
    );
};
