/** The score that a gathered file makes. */
import { F, ok, problem, type Problem, type Result } from '../../../units/index.ts';
import { assemblePart, type PartDraft } from '../../assemble.ts';
import type { Bar, Mark, Part, Score } from '../../model.ts';
import type { CheckedFile } from './chunks.ts';
import type { RawMidi, RawPart } from './events.ts';
import { BarGrid, BeatsTable, unitsOf } from './grid.ts';
import { Keys } from './keys.ts';
import { countedNotKept, fileProblems, placementProblems } from './problems.ts';
import { quantise, type PlacedNote } from './quantise.ts';
import { spell } from './spell.ts';
import { quarterBeat, readTempi } from './tempi.ts';
import { Budget, writePart } from './write.ts';

/** Channel 10, from 0: percussion in General MIDI level 1. */
const percussion = 9;

/** Parts by track and, where a track uses several channels or there is one track only, by channel. */
const namesOf = (parts: readonly RawPart[], names: readonly string[], format: 0 | 1): string[] => {
  const counts = new Map<number, number>();
  for (const { track } of parts) counts.set(track, (counts.get(track) ?? 0) + 1);
  return parts.map(({ track, channel }, index) => {
    const shared = (counts.get(track) ?? 0) > 1;
    const name = format === 0 && shared ? '' : (names[track] ?? '');
    if (name === '') return shared ? `Channel ${channel + 1}` : `Part ${index + 1}`;
    return shared ? `${name} (channel ${channel + 1})` : name;
  });
};

/** The name of the piece: of the only track, or of a first track that has no notes. */
const titleOf = ({ parts, names }: RawMidi, format: 0 | 1): string => {
  const playsFirst = parts.filter(({ track }) => track === 0).length;
  return format === 0 ? (playsFirst === 1 ? '' : (names[0] ?? '')) : playsFirst > 0 ? '' : (names[0] ?? '');
};

/** By the middle of its notes: treble clef from G3 (55) up. Common practice, no source. */
const clefOf = (notes: readonly PlacedNote[], drums: boolean, table: BeatsTable): Part['clefs'] => {
  const mean = notes.reduce((sum, { key }) => sum + key, 0) / Math.max(1, notes.length);
  const sign = drums ? 'percussion' : mean >= 55 ? 'G' : 'F';
  return [{ at: table.of(0), staff: 1, sign, line: sign === 'F' ? 4 : 2, octave: 0 }];
};

/** What all parts have in common. */
interface Shared {
  readonly bars: readonly Bar[];
  readonly keys: Keys;
  readonly budget: Budget;
}

class ScoreMaker {
  readonly #midi: RawMidi;
  readonly #file: CheckedFile;
  readonly #grid: BarGrid;
  readonly #table = new BeatsTable();
  readonly #problems: Problem[];
  /** Syllables that no part has taken yet, by track and tick. */
  readonly #syllables = new Map<number, Map<number, string>>();

  constructor(file: CheckedFile, midi: RawMidi) {
    this.#file = file;
    this.#midi = midi;
    const sounding = midi.parts.reduce(
      (end, { notes }) => notes.reduce((last, { to }) => Math.max(last, to), end),
      0,
    );
    const per = file.ticksPerQuarter;
    this.#grid = new BarGrid(midi, per, unitsOf(midi.parts.length > 0 ? sounding : midi.end, per));
    // A hair before the end: a note that ends on a bar line needs no further bar.
    this.#grid.cover(Math.max(0, unitsOf(sounding, per) - 0.5));
    this.#grid.fill(unitsOf(midi.end, per));
    for (const { track, tick, value } of midi.lyrics) {
      if (value === '') continue;
      const syllables = this.#syllables.get(track) ?? new Map<number, string>();
      const before = syllables.get(tick);
      this.#syllables.set(track, syllables.set(tick, before === undefined ? value : `${before} ${value}`));
    }
    this.#problems = [...fileProblems(file, midi), ...this.#grid.problems];
  }

  make(): Result<Score> {
    const { parts: raw, names } = this.#midi;
    const { format, ticksPerQuarter } = this.#file;
    const placement = quantise(raw, ticksPerQuarter, this.#grid);
    const end = placement.parts.reduce(
      (far, notes) => notes.reduce((last, { to }) => Math.max(last, to), far),
      1,
    );
    this.#grid.cover(end - 1);
    const bars = this.#grid.bars(this.#table);
    const marks = this.#marks(bars);
    const partNames = namesOf(raw, names, format);
    const keys = new Keys(this.#midi, this.#grid, this.#table, ticksPerQuarter);
    const shared: Shared = { bars, keys, budget: new Budget(placement.parts, this.#grid) };
    this.#problems.push(...placementProblems(placement));
    const parts = raw.map((part, index) =>
      this.#part(
        part,
        placement.parts[index] ?? [],
        { id: `P${index + 1}`, name: partNames[index] ?? '' },
        shared,
      ),
    );
    const silent = [...this.#syllables.values()].reduce((sum, { size }) => sum + size, 0);
    this.#problems.push(...countedNotKept('A syllable where no note of its track begins', silent));
    if (parts.length === 0) this.#problems.push(problem('note', 'no-notes', 'The MIDI file holds no notes.'));
    const title = titleOf(this.#midi, format);
    return ok({ title, source: 'midi', bars, parts, marks }, this.#problems);
  }

  /** The syllables of a part's track by tick, for the first part of the track that has a note there. */
  #lyrics({ track, notes }: RawPart): ReadonlyMap<number, string> {
    const found = new Map<number, string>();
    const waiting = this.#syllables.get(track);
    if (waiting === undefined) return found;
    for (const { from } of notes) {
      const text = waiting.get(from);
      if (text === undefined) continue;
      found.set(from, text);
      waiting.delete(from);
    }
    return found;
  }

  #part(
    raw: RawPart,
    notes: readonly PlacedNote[],
    { id, name }: Pick<Part, 'id' | 'name'>,
    { bars, keys, budget }: Shared,
  ): Part {
    const drums = raw.channel === percussion;
    const written = writePart(notes, {
      part: id,
      grid: this.#grid,
      table: this.#table,
      budget,
      spell: drums ? null : (note) => spell(note.key, keys.fifthsAt(note.from)),
      display: ({ key }) => {
        const { step, octave } = spell(key, 0);
        return { step, octave };
      },
      lyrics: this.#lyrics(raw),
    });
    if (drums)
      this.#problems.push(
        problem(
          'note',
          'midi-drums',
          'Channel 10 is percussion: its keys name instruments, which are not kept; they are drawn as the notes of these keys.',
          {
            part: id,
          },
        ),
      );
    const draft: PartDraft = {
      id,
      name,
      abbreviation: '',
      sound: '',
      program: drums ? null : raw.program,
      staves: 1,
      transpositions: [],
      clefs: clefOf(notes, drums, this.#table),
      keys: drums ? [] : keys.list,
      written,
      directions: [],
    };
    const { part, problems } = assemblePart(draft, bars);
    this.#problems.push(...problems);
    return part;
  }

  #marks(bars: readonly Bar[]): Mark[] {
    const last = bars.at(-1)?.index ?? 0;
    const per = this.#file.ticksPerQuarter;
    let behind = 0;
    /** Marks keep their exact place, save behind the last bar line. */
    const place = (tick: number) => {
      const position = unitsOf(tick, per);
      if (position > this.#grid.end) behind += 1;
      const units = Math.min(Math.round(position), this.#grid.end);
      return { at: this.#table.of(units), bar: Math.min(this.#grid.at(units), last) };
    };
    const { tempi, problems } = readTempi(this.#midi.tempi);
    this.#problems.push(...problems);
    const marks: Mark[] = [
      ...tempi.map(({ tick, perMinute }): Mark => ({
        kind: 'tempo',
        ...place(tick),
        unit: quarterBeat,
        perMinute,
        printed: false,
      })),
      ...this.#midi.markers
        .filter(({ value }) => value !== '')
        .map(({ tick, value }): Mark => ({ kind: 'rehearsal', ...place(tick), text: value })),
    ];
    if (behind > 0)
      this.#problems.push(
        problem(
          'repair',
          'mark-behind-end',
          `${behind} tempi or markers stand behind the last bar; they are put at its end.`,
        ),
      );
    return marks.sort((a, b) => F.compare(a.at, b.at));
  }
}

/** Makes the score. Throws Refusal, for `refusable`, where the file is beyond all bounds. */
export const makeScore = (file: CheckedFile, midi: RawMidi): Result<Score> =>
  new ScoreMaker(file, midi).make();
