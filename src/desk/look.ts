/** What stands in a score: parts, bars, playing order, tempi, and what had to be repaired or assumed. */
import { asWritten, barGrids, beatText } from '../rhythm/beats.ts';
import { secondsAtPosition } from '../rhythm/tempo.ts';
import { metreLength, metreText } from '../score/metre.ts';
import type { Part, Score, SourceFormat } from '../score/model.ts';
import { beats, F, ok, secondsNumber, type Beats, type Problem, type Result } from '../units/index.ts';
import { eachOnce, readPiece } from './readOnce.ts';

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
  /** Tempo words without a figure beside them, as printed. */
  readonly words: readonly { readonly bar: string; readonly barIndex: number; readonly text: string }[];
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

const tempiOf = (score: Score): readonly LookTempo[] => {
  const grids = barGrids(score, asWritten);
  return score.marks.flatMap((mark): LookTempo[] => {
    const bar = score.bars[mark.bar];
    const grid = grids[mark.bar];
    if (mark.kind !== 'tempo' || bar === undefined || grid === undefined) return [];
    const within: Beats = beats(F.max(F.zero, F.min(F.sub(mark.at, bar.start), bar.length)));
    return [
      {
        bar: bar.number,
        barIndex: bar.index,
        beat: beatText(grid, within),
        unit: F.format(mark.unit),
        perMinute: F.toNumber(mark.perMinute),
        printed: mark.printed,
      },
    ];
  });
};

const isFull = (full: Beats | null, length: Beats): boolean => full !== null && F.equal(full, length);

/** Everything about a score that the text view shows. Errors: those of the readers. */
export const overview = (bytes: Uint8Array): Result<Overview> => {
  const read = readPiece(bytes);
  if (!read.ok) return read;
  const { score, order, tempo, problems, octaves, tempoProblems } = read.value;
  const figured = (bar: number, at: Beats): boolean =>
    score.marks.some((mark) => mark.kind === 'tempo' && mark.bar === bar && F.equal(mark.at, at));
  const placed = (bar: number, text: string) => ({
    bar: score.bars[bar]?.number ?? '',
    barIndex: bar,
    text,
  });
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
    tempi: tempiOf(score),
    problems: eachOnce([...problems, ...octaves, ...tempoProblems]),
  };
  return ok({
    look,
    source: score.source,
    duration: secondsNumber(secondsAtPosition(tempo, order.length)),
    uneven: score.bars
      .filter(({ metre, length }) => !isFull(metreLength(metre), length))
      .map(({ index }) => index),
    marks: score.marks.flatMap((mark) => (mark.kind === 'rehearsal' ? [placed(mark.bar, mark.text)] : [])),
    words: score.marks.flatMap((mark) =>
      mark.kind === 'tempoWords' && !figured(mark.bar, mark.at) ? [placed(mark.bar, mark.text)] : [],
    ),
  });
};

/** A look at a score, as "levare.look/1". Its problems are part of it. Errors: those of the readers. */
export const look = (bytes: Uint8Array): Result<Look> => {
  const seen = overview(bytes);
  return seen.ok ? ok(seen.value.look) : seen;
};
