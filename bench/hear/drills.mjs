/** The drill folder of an item, made by the command line as anyone makes one; kept by what it was made from. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { threadId } from 'node:worker_threads';
import { digest, digestOfBuild, folder, root } from './cache.mjs';
import { randomScore } from './lines.mjs';
import { seeded } from './random.mjs';

const demo = path.join(root, 'demo', 'lanterns-on-the-towpath.musicxml');
const quartets = path.join(root, '..', 'shared', 'data', 'scores', 'openscore-quartets');

export const quartetsPresent = () => existsSync(quartets);

const cli = (args) =>
  execFileSync(process.execPath, [path.join(root, 'bin', 'levare.js'), ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });

let build = null;
/** What the drill is made with. */
const buildDigest = () => (build ??= digestOfBuild('units', 'score', 'rhythm', 'click', 'drill'));

const makeDrill = (score, args) => {
  const at = path.join(folder('drills'), digest(buildDigest(), readFileSync(score), JSON.stringify(args)));
  if (existsSync(path.join(at, 'timeline.json'))) return at;
  const making = `${at}.${process.pid}-${threadId}`;
  rmSync(making, { recursive: true, force: true });
  cli(['drill', score, ...args, '--paper', 'none', '--out', making]);
  // What the ear is given and what the bench needs; the sounds of the parts would only fill the disk.
  for (const file of readdirSync(making))
    if (/^(parts|full)\.wav$|\.pdf$/.test(file)) rmSync(path.join(making, file));
  try {
    renameSync(making, at);
  } catch {
    rmSync(making, { recursive: true, force: true });
  }
  return at;
};

const readTimeline = (at) => JSON.parse(readFileSync(path.join(at, 'timeline.json'), 'utf8'));

/** Bars that fill about `seconds`. */
const barsFor = (metre, tempo, seconds) => {
  const [beats, type] = metre.split('/').map(Number);
  const barSeconds = ((type === 8 ? beats / 3 : beats) * 60) / tempo;
  return Math.max(4, Math.round(seconds / barSeconds));
};

/** Several windows are tried until one has enough notes in each part: scores have rests. */
const window = (score, extra, bars, [low, high], random) => {
  const look = JSON.parse(cli(['look', score, '--json']).toString());
  const count = look.bars?.length ?? 60;
  for (let tries = 0; tries < 20; tries += 1) {
    const from = 1 + Math.floor(random.uniform(low, high) * Math.max(1, count - bars - 2));
    let at = null;
    try {
      at = makeDrill(score, ['--bars', `@${from}-@${from + bars - 1}`, ...extra]);
    } catch {
      continue;
    }
    const timeline = readTimeline(at);
    const parts = new Map();
    for (const note of timeline.notes) parts.set(note.part, (parts.get(note.part) ?? 0) + 1);
    if ([...parts.values()].every((many) => many >= 8) && timeline.duration < 45) return at;
  }
  throw new Error(`No passage with enough notes in ${path.basename(score)}.`);
};

/**
 * The drill's folder (`at`) and, for the bench's own music, the `marks` on its notes; null where the item's score is not
 * on this machine.
 */
export const drillFor = (item) => {
  const random = seeded(`${item.seed}/score`);
  const times = ['--times', `${item.times}`, '--rate', `${item.rate}`];
  const how = ['--click', item.click, ...times];
  if (item.score.kind === 'quartet') {
    if (!quartetsPresent()) return null;
    // Even files for one half, odd ones for the other.
    const files = readdirSync(quartets)
      .filter((name) => name.endsWith('.mxl'))
      .sort()
      .filter((_, k) => k % 2 === (item.half === 'tuning' ? 0 : 1));
    const score = path.join(quartets, random.pick(files));
    return { at: window(score, ['--tempo', `${item.tempo}`, ...how], 8, [0, 1], random) };
  }
  if (item.score.kind === 'demo')
    return { at: window(demo, how, 8, item.half === 'tuning' ? [0, 0.42] : [0.58, 1], random) };
  const seconds = item.times > 1 ? 18 / item.times : 17;
  const bars = barsFor(item.metre, item.tempo, seconds);
  const { voices, metre, tempo, trills } = item;
  const slurred = item.articulation.map((name) => name === 'legato');
  const { text, marks } = randomScore(
    { voices, metre, bars, texture: item.score.texture, tempo, slurred, trilled: trills },
    random,
  );
  const at = path.join(folder('scores'), `${digest(text)}.musicxml`);
  mkdirSync(path.dirname(at), { recursive: true });
  writeFileSync(at, text);
  return { at: makeDrill(at, ['--bars', `1-${bars}`, ...how]), marks };
};

export { readTimeline };
