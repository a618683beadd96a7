/**
 * Makes further takes for fitting, in sounds that the bench's tuning half does not have, so that the model is not fitted
 * to seven instruments of one sound font: other instruments of the same font, the same ones with their samples shifted by some semitones,
 * and additive tones with rises of their own; all of them filtered. Scores and conditions are the tuning half's, the players' timing and
 * everything else that is drawn comes from another seed. No other sound source than the tuning half's is used.
 *
 *     node training/onsets/widen.mjs [--jobs 2] [--items 72]
 */
import {
  cpSync,
  existsSync,
  mkdirSync,
  readFileSync,
  readdirSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { Worker, isMainThread, parentPort, threadId, workerData } from 'node:worker_threads';
import { bankOf, bankRate, held, nearest, velocities } from '../../bench/hear/bank.mjs';
import { folder } from '../../bench/hear/cache.mjs';
import { readTimeline } from '../../bench/hear/drills.mjs';
import { instruments } from '../../bench/hear/instruments.mjs';
import { playItem, recordItem, truthOf } from '../../bench/hear/item.mjs';
import { randomScore } from '../../bench/hear/lines.mjs';
import { seeded } from '../../bench/hear/random.mjs';
import { sources, tuningSource } from '../../bench/hear/sources.mjs';
import { pitchOf } from '../../bench/hear/pitch.mjs';
import { readWav, writeWav } from '../../bench/hear/wav.mjs';

export const wideSeed = 'levare-onsets-2';

/** Other sustaining instruments of the font: General MIDI program and range. */
const others = {
  wind: [
    ['piccolo', 72, 74, 100],
    ['panflute', 75, 60, 96],
    ['ocarina', 79, 60, 90],
    ['bassoon', 70, 34, 70],
    ['english horn', 69, 52, 80],
    ['soprano sax', 64, 56, 86],
    ['alto sax', 65, 49, 80],
    ['tenor sax', 66, 44, 75],
    ['trumpet', 56, 54, 84],
    ['horn', 60, 40, 76],
    ['harmonica', 22, 60, 90],
    ['reed organ', 20, 40, 90],
  ],
  string: [
    ['contrabass', 43, 28, 60],
    ['fiddle', 110, 55, 90],
    ['string section', 48, 36, 90],
    ['slow strings', 49, 36, 90],
  ],
};
for (const [family, list] of Object.entries(others))
  for (const [name, program, low, high] of list) instruments[name] = { program, low, high, family, db: 0 };

/** A first-order shelf: `db` more above `hertz` than below. */
const tilted = (samples, hertz, db) => {
  const out = new Float32Array(samples.length);
  const keep = Math.exp((-2 * Math.PI * hertz) / bankRate);
  const gain = 10 ** (db / 20);
  let low = 0;
  for (let n = 0; n < samples.length; n += 1) {
    low = keep * low + (1 - keep) * samples[n];
    out[n] = low + gain * (samples[n] - low);
  }
  return out;
};

const loudest = (samples) => {
  const window = Math.round(0.05 * bankRate);
  let most = 0;
  for (let from = 0; from + window <= samples.length; from += window) {
    let sum = 0;
    for (let n = from; n < from + window; n += 1) sum += samples[n] ** 2;
    most = Math.max(most, sum / window);
  }
  return Math.sqrt(most);
};

/** A tone of partials that rise one after another, with a rush of noise that is strongest at first. */
const additive = (hertz, strong, shape, random) => {
  const out = new Float32Array(Math.round(held * bankRate));
  const loss = shape.loss - (strong ? 0.3 : 0);
  for (let h = 1; h <= 14 && h * hertz < 10_000; h += 1) {
    const formant = 1 + 2 * Math.exp(-(((h * hertz - shape.formant) / 500) ** 2));
    const size = formant * h ** -loss * (shape.oddOnly && h % 2 === 0 ? 0.12 : 1) * random.uniform(0.5, 1.5);
    const rise = shape.rise * (1 + shape.later * (h - 1)) * random.uniform(0.7, 1.4);
    const wait = shape.wait * (h - 1) * random.uniform();
    const step = (2 * Math.PI * h * hertz) / bankRate;
    const phase = random.uniform(0, 2 * Math.PI);
    let [x, y] = [Math.cos(phase), Math.sin(phase)];
    const [c, s] = [Math.cos(step), Math.sin(step)];
    const keep = Math.exp(-1 / (rise * bankRate));
    let wander = 0;
    let lacking = 1;
    for (let n = Math.round(wait * bankRate); n < out.length; n += 1) {
      if (n % 64 === 0) wander = 0.97 * wander + random.uniform(-1, 1) * shape.wander;
      lacking *= keep;
      out[n] += size * (1 + wander) * (1 - lacking) * y;
      [x, y] = [x * c - y * s, x * s + y * c];
    }
  }
  let [a, b] = [0, 0];
  const keep = Math.exp((-2 * Math.PI * shape.noiseHertz) / bankRate);
  for (let n = 0; n < out.length; n += 1) {
    const t = n / bankRate;
    a = keep * a + (1 - keep) * random.uniform(-1, 1);
    b = 0.98 * b + 0.02 * a;
    out[n] +=
      (a - b) * (shape.hiss + shape.burst * Math.exp(-t / shape.burstSeconds)) * Math.min(1, t / 0.003);
  }
  return out;
};

const shapeFor = (family, random) => ({
  loss: random.uniform(0.7, 2.2),
  formant: random.uniform(400, 2500),
  oddOnly: family === 'wind' && random.chance(0.3),
  rise: family === 'wind' ? random.uniform(0.004, 0.025) : random.uniform(0.008, 0.05),
  later: random.uniform(0, 0.25),
  wait: random.uniform(0, 0.004),
  wander: random.uniform(0.002, family === 'wind' ? 0.02 : 0.05),
  hiss: random.uniform(0, 0.15),
  burst: random.chance(0.5) ? random.uniform(0, 1.5) : 0,
  burstSeconds: random.uniform(0.008, 0.05),
  noiseHertz: random.uniform(1000, 6000),
});

/** Every fourth key of another instrument: enough for notes that are laid down at any pitch. */
const spacing = 4;
const known = new Map();
const sparseBank = (name) => {
  if (known.has(name)) return known.get(name);
  const { low, high } = instruments[name];
  const notes = [];
  for (let midi = low; midi <= high; midi += 4)
    for (const velocity of velocities) {
      const on = 200 + notes.length * spacing * 1000;
      notes.push({ midi, velocity, on, off: on + held * 1000 });
    }
  const sound = sources[tuningSource].render(name, notes, bankRate);
  const bank = new Map();
  for (const { midi, velocity, on } of notes) {
    const from = Math.round((on * bankRate) / 1000);
    const samples = sound.slice(from, from + Math.round(held * bankRate));
    const measured = loudest(samples) < 1e-5 ? null : pitchOf(samples, bankRate, midi);
    if (measured !== null) bank.set(`${midi}/${velocity}`, { samples, gain: 1, cents: measured.cents });
  }
  known.set(name, bank);
  return bank;
};

/** Those whose range is not too far from the player's: notes are moved by an octave and a bit at most. */
const near = (family, low, high) =>
  others[family].filter(([, , least, most]) => most >= high - 15 && least <= low + 15);

/** What a player sounds like, and its name. */
const voiceOf = (instrument, random) => {
  const { family, low, high } = instruments[instrument];
  const kind = random.pick(['other', 'other', 'shifted', 'additive', 'additive']);
  const [corner, db] = [random.uniform(500, 3000), random.uniform(-9, 9)];
  const dress = (samples, cents) => {
    const shaped = tilted(samples, corner, db);
    return { samples: shaped, gain: 1 / Math.max(1e-9, loudest(shaped)), cents };
  };
  const out = new Map();
  if (kind === 'additive') {
    const shape = shapeFor(family, random);
    for (let midi = low; midi <= high; midi += 6)
      for (const velocity of [55, 105]) {
        const hertz = 440 * 2 ** ((midi - 69) / 12);
        out.set(`${midi}/${velocity}`, dress(additive(hertz, velocity > 80, shape, random), 0));
      }
    return { name: 'additive', bank: out };
  }
  const name = kind === 'other' ? random.pick(near(family, low, high))[0] : instrument;
  const bank = kind === 'other' ? sparseBank(name) : bankOf(tuningSource, name);
  const shift = kind === 'shifted' ? random.pick([-6, -5, -4, 4, 5, 6]) : 0;
  for (let midi = low; midi <= high; midi += 1)
    for (const velocity of [55, 105]) {
      const found = nearest(bank, midi + shift, velocity > 80);
      // `midi` of the answer is the sample's true pitch; the key under which it is laid down says where it is used.
      out.set(`${midi}/${velocity}`, { found, cents: 100 * (found.midi - midi) });
    }
  // Filter only what is used.
  const ready = new Map();
  const lazy = {
    get: (key) => {
      if (!out.has(key)) return undefined;
      if (!ready.has(key)) ready.set(key, dress(out.get(key).found.samples, out.get(key).cents));
      return ready.get(key);
    },
  };
  return { name: shift === 0 ? name : `${name} shifted`, bank: lazy };
};

/** Bars that fill about `seconds`, as bench/hear/drills.mjs counts them. */
const barsFor = (metre, tempo, seconds) => {
  const [beats, type] = metre.split('/').map(Number);
  return Math.max(4, Math.round(seconds / (((type === 8 ? beats / 3 : beats) * 60) / tempo)));
};

/** Slurs and trills of a tuning item's music: drawn again from its own seed. */
const marksOf = ({ seed, score, times, voices, metre, tempo, trills, articulation }) => {
  if (score.kind !== 'lines') return undefined;
  const bars = barsFor(metre, tempo, times > 1 ? 18 / times : 17);
  const slurred = articulation.map((name) => name === 'legato');
  const how = { voices, metre, bars, texture: score.texture, tempo, slurred, trilled: trills };
  return randomScore(how, seeded(`${seed}/score`)).marks;
};

const make = ({ drill, item: from }) => {
  const marks = marksOf(from);
  const item = { ...from, name: from.name.replace('tuning', 'wide'), seed: `${wideSeed}/${from.name}` };
  const random = seeded(`${item.seed}/sound`);
  const at = path.join(folder('training'), item.name);
  if (existsSync(path.join(at, 'truth.json'))) return 'there';
  const making = `${at}.${process.pid}-${threadId}`;
  rmSync(making, { recursive: true, force: true });
  mkdirSync(path.join(making, 'takes'), { recursive: true });
  cpSync(drill, path.join(making, 'drill'), { recursive: true });
  const timeline = readTimeline(drill);
  const voices = [];
  const played = playItem(
    item,
    timeline,
    (_, instrument) => {
      const voice = voiceOf(instrument, random.fork(`voice ${voices.length}`));
      voices.push(voice.name);
      return voice.bank;
    },
    marks,
  );
  const click = readWav(path.join(drill, 'click.wav'));
  const recordings = recordItem(item, played, click.samples);
  const truth = truthOf(item, played, recordings, timeline.clicks);
  recordings.forEach((recording, m) =>
    writeWav(path.join(making, 'takes', truth.clock[m].file), recording.samples, item.rate, item.bits),
  );
  writeFileSync(path.join(making, 'truth.json'), JSON.stringify({ ...truth, voices }));
  renameSync(making, at);
  return voices.join(', ');
};

/** The tuning half's items where they lie, without those of one microphone. */
const tuningItems = () => {
  const items = folder('items');
  return readdirSync(items)
    .filter((name) => /^tuning-\d+-[0-9a-f]+$/.test(name) && existsSync(path.join(items, name, 'truth.json')))
    .sort()
    .map((name) => ({
      drill: path.join(items, name, 'drill'),
      item: JSON.parse(readFileSync(path.join(items, name, 'truth.json'), 'utf8')).condition,
    }))
    .filter(({ item }) => item.mics !== 'one');
};

if (isMainThread && process.argv[1]?.endsWith('widen.mjs')) {
  const { values } = parseArgs({
    options: { jobs: { type: 'string', default: '2' }, items: { type: 'string', default: '99' } },
  });
  const items = tuningItems().slice(0, Number(values.items));
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
    console.log(`${item.item.name}: ${said}`);
  }
  parentPort?.close();
}
