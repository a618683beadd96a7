/** `levare plan`: a rehearsal, and the journal behind it. */
import {
  editableJournal,
  openPiece,
  parsePlan,
  planFiles,
  planLines,
  planPlaces,
  planRehearsal,
  presentParts,
  printedPlan,
  tellingLanguage,
  type PrintedPlan,
  type Records,
  type TellingLanguage,
} from '../desk/index.ts';
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import { takeApart, type Typed } from './arguments.ts';
import type { Io } from './io.ts';
import { journalWork, readJournalAt } from './planJournal.ts';
import { problemLines, tame, wrapped } from './words.ts';

const syntax = {
  command: 'plan',
  texts: [
    'minutes',
    'days',
    'present',
    'bars',
    'parts',
    'kind',
    'journal',
    'out',
    'from',
    'language',
    'add',
    'drill',
    'day',
    'decided',
    'merge',
    'give',
    'forget',
  ],
  flags: ['json', 'growth'],
  repeatable: ['present', 'parts', 'kind'],
} as const;

const whole = (text: string, what: string, least: number, most: number): Result<number> => {
  const value = /^\d{1,6}$/.test(text) ? Number(text) : null;
  return value !== null && value >= least && value <= most
    ? ok(value)
    : fail('number-unknown', `--${what} is ${text}; it can be a whole number from ${least} to ${most}.`);
};

const made = async (
  typed: Typed,
  bytes: Uint8Array,
  records: Records,
  io: Io,
): Promise<Result<PrintedPlan>> => {
  const { texts } = typed;
  if (texts['from'] !== undefined) {
    const folder = texts['from'];
    const file = (await io.reader.isFolder(folder)) ? io.reader.inside(folder, 'plan.json') : folder;
    const read = await io.reader.read(file);
    return read.ok ? parsePlan(editableJournal.json(read.value)) : read;
  }
  const minutes = whole(texts['minutes'] ?? '', 'minutes', 5, 1440);
  if (!minutes.ok) return minutes;
  const days = texts['days'] === undefined ? null : whole(texts['days'], 'days', 0, 9999);
  if (days?.ok === false) return days;
  const places = planPlaces(
    bytes,
    { bars: texts['bars'] ?? null, parts: texts['parts'] ?? null, kind: texts['kind'] ?? null },
    records,
  );
  if (!places.ok) return places;
  const present = texts['present'] === undefined ? null : presentParts(bytes, records, texts['present']);
  if (present?.ok === false) return present;
  const plan = planRehearsal(places.value.places, {
    minutes: minutes.value,
    present: present?.value ?? null,
    days: days?.value ?? null,
  });
  return ok(printedPlan(places.value.title, minutes.value, plan, places.value.words), places.problems);
};

const text = (plan: PrintedPlan, language: TellingLanguage): string =>
  planLines(plan, language)
    .map((line) =>
      line.kind === 'row' ? `${line.lead.padStart(5)}  ${wrapped(line.text, 7)}` : wrapped(line.text, 0),
    )
    .map((line) => `${line.split('\n').map(tame).join('\n')}\n`)
    .join('');

/** The error, or null when all is told. */
export const plan = async (args: readonly string[], io: Io): Promise<Problem | null> => {
  const typed = takeApart(args, syntax);
  if (!typed.ok) return typed.error;
  const { words, texts, flags } = typed.value;
  const [path] = words;
  if (path === undefined)
    return problem('error', 'score-missing', 'Name a score: levare plan quartet.mxl --minutes 60');
  if (words.length > 1)
    return problem(
      'error',
      'too-many-words',
      `One score at a time, please: ${words.join(' and ')} are given.`,
    );
  const language = tellingLanguage(texts['language'] ?? 'en');
  if (!language.ok) return language.error;
  const opened = await openPiece(path, io.reader);
  if (!opened.ok) return opened.error;
  const records =
    texts['journal'] === undefined ? ok(editableJournal.empty) : await readJournalAt(texts['journal'], io);
  if (!records.ok) return records.error;
  for (const line of problemLines(records.problems)) io.stderr.write(`${tame(line)}\n`);
  const { bytes } = opened.value;
  const worked = await journalWork(
    { typed: typed.value, bytes, records: records.value, language: language.value },
    io,
  );
  if (worked !== 'none') return worked;
  if (texts['minutes'] === undefined && texts['from'] === undefined)
    return problem('error', 'minutes-missing', 'Say how much time there is: --minutes 60.');
  const found = await made(typed.value, bytes, records.value, io);
  if (!found.ok) return found.error;
  if (texts['out'] !== undefined) {
    const files = await planFiles(found.value, io.sheets, language.value);
    if (!files.ok) return files.error;
    const written = await io.writer.writeFolder(texts['out'], files.value);
    if (!written.ok) return written.error;
  }
  io.stdout.write(
    flags.has('json') ? `${JSON.stringify(found.value, null, 2)}\n` : text(found.value, language.value),
  );
  return null;
};
