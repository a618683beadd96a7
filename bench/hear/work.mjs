/** One item from making to scores; runs in a worker. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { parentPort } from 'node:worker_threads';
import { aubioPresent, aubioReading, curveReading, nullReading } from './baselines.mjs';
import { ear, hearItem } from './ear.mjs';
import { scoreReading } from './extras.mjs';
import { makeItem } from './item.mjs';
import { scoreItem } from './score.mjs';
import { readWav } from './wav.mjs';

/** Readings by method of an item that lies at `at`. */
const readings = async (at, truth, methods) => {
  const timeline = JSON.parse(readFileSync(path.join(at, 'drill', 'timeline.json'), 'utf8'));
  const out = [];
  if (methods.includes('null')) out.push(['null', nullReading(timeline)]);
  if (aubioPresent()) {
    const free = truth.condition?.free ?? false;
    if (methods.includes('curve')) out.push(['curve', curveReading(timeline, at, truth, free)]);
    if (methods.includes('aubio')) out.push(['aubio', aubioReading(timeline, at, truth, free)]);
  }
  const oneMicrophone = truth.clock.length === 1 && truth.clock[0].part === null;
  if (methods.includes('signal') && oneMicrophone && ear !== null)
    out.push(['signal', await hearItem(at, truth, ['--by-signal'])]);
  if (methods.includes('ear') && ear !== null) out.push(['ear', await hearItem(at, truth)]);
  return out;
};

/** Length of all its files together; only WAV can be told without decoding. */
const soundSeconds = (at, truth) =>
  truth.clock.reduce((sum, { file }) => {
    if (!file.endsWith('.wav')) return NaN;
    const { samples, rate } = readWav(path.join(at, 'takes', file));
    return sum + samples.length / rate;
  }, 0);

export const workItem = async ({ item, fresh, methods, at: given, truth: known }) => {
  const { at, reason } = given === undefined ? makeItem(item, { fresh }) : { at: given, reason: null };
  if (at === null) return { name: item.name, row: item.row, skipped: reason };
  const truth = known ?? JSON.parse(readFileSync(path.join(at, 'truth.json'), 'utf8'));
  const scores = [];
  const extras = [];
  for (const [method, reading] of await readings(at, truth, methods)) {
    if (reading.refused !== undefined) {
      scores.push({ method, refused: reading.refused, ...scoreItem(truth, { notes: [] }) });
      continue;
    }
    scores.push({ method, ...scoreItem(truth, reading) });
    if (reading.whole !== undefined && method === 'ear')
      extras.push({
        row: truth.row,
        pace: [reading.seconds / soundSeconds(at, truth)],
        ...scoreReading(truth, reading.whole),
      });
    if (reading.perceived !== undefined)
      scores.push({ method: `${method}, perceived`, ...scoreItem(truth, reading.perceived, 'perceived') });
    if (reading.surely !== undefined)
      scores.push({ method: `${method}, sure alone`, ...scoreItem(truth, reading.surely, 'perceived') });
  }
  return { name: item.name, row: item.row, at, spreadMs: item.spreadMs ?? null, scores, extras };
};

parentPort?.on('message', async (task) => {
  try {
    parentPort.postMessage(await workItem(task));
  } catch (error) {
    parentPort.postMessage({
      name: task.item.name,
      row: task.item.row,
      failed: error.stack ?? String(error),
    });
  }
});
