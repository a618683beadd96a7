/**
 * What a player of a mixture sounds like, from the bank that sounds.mjs made. For fitting: an instrument of the tuning half's font, another one in
 * its place, samples moved by some semitones, made tones (training/onsets/tones.mjs), mostly filtered. For choosing: other makers' fonts.
 */
import { readFileSync } from 'node:fs';
import { bankRate, held, nearest } from '../../bench/hear/bank.mjs';
import { instruments } from '../../bench/hear/instruments.mjs';
// Also makes the font's other instruments known.
import '../onsets/voices.mjs';
import { shapeFor, tone, toneKinds } from '../onsets/tones.mjs';

/** Doubles the rate: a half-band windowed sinc. */
const doubled = (samples) => {
  const taps = Array.from({ length: 16 }, (_, k) => {
    const x = k + 0.5;
    return (Math.sin(Math.PI * x) / (Math.PI * x)) * (0.5 + 0.5 * Math.cos((Math.PI * x) / 16));
  });
  const out = new Float32Array(2 * samples.length);
  for (let n = 0; n < samples.length; n += 1) {
    out[2 * n] = samples[n];
    let sum = 0;
    for (let k = 0; k < 16; k += 1) sum += taps[k] * ((samples[n - k] ?? 0) + (samples[n + 1 + k] ?? 0));
    out[2 * n + 1] = sum;
  }
  return out;
};

/** Goes round in the steady part until it is `held` seconds long. */
const lengthened = (samples) => {
  const out = new Float32Array(Math.round(held * bankRate));
  const [from, to, blend] = [0.7, 1.6, 0.2].map((x) => Math.round(x * bankRate));
  const span = to - blend - from;
  for (let n = 0; n < out.length; n += 1) {
    if (n < to - blend) {
      out[n] = samples[n] ?? 0;
      continue;
    }
    const over = (n - from) % span;
    const w = Math.min(1, over / blend);
    out[n] =
      over < blend
        ? Math.sqrt(1 - w) * (samples[from + span + over] ?? 0) + Math.sqrt(w) * (samples[from + over] ?? 0)
        : (samples[from + over] ?? 0);
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

/** A bank whose notes are made ready when they are first asked for. */
const lazily = (notes, ready) => {
  const made = new Map();
  return {
    get: (key) => {
      if (!notes.has(key)) return undefined;
      if (!made.has(key)) made.set(key, ready(notes.get(key)));
      return made.get(key);
    },
  };
};

export const soundsFrom = (file) => {
  const bytes = readFileSync(`${file}.i16`);
  const all = new Int16Array(bytes.buffer, bytes.byteOffset, bytes.length / 2);
  const banks = new Map();
  for (const note of JSON.parse(readFileSync(`${file}.json`, 'utf8'))) {
    const key = `${note.font}/${note.name}`;
    if (!banks.has(key)) banks.set(key, new Map());
    banks.get(key).set(`${note.midi}/${note.velocity}`, note);
  }
  // A key that was recorded at one strength serves for both.
  for (const bank of banks.values())
    for (const [key, note] of [...bank])
      for (const velocity of [55, 105]) {
        const other = key.replace(/\d+$/, velocity);
        if (!bank.has(other)) bank.set(other, note);
      }
  const bankOf = (font, name) =>
    lazily(banks.get(`${font}/${name}`), ({ at, count, cents }) => {
      const samples = lengthened(doubled(Float32Array.from(all.subarray(at, at + count), (x) => x / 32_768)));
      return { samples, gain: 1 / Math.max(1e-9, loudest(samples)), cents };
    });
  const others = [...banks.keys()].filter((key) => key.startsWith('fluid/')).map((key) => key.slice(6));
  const plain = ['recorder', 'flute', 'oboe', 'clarinet', 'violin', 'viola', 'cello'];
  const near = ({ family, low, high }) =>
    others.filter(
      (name) =>
        !plain.includes(name) &&
        instruments[name].family === family &&
        instruments[name].high >= high - 15 &&
        instruments[name].low <= low + 15,
    );

  /** A voice for fitting: its name, and notes by "midi/velocity" as in bench/hear/bank.mjs. */
  const voiceOf = (instrument, random) => {
    const own = instruments[instrument];
    const { family, low, high } = own;
    const kind = random.pick([
      'plain',
      'other',
      'other',
      'other',
      'shifted',
      'shifted',
      'made',
      'made',
      'made',
    ]);
    const [corner, db] = [random.uniform(500, 3000), kind === 'plain' ? 0 : random.uniform(-9, 9)];
    const dress = (samples, cents) => {
      const shaped = db === 0 ? samples : tilted(samples, corner, db);
      return { samples: shaped, gain: 1 / Math.max(1e-9, loudest(shaped)), cents };
    };
    const keys = new Map();
    for (let midi = low; midi <= high; midi += kind === 'made' ? 6 : 1)
      for (const velocity of [55, 105]) keys.set(`${midi}/${velocity}`, { midi, strong: velocity > 80 });
    if (kind === 'made') {
      const made = random.pick(toneKinds);
      const shape = shapeFor(made, family, random);
      const dice = random.fork('tones');
      return {
        name: made,
        bank: lazily(keys, ({ midi, strong }) =>
          dress(tone(made, 440 * 2 ** ((midi - 69) / 12), strong, shape, dice.fork(`${midi} ${strong}`)), 0),
        ),
      };
    }
    const name = kind === 'other' ? random.pick(near(own)) : instrument;
    const shift = kind === 'shifted' ? random.pick([-6, -5, -4, 4, 5, 6]) : 0;
    const bank = bankOf('fluid', name);
    return {
      name: shift === 0 ? name : `${name} shifted`,
      bank: lazily(keys, ({ midi, strong }) => {
        const found = nearest(bank, midi + shift, strong);
        // `midi` of the answer is the sample's true pitch; the key under which it is laid down says where it is used.
        return dress(found.samples, 100 * (found.midi - midi));
      }),
    };
  };

  /** A voice for choosing: the player's own instrument from another maker's font, unfiltered. */
  const checkVoiceOf = (instrument, random) => {
    const font = random.pick(['second font', 'second font', 'third font']);
    return { name: `${font}, ${instrument}`, bank: bankOf(font, instrument) };
  };
  return { voiceOf, checkVoiceOf };
};
