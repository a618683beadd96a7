/**
 * Real recordings with annotated onsets, in the same table. DIR holds one folder a recording: `drill/`, `takes/` (one
 * file per part, named by its id, or mix.wav) and `onsets.csv` with a head line: `part,id,onset` and, if known,
 * `offset` and `state`; seconds of that part's file. Where `id` is left blank a part's rows are its expected notes in order.
 * `clock.json` (as in levare.truth/1) says how the files lie on the drill's time where that is known; else they are taken to
 * be on one clock, and one constant is taken out.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';

/** Rows as objects; no quotation marks, for there are only ids and numbers. */
export const parseCsv = (text) => {
  const [head, ...lines] = text
    .replace(/^\uFEFF/, '')
    .split(/\r?\n/)
    .filter((line) => line.trim() !== '')
    .map((line) => line.split(',').map((cell) => cell.trim()));
  return lines.map((cells) => Object.fromEntries(head.map((name, k) => [name, cells[k] ?? ''])));
};

/** levare.truth/1 of one recording, as far as annotations know it. */
export const truthFromOnsets = (name, timeline, files, rows, clock) => {
  const partIds = [...new Set(timeline.notes.map((note) => note.part))];
  const given =
    clock ??
    files.map((file) => ({
      file,
      part: file.startsWith('mix.') ? null : file.replace(/\.[^.]*$/, ''),
      offset: 0,
      ppm: 0,
    }));
  const notes = [];
  for (const part of partIds) {
    const expected = timeline.notes.filter((note) => note.part === part && note.kept !== false);
    const own = rows.filter((row) => row.part === part);
    const blank = own.every((row) => (row.id ?? '') === '');
    if (blank && own.length > 0 && own.length !== expected.length)
      throw new Error(
        `${name}: ${own.length} onsets of ${part} without ids, but the drill has ${expected.length} notes: give the ids.`,
      );
    const { offset, ppm } = given.find((one) => one.part === part) ?? given[0];
    own.forEach((row, k) => {
      const note = blank ? expected[k] : expected.find((one) => one.id === row.id);
      const state = (row.state ?? '') === '' ? 'played' : row.state;
      if (note === undefined && state !== 'added')
        throw new Error(`${name}: the drill has no note "${row.id}" in ${part}.`);
      const file = Number(row.onset);
      if (row.onset === '' || !Number.isFinite(file))
        throw new Error(`${name}: "${row.onset}" is no onset in seconds.`);
      const both = { file, drill: (file - offset) / (1 + ppm * 1e-6) };
      const head = { id: note?.id ?? row.id, part, rep: note?.rep ?? 1, written: note?.time ?? null, state };
      notes.push({ ...head, time: both, perceived: both });
    });
  }
  return {
    format: 'levare.truth/1',
    item: name,
    row: 'real recordings',
    parts: partIds.map((id) => ({ id })),
    clicksHeard: clock !== null,
    clock: given,
    notes,
    stop: null,
    condition: { free: clock === null },
  };
};

/** Tasks for the bench's workers. */
export const realTasks = (dir, methods) =>
  readdirSync(dir, { withFileTypes: true })
    .filter((entry) => entry.isDirectory() && existsSync(path.join(dir, entry.name, 'onsets.csv')))
    .map(({ name }) => {
      const at = path.join(dir, name);
      const read = (file) => readFileSync(path.join(at, file), 'utf8');
      const clock = existsSync(path.join(at, 'clock.json')) ? JSON.parse(read('clock.json')) : null;
      const files = readdirSync(path.join(at, 'takes')).sort();
      const timeline = JSON.parse(read('drill/timeline.json'));
      const truth = truthFromOnsets(name, timeline, files, parseCsv(read('onsets.csv')), clock);
      return { item: { name, row: 'real recordings' }, at, truth, methods };
    });
