/** The ear itself, where it is built: what `levare hear A.wav B.wav --drill DIR --json` prints (levare.reading/4). */
import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import path from 'node:path';
import { root } from './cache.mjs';

/** The program that is tried: the project's own, or one built elsewhere (`--program`). */
const program = process.env['LEVARE_HEAR_PROGRAM'] ?? path.join(root, 'bin', 'levare.js');
const facade = path.join(path.dirname(program), '..', 'dist', 'desk', 'hear.js');
export const ear = existsSync(facade) ? program : null;

const print = (args) =>
  new Promise((resolve) => {
    execFile(process.execPath, [program, ...args], { maxBuffer: 1 << 28 }, (error, stdout, stderr) =>
      resolve({ code: error === null ? 0 : (error.code ?? 1), stdout, stderr }),
    );
  });

/** The ear's reading of an item in the bench's own terms. `refused`: the ear gave no reading, and its words. */
export const hearItem = async (at, truth, more = []) => {
  const files = truth.clock.map(({ file, part }) => {
    const where = path.join(at, 'takes', file);
    return part === null ? where : `${part}=${where}`;
  });
  const started = process.hrtime.bigint();
  const { stdout, stderr } = await print([
    'hear',
    ...files,
    '--drill',
    path.join(at, 'drill'),
    '--json',
    ...more,
  ]);
  const seconds = Number(process.hrtime.bigint() - started) / 1e9;
  let reading = null;
  try {
    reading = JSON.parse(stdout);
  } catch {
    return { refused: stderr.trim().slice(0, 300) };
  }
  if (!/^levare\.reading\/[1-4]$/.test(reading.format))
    return { refused: `no levare.reading/4 but ${reading.format}: ${stderr.trim().slice(0, 200)}` };
  return { ...fromReading(reading), whole: reading, seconds };
};

/** From levare.reading/4 to {notes, perceived, surely, clock}; `surely` has the notes of `perceived` without a time of those that are rough. */
export const fromReading = (reading) => {
  const notes = reading.notes.map((note) => ({
    id: note.id,
    part: note.part,
    onset: note.onset ?? undefined,
    state: note.state,
    ...uncertainty(note.uncertainty),
  }));
  const perceived = reading.notes.map((note, k) => ({
    ...notes[k],
    onset: note.perceived ?? undefined,
    ...uncertainty(note.perceivedUncertainty ?? note.uncertainty),
  }));
  const surely = perceived.map((note) => (note.state === 'rough' ? { ...note, state: 'unsure' } : note));
  return {
    notes,
    ...(perceived.some((note) => note.onset !== undefined)
      ? { perceived: { notes: perceived }, surely: { notes: surely } }
      : {}),
    clock: reading.clock,
  };
};

/** A number is one SD in seconds. */
const uncertainty = (given) => {
  if (typeof given === 'number') return { sd: given };
  if (given === null || given === undefined) return {};
  const out = {};
  if (typeof given.sd === 'number') out.sd = given.sd;
  if (Array.isArray(given.within68)) out.within68 = given.within68;
  if (Array.isArray(given.within95)) out.within95 = given.within95;
  return out;
};
