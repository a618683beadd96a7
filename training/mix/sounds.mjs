/**
 * A small bank of single notes that can be carried to another machine: instruments of the bench's tuning font and of the fonts that fits
 * are chosen by, every fourth key, 1.7 s each, at 22,050 Hz:
 *
 *     node training/mix/sounds.mjs OUT
 *
 * writes OUT.i16 and OUT.json. No sound of the bench's report half is in it.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { instruments } from '../../bench/hear/instruments.mjs';
import { midiBytes } from '../../bench/hear/midi.mjs';
import { pitchOf } from '../../bench/hear/pitch.mjs';
import { readWav } from '../../bench/hear/wav.mjs';
import { checkFonts } from '../onsets/voices.mjs';

const rate = 22_050;
const held = 1.7;
const apart = 4;
const played = Object.keys(instruments).slice(0, 7);

const fonts = { fluid: '/usr/share/sounds/sf2/FluidR3_GM.sf2', ...checkFonts };

const render = (font, program, notes) => {
  const at = mkdtempSync(path.join(os.tmpdir(), 'levare-mix-'));
  try {
    const [midi, wav] = [path.join(at, 'notes.mid'), path.join(at, 'notes.wav')];
    writeFileSync(midi, midiBytes(program, notes));
    const plain = ['-n', '-i', '-q', '-R', '0', '-C', '0', '-g', '0.6', '-r', `${rate}`];
    execFileSync('fluidsynth', [...plain, '-T', 'wav', '-O', 'float', '-F', wav, font, midi], {
      stdio: ['ignore', 'ignore', 'pipe'],
    });
    return readWav(wav).samples;
  } finally {
    rmSync(at, { recursive: true, force: true });
  }
};

const loudestOf = (samples) => samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);

const list = [];
const chunks = [];
let at = 0;
const keep = (font, name, both) => {
  const { program, low, high } = instruments[name];
  const notes = [];
  for (let midi = low + 1; midi <= high; midi += apart)
    for (const velocity of both ? [55, 105] : [((midi - low - 1) / apart) % 2 === 0 ? 55 : 105]) {
      const on = 200 + notes.length * 2500;
      notes.push({ midi, velocity, on, off: on + held * 1000 });
    }
  const sound = render(fonts[font], program, notes);
  for (const { midi, velocity, on } of notes) {
    const from = Math.round((on * rate) / 1000);
    const samples = sound.slice(from, from + Math.round(held * rate));
    const loudest = loudestOf(samples);
    const measured = loudest < 1e-4 ? null : pitchOf(samples, rate, midi);
    if (measured === null) continue;
    list.push({ font, name, midi, velocity, cents: measured.cents, at, count: samples.length });
    chunks.push(Int16Array.from(samples, (x) => Math.round((30_000 * x) / loudest)));
    at += samples.length;
  }
  console.log(font, name, list.length);
};
for (const name of Object.keys(instruments)) keep('fluid', name, played.includes(name));
for (const font of Object.keys(checkFonts)) for (const name of played) keep(font, name, true);
const all = new Int16Array(at);
let to = 0;
for (const chunk of chunks) {
  all.set(chunk, to);
  to += chunk.length;
}
writeFileSync(`${process.argv[2]}.i16`, new Uint8Array(all.buffer));
writeFileSync(`${process.argv[2]}.json`, JSON.stringify(list));
