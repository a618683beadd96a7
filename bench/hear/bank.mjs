/**
 * Single notes of one instrument of one source: every semitone at two strengths, rendered once and kept. A note lasts
 * `held` seconds and is then let go; what is played longer goes round in its steady part.
 */
import { existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { threadId } from 'node:worker_threads';
import { digest, digestOf, folder } from './cache.mjs';
import { instruments } from './instruments.mjs';
import { pitchOf } from './pitch.mjs';
import { sources } from './sources.mjs';

export const bankRate = 44_100;
export const held = 3;
const spacing = 4;
export const velocities = [55, 105];

const loaded = new Map();

/** Whole or not at all: others may be reading. */
const put = (file, content) => {
  const making = `${file}.${process.pid}-${threadId}`;
  writeFileSync(making, content);
  renameSync(making, file);
};

/** Notes by "midi/velocity", each with its greatest level over 50 ms brought to 1 (RMS), attack as the source gives it. */
export const bankOf = (sourceName, instrumentName) => {
  const key = `${sourceName}-${instrumentName}`;
  const known = loaded.get(key);
  if (known !== undefined) return known;
  const instrument = instruments[instrumentName];
  const source = sources[sourceName];
  const notes = [];
  for (let midi = instrument.low - 2; midi <= instrument.high + 2; midi += 1)
    for (const velocity of velocities) {
      const on = 200 + notes.length * spacing * 1000;
      notes.push({ midi, velocity, on, off: on + held * 1000 });
    }
  const file = path.join(
    folder('bank'),
    `${key}-${digest(source.version(), JSON.stringify([instrument, notes, bankRate]))}.f32`,
  );
  if (!existsSync(file)) {
    const sound = source.render(instrumentName, notes, bankRate);
    put(file, new Uint8Array(sound.buffer, sound.byteOffset, sound.byteLength));
  }
  const bytes = readFileSync(file);
  const all = new Float32Array(bytes.buffer, bytes.byteOffset, Math.floor(bytes.length / 4));
  const bank = new Map();
  // Measuring the pitches takes longer than making the sound, so they are kept too.
  const indexFile = `${file.slice(0, -4)}-${digestOf(['pitch.mjs'])}.json`;
  const index = existsSync(indexFile) ? JSON.parse(readFileSync(indexFile, 'utf8')) : {};
  const measured = Object.keys(index).length;
  for (const note of notes) {
    const from = Math.round((note.on * bankRate) / 1000);
    const cut = all.subarray(from, from + Math.round(held * bankRate));
    const level = loudest(cut);
    if (level < 1e-5) continue;
    const name = `${note.midi}/${note.velocity}`;
    if (index[name] === undefined) index[name] = pitchOf(cut, bankRate, note.midi);
    if (index[name] !== null) bank.set(name, { samples: cut, gain: 1 / level, cents: index[name].cents });
  }
  if (Object.keys(index).length > measured) put(indexFile, JSON.stringify(index));
  loaded.set(key, bank);
  return bank;
};

/** Greatest RMS over 50 ms. */
const loudest = (samples) => {
  const window = Math.round(bankRate * 0.05);
  let most = 0;
  for (let from = 0; from + window <= samples.length; from += window) {
    let sum = 0;
    for (let n = from; n < from + window; n += 1) sum += samples[n] ** 2;
    most = Math.max(most, sum / window);
  }
  return Math.sqrt(most);
};

/** The nearest note that the bank has, and the pitch it really has (a MIDI number with its fraction). */
export const nearest = (bank, midi, strong) => {
  const velocity = velocities[strong ? 1 : 0];
  for (let away = 0; away < 30; away += 1)
    for (const side of [-1, 1]) {
      const found = bank.get(`${Math.round(midi) + side * away}/${velocity}`);
      if (found !== undefined) return { ...found, midi: Math.round(midi) + side * away + found.cents / 100 };
    }
  throw new Error(`No sound near MIDI note ${midi}.`);
};
