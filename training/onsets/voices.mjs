/** What a player of a further take sounds like: other instruments of the tuning half's sound font, moved samples, made tones; and other fonts. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { bankOf, bankRate, held, nearest, velocities } from '../../bench/hear/bank.mjs';
import { instruments } from '../../bench/hear/instruments.mjs';
import { midiBytes } from '../../bench/hear/midi.mjs';
import { pitchOf } from '../../bench/hear/pitch.mjs';
import { sources, tuningSource } from '../../bench/hear/sources.mjs';
import { readWav } from '../../bench/hear/wav.mjs';
import { shapeFor, tone, toneKinds } from './tones.mjs';

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
    ['muted trumpet', 59, 54, 84],
    ['trombone', 57, 40, 72],
    ['whistle', 78, 60, 96],
    ['shakuhachi', 77, 55, 84],
    ['accordion', 21, 50, 90],
    ['church organ', 19, 40, 96],
  ],
  string: [
    ['contrabass', 43, 28, 60],
    ['fiddle', 110, 55, 90],
    ['string section', 48, 36, 90],
    ['slow strings', 49, 36, 90],
    ['synth strings', 50, 36, 90],
    ['bowed glass', 92, 48, 90],
  ],
};
for (const [family, list] of Object.entries(others))
  for (const [name, program, low, high] of list) instruments[name] = { program, low, high, family, db: 0 };

/** Fonts of other makers, for checks only: nothing is ever fitted to them. */
export const checkFonts = {
  'second font': '/usr/share/sounds/sf2/TimGM6mb.sf2',
  'third font': '/usr/share/sounds/sf2/OPL-3_FM_128M.sf2',
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

const renderFont = (font, instrument, notes) => {
  const at = mkdtempSync(path.join(os.tmpdir(), 'levare-onsets-'));
  try {
    const [midi, wav] = [path.join(at, 'notes.mid'), path.join(at, 'notes.wav')];
    writeFileSync(midi, midiBytes(instruments[instrument].program, notes));
    const plain = ['-n', '-i', '-q', '-R', '0', '-C', '0', '-g', '0.6', '-r', `${bankRate}`];
    execFileSync('fluidsynth', [...plain, '-T', 'wav', '-O', 'float', '-F', wav, font, midi], {
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    return readWav(wav).samples;
  } finally {
    rmSync(at, { recursive: true, force: true });
  }
};

/** Every third key: enough for notes that are laid down at any pitch. */
const apart = 3;
const spacing = 4;
const known = new Map();
const sparseBank = (name, font) => {
  const key = `${name}/${font ?? ''}`;
  if (known.has(key)) return known.get(key);
  const { low, high } = instruments[name];
  const notes = [];
  for (let midi = low; midi <= high; midi += apart)
    for (const velocity of velocities) {
      const on = 200 + notes.length * spacing * 1000;
      notes.push({ midi, velocity, on, off: on + held * 1000 });
    }
  const sound =
    font === undefined
      ? sources[tuningSource].render(name, notes, bankRate)
      : renderFont(checkFonts[font], name, notes);
  const bank = new Map();
  for (const { midi, velocity, on } of notes) {
    const from = Math.round((on * bankRate) / 1000);
    const samples = sound.slice(from, from + Math.round(held * bankRate));
    const level = loudest(samples);
    const measured = level < 1e-5 ? null : pitchOf(samples, bankRate, midi);
    if (measured !== null)
      bank.set(`${midi}/${velocity}`, { samples, gain: 1 / level, cents: measured.cents });
  }
  known.set(key, bank);
  return bank;
};

/** Those whose range is not too far from the player's: notes are moved by an octave and a bit at most. */
const near = (family, low, high) =>
  others[family].filter(([, , least, most]) => most >= high - 15 && least <= low + 15);

/** A voice for fitting: its name, and notes by "midi/velocity" as in bench/hear/bank.mjs. */
export const voiceOf = (instrument, random) => {
  const { family, low, high } = instruments[instrument];
  const kind = random.pick(['other', 'other', 'other', 'shifted', 'made', 'made', 'made']);
  const [corner, db] = [random.uniform(500, 3000), random.uniform(-9, 9)];
  const dress = (samples, cents) => {
    const shaped = tilted(samples, corner, db);
    return { samples: shaped, gain: 1 / Math.max(1e-9, loudest(shaped)), cents };
  };
  const out = new Map();
  if (kind === 'made') {
    const made = random.pick(toneKinds);
    const shape = shapeFor(made, family, random);
    for (let midi = low; midi <= high; midi += 6)
      for (const velocity of [55, 105]) {
        const hertz = 440 * 2 ** ((midi - 69) / 12);
        out.set(`${midi}/${velocity}`, dress(tone(made, hertz, velocity > 80, shape, random), 0));
      }
    return { name: made, bank: out };
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

/** A voice for checks: the player's own instrument from another maker's font, unfiltered. */
export const checkVoiceOf = (instrument, random) => {
  const font = random.pick(['second font', 'second font', 'third font']);
  if (!existsSync(checkFonts[font])) throw new Error(`${checkFonts[font]} is not there.`);
  return { name: `${font}, ${instrument}`, bank: sparseBank(instrument, font) };
};
