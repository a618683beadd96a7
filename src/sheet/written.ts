/** A stretch of a score as it is written: nothing clicks, nothing is counted, and repeats are signs. */
import { takenBars } from '../drill/taken.ts';
import { workOut, type WorkedDrill } from '../drill/workOut.ts';
import type { Drill } from '../drill/model.ts';
import { metreText } from '../score/metre.ts';
import type { Bar, Score } from '../score/model.ts';
import type { Result } from '../units/index.ts';
import type { SheetScore } from './sheetScore.ts';

/** Without signs that lead elsewhere: the bars are played as they are written. */
export const inWrittenOrder = (score: Score): Score => ({
  ...score,
  bars: score.bars.map((bar) => ({ ...bar, repeatStart: false, repeatEnd: 0, ending: null, jumps: [] })),
});

/**
 * Bars of a score in written order (`inWrittenOrder`), both included, by index; `drill` says all else. Errors: those of
 * `workOut`.
 */
export const workOutStretch = (
  score: Score,
  drill: Drill,
  first: number,
  last: number,
): Result<WorkedDrill> =>
  workOut(
    score,
    {
      ...drill,
      bars: `@${first}-@${last}`,
      pass: null,
      keep: 'all',
      click: 'none',
      tacet: null,
      tempo: [],
      times: 1,
      countIn: 'none',
      upbeat: 'none',
      holds: 'through',
    },
    8000,
  );

/** Signs of the written bars on those of the sheet. An ending that began before the stretch has no bracket. */
const signed = (bars: readonly Bar[], sources: readonly Bar[]): readonly Bar[] => {
  let open = false;
  return bars.map((bar, i) => {
    const source = sources[i];
    if (source === undefined) return bar;
    const { repeatStart, repeatEnd, jumps, barline, fermata, pickup, ending } = source;
    open = ending !== null && (open || ending.begins);
    const shown = open ? ending : null;
    if (ending?.ends !== null) open = false;
    return { ...bar, repeatStart, repeatEnd, jumps, barline, fermata, pickup, ending: shown };
  });
};

/** The sheet of a stretch with the signs that `score` has; after the first stretch parts go by their short names. */
export const withSigns = (sheet: SheetScore, worked: WorkedDrill, score: Score): SheetScore => {
  const taken = takenBars(worked.round);
  const sources = taken.flatMap(({ source }) => score.bars[source.index] ?? []);
  const later = (taken[0]?.source.index ?? 0) > 0;
  const parts = later
    ? sheet.score.parts.map((part) => ({ ...part, name: part.abbreviation }))
    : sheet.score.parts;
  return { ...sheet, score: { ...sheet.score, bars: signed(sheet.score.bars, sources), parts } };
};

/** Whether a stretch that begins at this bar begins in the metre of the bar before. */
export const goesOnInMetre = ({ bars }: Score, first: number): boolean => {
  const [before, bar] = [bars[first - 1], bars[first]];
  return before !== undefined && bar !== undefined && metreText(before.metre) === metreText(bar.metre);
};

/** MusicXML whose first bar does not say its metre once more; `print-object`: MusicXML 4.0, element `time`. */
export const withoutFirstMetre = (xml: string): string =>
  xml
    .split(/(?=<part id=)/)
    .map((part, i) => {
      const end = part.indexOf('</measure>');
      return i === 0
        ? part
        : part.slice(0, end).replace(/<time(?! print-object)/, '<time print-object="no"') + part.slice(end);
    })
    .join('');
