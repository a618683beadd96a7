/**
 * Places of the score brought to a page: where on the sheet's own axis each begins and ends, and where its hand-overs are. Facts for
 * drawing only; what a place is is for others to say.
 */
import { placeIn, takenBars, type Taken } from '../drill/taken.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import { F, plus, type Beats } from '../units/index.ts';
import type { PageWords, SheetScore } from './sheetScore.ts';

/** A written moment of the score. */
export interface MarkSpot {
  /** From 0, in written order. */
  readonly barIndex: number;
  /** Written position. */
  readonly at: Beats;
}

/** A hand-over: at the first note of the one who takes over. */
export interface MarkSeam extends MarkSpot {
  /** Part ids. */
  readonly from: string;
  readonly to: string;
}

/** A place to be pencilled on a page. */
export interface PlaceMark {
  /** Id of its element: letters, digits and hyphens, unique among the marks of a page. */
  readonly id: string;
  /** A number or a word or two that leads to the list beside the page. */
  readonly label: string;
  /** The word within the label that another language has another word for. */
  readonly word?: string;
  /** Part ids; the bracket stands above the uppermost. Empty: all. */
  readonly parts: readonly string[];
  /** The first note, and the onset of the last. */
  readonly from: MarkSpot;
  readonly to: MarkSpot;
  readonly seams: readonly MarkSeam[];
  /** Dashed: to be told from the plain ones on the same page. */
  readonly line: 'plain' | 'dashed';
}

/** A hand-over on the sheet's own axis. */
export interface SheetSeam {
  /** Id of its element. */
  readonly id: string;
  readonly at: Beats;
  readonly from: string;
  readonly to: string;
}

/** A place on the sheet's own axis. */
export interface SheetPlace {
  readonly mark: PlaceMark;
  readonly from: Beats;
  readonly to: Beats;
  /** The place goes on before or behind what the page shows. */
  readonly opens: boolean;
  readonly stays: boolean;
  readonly seams: readonly SheetSeam[];
}

/** The first bars of a page that go through a place in its order; empty where none of it is there. */
const runOf = (taken: readonly Taken[], { from, to }: PlaceMark): readonly Taken[] => {
  const run: Taken[] = [];
  for (const bar of taken) {
    const inside = bar.source.index >= from.barIndex && bar.source.index <= to.barIndex;
    const last = run.at(-1);
    if (last === undefined ? inside : inside && bar.source.index > last.source.index) run.push(bar);
    else if (last !== undefined) break;
  }
  return run;
};

/** Places on the page of a drill; those of which it shows nothing are left out. Of a repeated place the first time is shown. */
export const sheetPlaces = (
  worked: WorkedDrill,
  sheet: SheetScore,
  marks: readonly PlaceMark[],
): readonly SheetPlace[] => {
  const taken = takenBars(worked.round);
  const lead = sheet.score.bars[sheet.countBars]?.start ?? F.zero;
  const shift = (at: Beats): Beats => plus(at, lead as Beats);
  return marks.flatMap((mark) => {
    const run = runOf(taken, mark);
    const [first] = run;
    const last = run.at(-1);
    if (first === undefined || last === undefined) return [];
    const within = (at: Beats): Beats | null => {
      for (const bar of run) {
        const place = placeIn(bar, at);
        if (place !== null) return shift(place);
      }
      return null;
    };
    const [from, to] = [within(mark.from.at), within(mark.to.at)];
    const end = plus(last.start, last.length);
    const seams = mark.seams.flatMap((seam, i) => {
      const at = within(seam.at);
      return at === null ? [] : [{ id: `${mark.id}-seam-${i + 1}`, at, from: seam.from, to: seam.to }];
    });
    return [
      {
        mark,
        from: from ?? shift(first.start),
        to: to ?? shift(end),
        opens: from === null,
        stays: to === null,
        seams,
      },
    ];
  });
};

/** A mark with its word in the players' language. */
export const inWords = (mark: PlaceMark, words: PageWords): PlaceMark => {
  const { label, word } = mark;
  return word === undefined || !Object.hasOwn(words, word)
    ? mark
    : { ...mark, label: label.replace(word, () => words[word] ?? word) };
};
