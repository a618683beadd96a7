/** All that a page shows of a reading: the music with its marks, where each can be heard, findings in words, charts and the table. */
import { workOut, type WorkedDrill } from '../drill/workOut.ts';
import { toRecording } from '../listen/model.ts';
import {
  makeReadingScreen,
  type Engraver,
  type MarkBars,
  type MarkNote,
  type ReadingMark,
  type ReadingMarks,
  type ReadingScreen,
} from '../sheet/index.ts';
import { ok, type Result } from '../units/index.ts';
import { mostFindings } from './findings/index.ts';
import { asInScore, type PieceSettings } from './fitScore.ts';
import type { HeardDrill } from './hear.ts';
import type { ReadForJournal } from './journal/takeRecord.ts';
import type { ScreenOptions } from './live.ts';
import { readPiece } from './readOnce.ts';
import type { Reading, ReadingNote } from './reading.ts';
import { paceMarks, seamMarks, wordMarks } from './readingBarMarks.ts';
import { readingCharts, type ReadingChart } from './readingCharts.ts';
import { readingRows, type ReadingRow } from './readingCsv.ts';
import { noteMarks } from './readingNoteMarks.ts';
import { calledBy, countedReading, readingWithout } from './readingWithout.ts';
import { findingWords, type TellingLanguage } from './words/index.ts';

/** A moment of a recording. */
export interface HeardMoment {
  readonly rep: number;
  /** Whose recording. */
  readonly part: string;
  /** Seconds from its beginning. */
  readonly at: number;
  /** Id of the note; null where it is a bar. */
  readonly note: string | null;
}

/** A mark with what it says and where it can be heard. */
export interface ShownMark {
  /** Of its element. */
  readonly id: string;
  readonly kind: ReadingMark['kind'];
  /** Part ids. */
  readonly parts: readonly string[];
  readonly title: string;
  readonly desc: string;
  /** Of another take, held beside this one. */
  readonly other: boolean;
  /** One for each time through. */
  readonly moments: readonly HeardMoment[];
}

/** A finding, by its number on the music. */
export interface ShownFinding {
  readonly mark: string;
  readonly number: string;
  readonly texts: readonly string[];
}

/** A line of the table; `beside`: the same figure of another take. */
export interface ShownRow extends ReadingRow {
  readonly beside?: number | null;
}

export interface ShownReading {
  readonly screen: Omit<ReadingScreen, 'drawn' | 'left'>;
  readonly marks: readonly ShownMark[];
  /** How many marks found no room. */
  readonly left: number;
  readonly findings: readonly ShownFinding[];
  /** Sentences around the findings: which bars, how many notes were heard; that nothing can be told; that players decide. */
  readonly said: readonly string[];
  readonly closing: string;
  readonly charts: readonly ReadingChart[];
  readonly rows: readonly ShownRow[];
  /** For the journal: without what the players took out. */
  readonly counted: ReadForJournal;
}

/** A take that is held beside another, with what its own players took out, and where it was left. */
export interface OtherTake extends Pick<ShownOptions, 'out' | 'until'> {
  readonly name: string;
  readonly reading: Reading;
  readonly drill: HeardDrill['drill'];
  readonly settings: PieceSettings;
}

export interface ShownOptions {
  readonly language: TellingLanguage;
  readonly screen: ScreenOptions;
  /** Ids of notes that the players took out. */
  readonly out: readonly string[];
  /** Seconds on the drill's timeline at which playing was stopped; null: it was not. */
  readonly until: number | null;
  /** What parts are called, by id; else by their names in the score. */
  readonly names: Readonly<Record<string, string>>;
  /** Another take of the same bars, and what it is called; null: none. */
  readonly other: OtherTake | null;
}

/** Hz; no page depends on it. */
const anyRate = 48_000;

/** Errors: those of the score's reader and of the drill. */
export const workedDrill = ({ bytes, drill, ...settings }: HeardDrill): Result<WorkedDrill> => {
  const read = readPiece(bytes, { ...asInScore, ...settings });
  return read.ok ? workOut(read.value.score, drill, anyRate) : read;
};

type Clocked = Pick<Reading, 'clock' | 'notes' | 'played'>;

/** From the drill's time to that of a part's recording. */
const recorded = ({ clock }: Clocked, part: string, time: number): number | null => {
  const own = clock.find((one) => one.part === part);
  return own === undefined ? null : Math.max(0, toRecording(own, time));
};

const noteMoments = (
  { part, note, pass }: MarkNote,
  reading: Clocked,
  source: ReadonlyMap<string, string>,
): readonly HeardMoment[] =>
  reading.notes
    .filter((one: ReadingNote) => one.part === part && one.pass === pass && source.get(one.id) === note)
    .flatMap(({ id, rep, perceived, expected }) => {
      const at = recorded(reading, part, perceived ?? expected);
      return at === null ? [] : [{ rep, part, at, note: id }];
    });

const barMoments = ({ barIndex, pass }: MarkBars, reading: Clocked): readonly HeardMoment[] => {
  const part = reading.clock[0]?.part ?? '';
  return reading.played
    .filter((bar) => bar.barIndex === barIndex && bar.pass === pass)
    .flatMap(({ rep, start }) => {
      const at = recorded(reading, part, start);
      return at === null ? [] : [{ rep, part, at, note: null }];
    });
};

const partsOf = (mark: ReadingMark): readonly string[] =>
  mark.kind === 'seam' ? [mark.from, mark.part] : 'part' in mark ? [mark.part] : [];

const besideId = 'other-';

/** The marks of another take, with names and titles of their own. */
const marksBeside = (
  worked: WorkedDrill,
  { reading, name }: Pick<OtherTake, 'reading' | 'name'>,
  language: TellingLanguage,
): ReadingMarks['notes'] =>
  noteMarks(worked, reading, language).map((mark) => ({
    ...mark,
    id: `${besideId}${mark.id}`,
    title: `${name}: ${mark.title}`,
  }));

/** By what a figure is the same in two takes. */
const rowKey = ({ what, figure, part, other, rep, barIndex, pass, beat, note }: ReadingRow): string =>
  JSON.stringify([
    String(what).replace(/^note-.*/, 'note'),
    figure,
    part,
    other,
    rep,
    barIndex,
    pass,
    beat,
    note,
  ]);

const rowsOf = (reading: Reading, other: Reading | null): readonly ShownRow[] => {
  const rows = readingRows(reading);
  if (other === null) return rows;
  const beside = new Map(readingRows(other).map((row) => [rowKey(row), row.value]));
  return rows.map((row) => {
    const value = beside.get(rowKey(row));
    return { ...row, beside: typeof value === 'number' ? value : null };
  });
};

/** The other take as its own players let it stand, by its own drill: it may have been played at another tempo. */
const otherStanding = (
  { bytes }: HeardDrill,
  { reading, drill, settings, out, until }: OtherTake,
): Result<Reading> => {
  const worked = workedDrill({ bytes, drill, ...settings });
  return worked.ok ? ok(readingWithout(worked.value, reading, { out: new Set(out), until })) : worked;
};

/** Errors: those of `workedDrill` and of `makeReadingScreen`. */
export const readingShown = async (
  heard: HeardDrill,
  raw: Reading,
  { language, screen, out, until, names, other }: ShownOptions,
  engraver: Engraver,
): Promise<Result<ShownReading>> => {
  const work = workedDrill(heard);
  if (!work.ok) return work;
  const worked = work.value;
  const without = new Set(out);
  const standing = readingWithout(worked, raw, { out: without, until });
  const reading = calledBy(standing, names);
  const besideStanding = other === null ? null : otherStanding(heard, other);
  if (besideStanding?.ok === false) return besideStanding;
  const beside =
    other === null || besideStanding === null
      ? null
      : { name: other.name, reading: calledBy(besideStanding.value, names) };
  const words = wordMarks(reading, language, mostFindings);
  const marks: ReadingMarks = {
    notes: [
      ...noteMarks(worked, reading, language),
      ...(beside === null ? [] : marksBeside(worked, beside, language)),
    ],
    seams: seamMarks(worked, reading, language),
    arrows: paceMarks(reading, language),
    words,
  };
  const made = await makeReadingScreen(worked, marks, screen, engraver);
  if (!made.ok) return made;
  const { drawn, left, ...music } = made.value;
  const source = new Map(worked.timeline.notes.map(({ id, note }) => [id, note]));
  const told = findingWords[language];
  const inState = (of: ReadingNote['state']): number =>
    reading.notes.filter(({ state }) => state === of).length;
  const all = reading.notes.filter(({ id }) => !without.has(id)).length;
  const none =
    words.length === 0
      ? [told.tooLittle]
      : reading.findings.some((finding) => finding.told)
        ? []
        : [told.nothing];
  return ok(
    {
      screen: music,
      marks: drawn.map((mark) => {
        const isOther = mark.id.startsWith(besideId);
        const from = isOther && beside !== null ? beside.reading : reading;
        return {
          id: mark.id,
          kind: mark.kind,
          parts: partsOf(mark),
          title: mark.title,
          desc: mark.desc,
          other: isOther,
          moments: 'note' in mark ? noteMoments(mark, from, source) : barMoments(mark, from),
        };
      }),
      left: left.length,
      findings: words.map(({ id, number, texts }) => ({ mark: id, number, texts })),
      said: [
        told.bars(reading.title, reading.bars),
        told.heard(inState('heard'), all, inState('rough')),
        ...none,
      ],
      closing: words.length === 0 ? '' : told.closing,
      charts: readingCharts(reading, language),
      rows: rowsOf(reading, beside?.reading ?? null),
      counted: countedReading(standing, without),
    },
    made.problems,
  );
};
