/** Scores of many items as rows of a table. */
import { fMeasure, mean, median, quantile, sd, slopeWithin } from './metrics.mjs';

const ms = (seconds, digits = 1) => (Number.isFinite(seconds) ? (1000 * seconds).toFixed(digits) : '');
const plain = (value, digits = 2) => (Number.isFinite(value) ? value.toFixed(digits) : '');

const columns = [
  ['method', (s) => s.method],
  ['notes', (s) => `${s.notes}`],
  ['F25', (s) => plain(s.f('25'), 3)],
  ['F50', (s) => plain(s.f('50'), 3)],
  ['median', (s) => ms(s.median)],
  ['p95', (s) => ms(s.p95)],
  ['F25 raw', (s) => plain(s.f('25raw'), 3)],
  ['bias', (s) => ms(s.bias)],
  ['SD', (s) => ms(s.sd)],
  ['unsure %', (s) => plain((100 * s.unsure) / s.notes, 1)],
  ['async mean err', (s) => ms(s.asyncMean)],
  ['slope', (s) => plain(s.slope)],
  ['drift err', (s) => plain(s.drift)],
  ['68 %', (s) => plain(100 * s.inside68, 0)],
  ['95 %', (s) => plain(100 * s.inside95, 0)],
  ['95 % width', (s) => ms(s.width95, 0)],
];

const pool = (method, scores) => {
  const flat = (key) => scores.flatMap((score) => score[key]);
  const errors = flat('errors').map(Math.abs);
  const raw = flat('rawErrors');
  const sum = (key, part) => scores.reduce((total, score) => total + score.counts[key][part], 0);
  return {
    method,
    notes: scores.reduce((total, score) => total + score.notes, 0),
    unsure: scores.reduce((total, score) => total + score.unsure, 0),
    f: (key) =>
      fMeasure({
        hits: sum(key, 'hits'),
        references: sum(key, 'references'),
        estimates: sum(key, 'estimates'),
      }),
    median: median(errors),
    p95: quantile(errors, 0.95),
    bias: mean(raw),
    sd: sd(raw),
    asyncMean: mean(
      flat('pairs')
        .map((pair) => Math.abs(pair.meanError))
        .filter(Number.isFinite),
    ),
    slope: slopeWithin(flat('pairs')),
    drift: median(scores.map((score) => Math.abs(score.drift)).filter(Number.isFinite)),
    inside68: mean(flat('inside68')),
    inside95: mean(flat('inside95')),
    width95: mean(flat('width95')),
  };
};

const order = [
  'null',
  'curve',
  'aubio',
  'signal',
  'signal, perceived',
  'ear',
  'ear, perceived',
  'ear, sure alone',
];

/** Markdown: for each row of the bench one line a method. */
export const table = (results, rowOf = (result) => result.row) => {
  const lines = [
    `| row | items | ${columns.map(([name]) => name).join(' | ')} |`,
    `| --- | --- | ${columns.map(() => '---').join(' | ')} |`,
  ];
  const rows = new Map();
  for (const result of results)
    if (result.scores) rows.set(rowOf(result), [...(rows.get(rowOf(result)) ?? []), result]);
  for (const [row, members] of rows)
    for (const method of order) {
      const scores = members.flatMap((member) => member.scores.filter((score) => score.method === method));
      if (scores.length === 0) continue;
      const pooled = pool(method, scores);
      lines.push(`| ${row} | ${scores.length} | ${columns.map(([, value]) => value(pooled)).join(' | ')} |`);
    }
  return lines.join('\n');
};
