/**
 * The truth bench: `npm run bench:hear -- [--half tuning|report] [--only PATTERN] [--quick] [--items N] [--jobs N]
 * [--methods null,curve,aubio,ear] [--by row|spread|source] [--json FILE] [--list] [--fresh] [--real DIR]
 * [--program bin/levare.js]`.
 * See docs/hearing-bench.md.
 */
import { writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { Worker } from 'node:worker_threads';
import { aubioPresent } from './baselines.mjs';
import { cache } from './cache.mjs';
import { extrasTable } from './extras.mjs';
import { benchSeed, halves, itemsOf } from './items.mjs';
import { realTasks } from './real.mjs';
import { sources } from './sources.mjs';
import { table } from './table.mjs';

const { values: given } = parseArgs({
  options: {
    half: { type: 'string', default: 'tuning' },
    only: { type: 'string' },
    quick: { type: 'boolean', default: false },
    items: { type: 'string' },
    jobs: { type: 'string', default: `${Math.max(1, Math.min(8, os.availableParallelism()))}` },
    methods: { type: 'string', default: 'null,curve,aubio,signal,ear' },
    by: { type: 'string', default: 'row' },
    json: { type: 'string' },
    list: { type: 'boolean', default: false },
    fresh: { type: 'boolean', default: false },
    real: { type: 'string' },
    program: { type: 'string' },
  },
});

// Read by the workers as they start.
if (given.program !== undefined) process.env['LEVARE_HEAR_PROGRAM'] = path.resolve(given.program);
const { ear } = await import('./ear.mjs');

if (!halves.includes(given.half)) {
  console.error(`There is no half "${given.half}"; there are: ${halves.join(', ')}.`);
  process.exit(2);
}

const chosen = () => {
  let items = itemsOf(given.half);
  if (given.only !== undefined) {
    const pattern = new RegExp(given.only, 'i');
    items = items.filter((item) =>
      pattern.test(`${item.name} ${item.row} ${item.source} ${item.voices.join(',')}`),
    );
  }
  // Eight spread over the list: other rows, other spreads.
  if (given.quick) items = items.filter((_, k) => k % Math.ceil(items.length / 8) === 0);
  return given.items === undefined ? items : items.slice(0, Number(given.items));
};

const methods = given.methods.split(',');
const tasks =
  given.real === undefined
    ? chosen().map((item) => ({ item, fresh: given.fresh, methods }))
    : realTasks(given.real, methods);
if (tasks.length === 0) {
  console.error(
    given.real === undefined
      ? `Nothing in the ${given.half} half is called "${given.only}".`
      : `No folder in ${given.real} holds an onsets.csv.`,
  );
  process.exit(2);
}
if (given.list) {
  for (const { item } of tasks)
    console.log(`${item.name}  ${item.row}  ${item.voices.join(', ')}  ${item.spreadMs} ms  ${item.source}`);
  process.exit(0);
}

console.log(
  given.real === undefined
    ? `Seed ${benchSeed}, ${given.half} half, ${tasks.length} items; made in ${cache}`
    : `${tasks.length} real recordings in ${given.real}`,
);
for (const [name, source] of Object.entries(sources))
  if (tasks.some(({ item }) => item.source === name) && !source.present())
    console.log(`Source "${name}" is not on this machine: ${source.needs}`);
if (!aubioPresent())
  console.log('aubio is not on this machine, so two baselines are left out: apt-get install aubio-tools');
if (ear === null) console.log('The ear is not built: baselines only.');

const results = [];
const queue = [...tasks];
const work = () =>
  new Promise((resolve, reject) => {
    const worker = new Worker(new URL('./work.mjs', import.meta.url));
    const next = () => {
      const task = queue.shift();
      if (task === undefined) {
        void worker.terminate();
        resolve();
      } else worker.postMessage(task);
    };
    worker.on('message', (result) => {
      results.push(result);
      if (result.failed) console.error(`${result.name} failed: ${result.failed}`);
      if (result.skipped) console.log(`${result.name} (${result.row}) skipped: ${result.skipped}`);
      for (const score of result.scores ?? [])
        if (score.refused) console.log(`${result.name}: the ear gave no reading: ${score.refused}`);
      next();
    });
    worker.on('error', reject);
    next();
  });
await Promise.all(Array.from({ length: Math.min(Number(given.jobs), tasks.length) }, work));
results.sort((a, b) => (a.name < b.name ? -1 : 1));

const label = {
  row: (result) => result.row,
  item: (result) => `${result.name} ${result.row}`,
  spread: (result) => `spread ${result.spreadMs} ms`,
}[given.by];
console.log(`\n${table(results, label)}`);
// Where players are as loose as 30 ms and more: there the ear must beat every baseline.
const wide = results.filter(({ spreadMs }) => spreadMs >= 30);
if (given.by === 'row' && wide.length > 0) console.log(`\nSpread of 30 ms and more\n\n${table(wide, label)}`);
const extras = results.flatMap((result) => result.extras ?? []);
if (extras.length > 0) console.log(`\nThe ear beyond onsets\n\n${extrasTable(extras)}`);
if (given.json !== undefined) writeFileSync(given.json, JSON.stringify(results));
if (results.some((result) => result.failed)) process.exitCode = 1;
