/**
 * Reads kept mixtures (gather.mjs --keep) with a way of refining of the build and prints how well it does, row by row, against the tempo curve:
 *
 *     node training/mix/try.mjs FOLDER [--with listen/mix/refine.js#refine] [--prior 50] [--share 1/2] [--only PATTERN] [--json OUT]
 *
 * F is by note: the share of notes within 25 or 50 ms of the truth after taking out each part's median error. Of sure notes: how many lie within 50 ms.
 */
import { appendFileSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const { values: given, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    build: { type: 'string', default: fileURLToPath(new URL('../../dist', import.meta.url)) },
    with: { type: 'string', default: 'listen/mix/refine.js#refine' },
    share: { type: 'string', default: '1/1' },
    only: { type: 'string', default: '' },
    json: { type: 'string' },
  },
});
const [file, name] = given.with.split('#');
const { [name]: refine } = await import(path.resolve(given.build, file));
const [folder] = positionals;
const [share, shares] = given.share.split('/').map(Number);
if (given.json) writeFileSync(given.json, '');
let [spent, heard] = [0, 0];
for (const item of readdirSync(folder)
  .filter((one) => one.endsWith('.json') && new RegExp(given.only).test(one))
  .sort()
  .filter((_, n) => n % shares === share - 1)) {
  const { row, cents, clicks, notes: kept } = JSON.parse(readFileSync(path.join(folder, item), 'utf8'));
  const notes = kept.map((note) => ({ ...note, written: note.truth.written }));
  const bytes = readFileSync(path.join(folder, item.replace('.json', '.f32')));
  const signal = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4);
  const began = process.cpuUsage().user;
  const answers = refine(signal, notes, { cents, clicks: Float64Array.from(clicks) });
  spent += (process.cpuUsage().user - began) / 1e6;
  heard += signal.length / 22_050;
  const lines = notes.map(({ truth, ...note }, k) => ({
    item,
    row,
    mix: 0,
    part: note.part,
    time: note.time,
    written: truth.written,
    perceived: truth.perceived,
    physical: truth.physical,
    slurred: truth.slurredFrom === true,
    answer:
      answers[k] === null
        ? null
        : { ...answers[k], p: Array.from(answers[k].p, (x) => Math.round(x * 1e6) / 1e6) },
  }));
  if (given.json) appendFileSync(given.json, lines.map((line) => `${JSON.stringify(line)}\n`).join(''));
}
console.log(`${heard.toFixed(0)} s of sound, ${((60 * spent) / heard).toFixed(1)} s of work a minute`);
