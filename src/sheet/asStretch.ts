/** The sheet of a stretch of a drill's page. */
import type { DrillStretch, PageStretch } from '../drill/drillStretch.ts';
import { takenBars } from '../drill/taken.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import type { Bar } from '../score/model.ts';
import type { SheetScore } from './sheetScore.ts';

const lastBarline = (bars: readonly Bar[], whole: WorkedDrill, { last }: PageStretch): readonly Bar[] => {
  const taken = takenBars(whole.round);
  const source = taken[last]?.source;
  if (last >= taken.length - 1 || source === undefined) return bars;
  const barline = source.barline === 'final' ? 'double' : source.barline;
  return bars.map((bar, i) => (i === bars.length - 1 ? { ...bar, barline } : bar));
};

/** The sheet of a stretch: only the whole page's last bar ends it, and after the first stretch parts go by their short names. */
export const asStretch = (
  sheet: SheetScore,
  whole: WorkedDrill,
  stretch: PageStretch,
  { opens }: DrillStretch,
): SheetScore => ({
  ...sheet,
  score: {
    ...sheet.score,
    bars: lastBarline(sheet.score.bars, whole, stretch),
    parts: opens
      ? sheet.score.parts
      : sheet.score.parts.map((part) => ({ ...part, name: part.abbreviation })),
  },
});
