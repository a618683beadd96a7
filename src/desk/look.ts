/** What stands in a score: parts, bars, playing order, tempi, and what had to be repaired or assumed. */
import { asWritten, barGrids, beatText } from '../rhythm/beats.ts';
import { secondsAtPosition } from '../rhythm/tempo.ts';
import { metreLength, metreText } from '../score/metre.ts';
import type { Mark, Part, Score, SourceFormat } from '../score/model.ts';
import { beats, F, ok, secondsNumber, type Beats, type Problem, type Result } from '../units/index.ts';
import { asInScore, type PieceSettings } from './fitScore.ts';
import { eachOnce, readPiece, type ReadPiece } from './readOnce.ts';

/** The printed format "levare.look/1"; its JSON schema is in docs/schemas. */
export interface Look {
  readonly format: 'levare.look/1';
  /** Empty where the file gives none. */
  readonly title: string;
  readonly parts: readonly LookPart[];
  /** In written order. */
  readonly bars: readonly LookBar[];
  /** Indices of the bars in the order in which they are played. */
  readonly played: readonly number[];
  /** Tempo marks with a figure, in written order. */
  readonly tempi: readonly LookTempo[];
  readonly problems: readonly Problem[];
}

export interface LookPart {
  readonly id: string;
  readonly name: string;
  /** Semitones from written to sounding pitch at the start. */
  readonly transpose: number;
  /** Sounding notes, ties merged; grace notes not among them. */
  readonly notes: number;
  readonly graces: number;
}

export interface LookBar {
  /** From 0, in written order. */
  readonly index: number;
  /** As printed. */
  readonly number: string;
  /** "4/4", "3+2/8", "free". */
  readonly metre: string;
  /** As it is: a fraction of a whole note, "1" or "3/4". */
  readonly length: string;
  readonly pickup: boolean;
}

export interface LookTempo {
  /** Printed number of the bar. */
  readonly bar: string;
  readonly barIndex: number;
  /** "1", "2+1/2". */
  readonly beat: string;
  /** The note value counted: a fraction of a whole note, "1/4" or "3/8". */
  readonly unit: string;
  readonly perMinute: number;
  /** Whether the page shows it; a tempo for playback only is not shown. */
  readonly printed: boolean;
}

/** A look and what a reader of plain text wants beside it. */
export interface Overview {
  readonly look: Look;
  readonly source: SourceFormat;
  /** Of one playing with all repeats, in seconds. */
  readonly duration: number;
  /** Indices of bars that are not as long as their metre says; bars without metre are all among them. */
  readonly uneven: readonly number[];
  /** Rehearsal marks. */
  readonly marks: readonly { readonly bar: string; readonly barIndex: number; readonly text: string }[];
  /** Tempo words, as printed. */
  readonly words: readonly (Pick<LookTempo, 'bar' | 'barIndex' | 'beat'> & { readonly text: string })[];
}

const transposeAtStart = ({ transpositions }: Part): number =>
  transpositions.findLast(({ at }) => !F.isPositive(at))?.chromatic ?? 0;

const lookPart = (part: Part): LookPart => ({
  id: part.id,
  name: part.name,
  transpose: transposeAtStart(part),
  notes: part.notes.length,
  graces: part.written.filter(({ kind, cue }) => kind === 'grace' && !cue).length,
});

/** Where a mark stands, in words. */
type Placing = (mark: Mark) => Pick<LookTempo, 'bar' | 'barIndex' | 'beat'>;

const placing = (score: Score): Placing => {
  const grids = barGrids(score, asWritten);
  return (mark) => {
    const bar = score.bars[mark.bar];
    const grid = grids[mark.bar];
    if (bar === undefined || grid === undefined) return { bar: '', barIndex: mark.bar, beat: '1' };
    const within = beats(F.max(F.zero, F.min(F.sub(mark.at, bar.start), bar.length)));
    return { bar: bar.number, barIndex: bar.index, beat: beatText(grid, within) };
  };
};

const isFull = (full: Beats | null, length: Beats): boolean => full !== null && F.equal(full, length);

/** Everything about a score that the text view shows, with what an ensemble has set for it. Errors: those of `readPiece`. */
export const overview = (bytes: Uint8Array, settings: PieceSettings = asInScore): Result<Overview> => {
  const read = readPiece(bytes, settings);
  return read.ok ? ok(overviewOf(read.value)) : read;
};

/** The same of a score that was read. */
export const overviewOf = (read: ReadPiece): Overview => {
  const { score, order, tempo, problems, octaves, tempoProblems } = read;
  const place = placing(score);
  const look: Look = {
    format: 'levare.look/1',
    title: score.title,
    parts: score.parts.map(lookPart),
    bars: score.bars.map(({ index, number, metre, length, pickup }) => ({
      index,
      number,
      metre: metreText(metre),
      length: F.format(length),
      pickup,
    })),
    played: order.visits.map(({ barIndex }) => barIndex),
    tempi: score.marks.flatMap((mark) =>
      mark.kind === 'tempo'
        ? [
            {
              ...place(mark),
              unit: F.format(mark.unit),
              perMinute: F.toNumber(mark.perMinute),
              printed: mark.printed,
            },
          ]
        : [],
    ),
    problems: eachOnce([...problems, ...octaves, ...tempoProblems]),
  };
  return {
    look,
    source: score.source,
    duration: secondsNumber(secondsAtPosition(tempo, order.length)),
    uneven: score.bars
      .filter(({ metre, length }) => !isFull(metreLength(metre), length))
      .map(({ index }) => index),
    marks: score.marks.flatMap((mark) => {
      if (mark.kind !== 'rehearsal') return [];
      const { bar, barIndex } = place(mark);
      return [{ bar, barIndex, text: mark.text }];
    }),
    words: score.marks.flatMap((mark) =>
      mark.kind === 'tempoWords' ? [{ ...place(mark), text: mark.text }] : [],
    ),
  };
};

/** A look at a score, as "levare.look/1". Its problems are part of it. Errors: those of the readers. */
export const look = (bytes: Uint8Array): Result<Look> => {
  const seen = overview(bytes);
  return seen.ok ? ok(seen.value.look) : seen;
};
