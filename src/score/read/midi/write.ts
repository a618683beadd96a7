/** From placed notes to written ones: voices, ties over bar lines, rests. */
import { Refusal } from '../../../units/index.ts';
import { noMarks, type Lyric, type Pitch, type WrittenNote } from '../../notes.ts';
import type { BarGrid, BeatsTable } from './grid.ts';
import type { PlacedNote } from './quantise.ts';
import { drawn } from './value.ts';

/** Written notes and rests of one file: a bound on memory, far beyond any piece. */
const maximumWritten = 250_000;

const tooMany = (): Refusal =>
  new Refusal(
    'file-too-large',
    `The notes and rests of the file are more than ${maximumWritten} on paper, so it is not read. ` +
      'Notes that are never let go, or a note far behind the music, can be the cause.',
  );

/** Counts what is written in all parts together. */
export class Budget {
  #left = maximumWritten;

  /** Refuses at once what is bound to be too much: pieces of notes between bar lines, or a rest a bar in each part. */
  constructor(parts: readonly (readonly PlacedNote[])[], grid: BarGrid) {
    let pieces = 0;
    for (const notes of parts)
      for (const { from, to } of notes) pieces += 1 + Math.max(0, grid.at(to - 1) - grid.at(from));
    if (Math.max(pieces, parts.length * grid.count) > maximumWritten) throw tooMany();
  }

  spend(): void {
    this.#left -= 1;
    if (this.#left < 0) throw tooMany();
  }
}

export interface WriteContext {
  readonly part: string;
  readonly grid: BarGrid;
  readonly table: BeatsTable;
  readonly budget: Budget;
  /** Null on the percussion channel. */
  readonly spell: ((note: PlacedNote) => Pitch) | null;
  /** Where an unpitched note is drawn. */
  readonly display: (note: PlacedNote) => WrittenNote['display'];
  readonly lyrics: ReadonlyMap<number, string>;
}

interface Voice {
  from: number;
  to: number;
  readonly notes: PlacedNote[];
}

/**
 * Notes that begin and end together are a chord. Any other note goes to the first voice that is free; higher notes come
 * first, so that the upper line is voice 1.
 */
const voicesOf = (notes: readonly PlacedNote[]): (readonly PlacedNote[])[] => {
  const voices: Voice[] = [];
  const sorted = [...notes].sort((a, b) => a.from - b.from || b.key - a.key || b.to - a.to);
  for (const note of sorted) {
    const voice = voices.find(({ from, to }) => to <= note.from || (from === note.from && to === note.to));
    if (voice === undefined) voices.push({ from: note.from, to: note.to, notes: [note] });
    else {
      voice.from = note.from;
      voice.to = note.to;
      voice.notes.push(note);
    }
  }
  return voices.map(({ notes: own }) => own);
};

type Fields = Pick<
  WrittenNote,
  | 'id'
  | 'kind'
  | 'bar'
  | 'onset'
  | 'duration'
  | 'voice'
  | 'value'
  | 'tuplet'
  | 'chord'
  | 'pitch'
  | 'display'
  | 'wholeBar'
  | 'tieStart'
  | 'tieStop'
  | 'lyrics'
>;

const none: readonly never[] = [];

/** Written out field by field: copies made by spreading are several times as large in memory, and slower. */
const writtenNote = (fields: Fields): WrittenNote => ({
  id: fields.id,
  kind: fields.kind,
  bar: fields.bar,
  onset: fields.onset,
  duration: fields.duration,
  staff: 1,
  voice: fields.voice,
  value: fields.value,
  tuplet: fields.tuplet,
  tupletMarks: none,
  chord: fields.chord,
  pitch: fields.pitch,
  display: fields.display,
  wholeBar: fields.wholeBar,
  tieStart: fields.tieStart,
  tieStop: fields.tieStop,
  slash: false,
  cue: false,
  printed: true,
  accidental: '',
  stem: null,
  notehead: '',
  beams: none,
  marks: noMarks,
  lyrics: fields.lyrics,
});

/** Writes one part's notes, one for each bar that they sound in, with the rests between them. */
export const writePart = (notes: readonly PlacedNote[], context: WriteContext): WrittenNote[] => {
  const { part, grid, table, budget, spell, lyrics } = context;
  const written: WrittenNote[] = [];
  const sung = new Set<number>();
  const id = () => `${part}-n${written.length + 1}`;

  const rest = (voice: string, bar: number, from: number, to: number): void => {
    if (to <= from) return;
    budget.spend();
    const { start, length } = grid.bar(bar);
    const wholeBar = from === start && to === start + length;
    const { value, tuplet } = wholeBar ? { value: null, tuplet: { actual: 1, normal: 1 } } : drawn(to - from);
    written.push(
      writtenNote({
        id: id(),
        kind: 'rest',
        bar,
        onset: table.of(from),
        duration: table.of(to - from),
        voice,
        value,
        tuplet,
        chord: false,
        pitch: null,
        display: null,
        wholeBar,
        tieStart: false,
        tieStop: false,
        lyrics: none,
      }),
    );
  };

  const lyricOf = ({ tick }: PlacedNote): readonly Lyric[] => {
    const text = lyrics.get(tick);
    if (text === undefined || sung.has(tick)) return none;
    sung.add(tick);
    return [{ verse: '1', syllabic: 'single', text, extend: false }];
  };

  voicesOf(notes).forEach((own, k) => {
    const voice = String(k + 1);
    /** Up to where this voice is written, and in which bar. */
    let at = 0;
    let bar = k === 0 ? 0 : -1;
    const goTo = (nextBar: number, from: number): void => {
      if (bar >= 0 && nextBar > bar) {
        const { start, length } = grid.bar(bar);
        rest(voice, bar, at, start + length);
      }
      // The first voice has rests in every bar; others only where they have notes.
      for (let empty = bar + 1; k === 0 && empty < nextBar; empty += 1) {
        const { start, length } = grid.bar(empty);
        rest(voice, empty, start, start + length);
      }
      if (nextBar > bar) at = grid.bar(nextBar).start;
      bar = nextBar;
      rest(voice, bar, at, from);
    };
    own.forEach((note, n) => {
      const before = own[n - 1];
      const chord = before?.from === note.from && before.to === note.to;
      const first = grid.at(note.from);
      const last = Math.max(first, grid.at(note.to - 1));
      const pitch = spell === null ? null : spell(note);
      for (let piece = first; piece <= last; piece += 1) {
        const { start, length } = grid.bar(piece);
        const from = Math.max(note.from, start);
        const to = Math.min(note.to, start + length);
        if (!chord) goTo(piece, from);
        budget.spend();
        const { value, tuplet } = drawn(to - from);
        written.push(
          writtenNote({
            id: id(),
            kind: 'note',
            bar: piece,
            onset: table.of(from),
            duration: table.of(to - from),
            voice,
            value,
            tuplet,
            chord,
            pitch,
            display: pitch === null ? context.display(note) : null,
            wholeBar: false,
            tieStart: piece < last,
            tieStop: piece > first,
            lyrics: piece === first ? lyricOf(note) : none,
          }),
        );
        at = to;
      }
    });
    const lastBar = grid.count - 1;
    const { start, length } = grid.bar(Math.max(bar, 0));
    if (k === 0 && lastBar > bar) goTo(lastBar, grid.bar(lastBar).start + grid.bar(lastBar).length);
    else rest(voice, Math.max(bar, 0), at, start + length);
  });
  return written;
};
