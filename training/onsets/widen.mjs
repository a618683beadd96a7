/**
 * Makes further takes for fitting, in sounds that the bench's tuning half does not have, so that the model is not fitted
 * to seven instruments of one sound font: other instruments of the same font, the same ones with their samples moved by some semitones,
 * and made tones (tones.mjs); all of them filtered. Music, conditions and the players' timing are drawn as the tuning half's are, from
 * other seeds, with more repeated notes, restarts and slurs.
 *
 *     npm run build && node training/onsets/widen.mjs --rounds 3 [--jobs 2] [--items 72]
 *     node training/onsets/widen.mjs --check [--items 72]
 *
 * `--check`: takes in the fonts of other makers instead (Debian: timgm6mb-soundfont, opl3-soundfont). Nothing is fitted to them. No
 * sound of the bench's report half is used anywhere here.
 */
import { cpSync, existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { Worker, isMainThread, parentPort, threadId, workerData } from 'node:worker_threads';
import { folder } from '../../bench/hear/cache.mjs';
import { drillFor, readTimeline } from '../../bench/hear/drills.mjs';
import { playItem, recordItem, truthOf } from '../../bench/hear/item.mjs';
import { itemsOf } from '../../bench/hear/items.mjs';
import { seeded } from '../../bench/hear/random.mjs';
import { readWav, writeWav } from '../../bench/hear/wav.mjs';
import { checkVoiceOf, voiceOf } from './voices.mjs';

export const wideSeed = 'levare-onsets-3';

/** The tuning half's list, drawn again; without the shared scores; every fourth item of plain music has repeated notes. */
const itemsFor = (round) => {
  const seed = `${wideSeed}/${round}`;
  return itemsOf('tuning', seed).map((item, k) => {
    const own = {
      ...item,
      name:
        round === 'check'
          ? item.name.replace('tuning', 'check')
          : item.name.replace('tuning', `wide-${round}`),
    };
    if (item.score.kind === 'quartet' || item.mics === 'one')
      return {
        ...own,
        score: { kind: 'lines', texture: 'repeated' },
        mics: 'each',
        articulation: item.voices.map(() => ['plain', 'legato', 'plain'][k % 3]),
        noiseDb: [60, 30, 25][k % 3],
        room: ['dry', 'dry', 'room'][k % 3],
      };
    if (item.score.kind === 'lines' && item.score.texture === 'lines' && k % 3 === 0)
      return { ...own, score: { ...item.score, texture: 'repeated' } };
    return own;
  });
};

const make = (item) => {
  const at = path.join(folder('training'), item.name);
  if (existsSync(path.join(at, 'truth.json'))) return 'there';
  const made = drillFor(item);
  if (made === null) return 'left out';
  const random = seeded(`${item.seed}/sound`);
  const making = `${at}.${process.pid}-${threadId}`;
  rmSync(making, { recursive: true, force: true });
  mkdirSync(path.join(making, 'takes'), { recursive: true });
  cpSync(made.at, path.join(making, 'drill'), { recursive: true });
  const timeline = readTimeline(made.at);
  const voices = [];
  const played = playItem(
    item,
    timeline,
    (_, instrument) => {
      const dice = random.fork(`voice ${voices.length}`);
      const voice = (item.name.startsWith('check') ? checkVoiceOf : voiceOf)(instrument, dice);
      voices.push(voice.name);
      return voice.bank;
    },
    made.marks,
  );
  const click = readWav(path.join(made.at, 'click.wav'));
  const recordings = recordItem(item, played, click.samples);
  const truth = truthOf(item, played, recordings, timeline.clicks);
  recordings.forEach((recording, m) =>
    writeWav(path.join(making, 'takes', truth.clock[m].file), recording.samples, item.rate, item.bits),
  );
  writeFileSync(path.join(making, 'truth.json'), JSON.stringify({ ...truth, voices }));
  renameSync(making, at);
  return voices.join(', ');
};

if (isMainThread && process.argv[1]?.endsWith('widen.mjs')) {
  const { values } = parseArgs({
    options: {
      jobs: { type: 'string', default: '2' },
      items: { type: 'string', default: '99' },
      rounds: { type: 'string', default: '1' },
      check: { type: 'boolean', default: false },
    },
  });
  const rounds = values.check ? ['check'] : Array.from({ length: Number(values.rounds) }, (_, r) => r + 1);
  const items = rounds.flatMap((round) => itemsFor(round).slice(0, Number(values.items)));
  const jobs = Number(values.jobs);
  for (let j = 0; j < jobs; j += 1)
    new Worker(new URL(import.meta.url), { workerData: items.filter((_, i) => i % jobs === j) });
} else if (!isMainThread) {
  for (const item of workerData) {
    let said;
    try {
      said = make(item);
    } catch (error) {
      said = `failed: ${error.message}`;
    }
    console.log(`${item.name}: ${said}`);
  }
  parentPort?.close();
}
