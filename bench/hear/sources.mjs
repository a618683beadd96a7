/**
 * Where the sound comes from: three sources by different makers. `fluid` is for tuning; the others sound only in the
 * report half. None is shipped: each is a Debian package, used as it is installed.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { instruments } from './instruments.mjs';
import { midiBytes } from './midi.mjs';
import { readWav } from './wav.mjs';

const inTemporary = (work) => {
  const at = mkdtempSync(path.join(os.tmpdir(), 'levare-hear-'));
  try {
    return work(at);
  } finally {
    rmSync(at, { recursive: true, force: true });
  }
};

/** A General MIDI sound font through FluidSynth, without its reverb and chorus. */
const soundFont = (file, needs, licence) => ({
  kind: 'sampled instruments',
  licence,
  needs,
  present: () => existsSync(file) && existsSync('/usr/bin/fluidsynth'),
  version: () => `${file} ${statSync(file).size}`,
  render: (instrument, notes, rate) =>
    inTemporary((at) => {
      const midi = path.join(at, 'notes.mid');
      const wav = path.join(at, 'notes.wav');
      writeFileSync(midi, midiBytes(instruments[instrument].program, notes));
      execFileSync(
        '/usr/bin/fluidsynth',
        ['-n', '-i', '-q', '-R', '0', '-C', '0', '-g', '0.6', '-r', `${rate}`]
          .concat(['-T', 'wav', '-O', 'float', '-F', wav])
          .concat([file, midi]),
        { stdio: ['ignore', 'ignore', 'pipe'] },
      );
      const read = readWav(wav);
      if (read.rate !== rate)
        throw new Error(`FluidSynth wrote ${read.rate} Hz where ${rate} was asked for.`);
      return read.samples;
    }),
});

const program = fileURLToPath(new URL('./models.cpp', import.meta.url));

/** Physical models (wave guides with reeds, jets and bows): no recorded sound in them. */
const models = {
  kind: 'physical models',
  licence: 'Synthesis ToolKit, permissive',
  needs: 'apt-get install g++ libstk-dev',
  present: () => existsSync('/usr/include/stk/Bowed.h') && existsSync('/usr/bin/g++'),
  version: () => readFileSync(program, 'utf8'),
  render: (instrument, notes, rate) =>
    inTemporary((at) => {
      const built = path.join(at, 'models');
      execFileSync('/usr/bin/g++', ['-O2', '-o', built, program, '-lstk', '-lpthread', '-lm']);
      const spacing = (notes[1].on - notes[0].on) / 1000;
      const lines = notes.map(
        ({ midi, velocity }) => `${440 * 2 ** ((midi - 69) / 12)} ${0.3 + (0.5 * velocity) / 100}`,
      );
      const head = `${instrument} ${rate} ${(notes[0].off - notes[0].on) / 1000} ${spacing} ${notes[0].on / 1000}`;
      const out = execFileSync(built, { input: [head, ...lines].join('\n'), maxBuffer: 1 << 30 });
      return new Float32Array(out.buffer.slice(out.byteOffset, out.byteOffset + out.length));
    }),
};

export const sources = {
  fluid: soundFont(
    '/usr/share/sounds/sf2/FluidR3_GM.sf2',
    'apt-get install fluidsynth fluid-soundfont-gm',
    'MIT',
  ),
  gmbank: soundFont(
    '/usr/share/sounds/sf2/sf_GMbank.sf2',
    'apt-get install fluidsynth csound-soundfont',
    'public domain',
  ),
  models,
};
export const tuningSource = 'fluid';
export const reportSources = ['gmbank', 'models'];
