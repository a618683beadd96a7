/** The journal on the command line: takes put in, growth, merging, what belongs to a player. */
import {
  addTake,
  editableJournal,
  forgetPlayer,
  keyed,
  growthIn,
  mergeShelves,
  openPiece,
  parseReading,
  playerData,
  type Records,
  type TellingLanguage,
} from '../desk/index.ts';
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import type { Typed } from './arguments.ts';
import type { Io } from './io.ts';
import { tame } from './words.ts';

/** The journal in a folder (journal.json), or in a file; empty where the folder has none yet. */
export const readJournalAt = async (path: string, io: Io): Promise<Result<Records>> => {
  const folder = await io.reader.isFolder(path);
  const read = await io.reader.read(folder ? io.reader.inside(path, 'journal.json') : path);
  if (!read.ok) return read.error.code === 'file-missing' ? ok(editableJournal.empty) : read;
  return editableJournal.read(read.value);
};

interface Work {
  readonly typed: Typed;
  readonly bytes: Uint8Array;
  readonly records: Records;
  readonly language: TellingLanguage;
}

const keep = async (path: string, records: Records, io: Io): Promise<Problem | null> => {
  const bytes = new TextEncoder().encode(editableJournal.text(records));
  const written = await io.writer.writeFolder(path, [
    { name: 'journal.json', chunks: [bytes], size: bytes.length },
  ]);
  return written.ok ? null : written.error;
};

const add = async (
  { typed, bytes, records, language }: Work,
  reading: string,
  folder: string,
  io: Io,
): Promise<Result<Records>> => {
  const { texts } = typed;
  const opened = texts['drill'] === undefined ? null : await openPiece(texts['drill'], io.reader);
  if (opened?.ok !== true || opened.value.drill === null)
    return fail('drill-missing', 'Say what was played: --drill and the folder of the drill.');
  const day = texts['day'] ?? '';
  if (!/^\d{4}-\d{2}-\d{2}$/.test(day)) return fail('day-unknown', 'Say on which day: --day 2026-11-28.');
  const file = (await io.reader.isFolder(reading)) ? io.reader.inside(reading, 'reading.json') : reading;
  const read = await io.reader.read(file);
  if (!read.ok) return read;
  const parsed = parseReading(editableJournal.json(read.value));
  if (!parsed.ok) return parsed;
  const added = addTake(
    records,
    bytes,
    { drill: opened.value.drill, reading: parsed.value, day, decided: texts['decided'] ?? '' },
    language,
  );
  if (!added.ok) return added;
  const wrong = await keep(folder, added.value.records, io);
  if (wrong !== null) return { ok: false, error: wrong };
  io.stdout.write(`${tame(added.value.told)}\n`);
  return ok(added.value.records);
};

/** What is asked of the journal; "none" where a plan is asked for. */
export const journalWork = async (work: Work, io: Io): Promise<Problem | null | 'none'> => {
  const { typed, bytes, records, language } = work;
  const { texts, flags } = typed;
  const folder = texts['journal'];
  const asked = ['add', 'merge', 'give', 'forget'].filter((name) => texts[name] !== undefined);
  if (asked.length === 0 && !flags.has('growth')) return 'none';
  if (folder === undefined)
    return problem('error', 'journal-missing', 'Say which journal: --journal and the name of a folder.');
  if (texts['add'] !== undefined) {
    const added = await add(work, texts['add'], folder, io);
    return added.ok ? null : added.error;
  }
  if (texts['merge'] !== undefined) {
    const other = await readJournalAt(texts['merge'], io);
    if (!other.ok) return other.error;
    return keep(folder, mergeShelves(records, other.value), io);
  }
  if (texts['give'] !== undefined) {
    io.stdout.write(`${JSON.stringify(playerData(records, texts['give']), null, 2)}\n`);
    return null;
  }
  if (texts['forget'] !== undefined) {
    const left = forgetPlayer(records, texts['forget'], 'command-line');
    return keep(folder, mergeShelves(records, keyed(left)), io);
  }
  const lines = growthIn(records, bytes, language);
  if (!lines.ok) return lines.error;
  for (const line of lines.value) io.stdout.write(`${tame(line)}\n`);
  return null;
};
