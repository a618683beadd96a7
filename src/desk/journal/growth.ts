/** Growth at a place and step: the points, what can be told, and the chart. As many points after ten years as after three months. */
import { drawn, type Drawn } from '../../figure/index.ts';
import {
  growthOf,
  growthPoints,
  judgeTake,
  type DatedFigure,
  type Growth,
  type GrowthPoint,
  type TakeFigure,
} from '../../plan/index.ts';
import { playerLine } from '../../sheet/pencil.ts';
import type { JournalTake } from '../shelf/journalFormats.ts';
import { growthWords, type GrowthWords } from '../words/growth.ts';
import type { TellingLanguage } from '../words/language.ts';
import { takesAt, type Journal } from './journal.ts';
import { figuresOfTake } from './takeRecord.ts';

export interface PlaceGrowth {
  /** Oldest first, at most twelve. */
  readonly points: readonly GrowthPoint[];
  /** The last against the first; null for fewer than two. */
  readonly growth: Growth | null;
  /** One sentence. */
  readonly told: string;
  /** Null for fewer than two points. */
  readonly chart: Drawn | null;
}

/** Takes with a spread that could be told. */
const spreads = (takes: readonly JournalTake[], step: string): readonly DatedFigure[] =>
  takes.flatMap((take) => {
    if (take.step !== step) return [];
    const { apart } = judgeTake(figuresOfTake(take));
    return apart === null || !(apart.sd.value > 0)
      ? []
      : [{ rehearsal: take.rehearsal, day: take.day, figure: apart.sd }];
  });

/** Points of a list of takes, which never changes once it is sorted: worked out once, drawn often. */
const known = new WeakMap<readonly JournalTake[], Map<string, readonly GrowthPoint[]>>();

const pointsOf = (takes: readonly JournalTake[], step: string): readonly GrowthPoint[] => {
  const bySteps = known.get(takes) ?? new Map<string, readonly GrowthPoint[]>();
  known.set(takes, bySteps);
  const before = bySteps.get(step);
  if (before !== undefined) return before;
  const points = growthPoints(spreads(takes, step));
  bySteps.set(step, points);
  return points;
};

const number = (value: number, digits: number, { point }: GrowthWords): string =>
  value
    .toFixed(digits)
    .replace(/^-(?=0(\.0*)?$)/, '')
    .replace('-', '\u2212')
    .replace('.', point);

const withEnds = ({ value, low, high }: TakeFigure, words: GrowthWords): string =>
  low === null || high === null
    ? `${number(value, 0, words)} ms`
    : `${number(value, 0, words)} ms (${number(low, 0, words)} ${words.to} ${number(high, 0, words)})`;

const toldOf = (growth: Growth | null, points: readonly GrowthPoint[], words: GrowthWords): string => {
  const [first, last] = [points[0], points.at(-1)];
  return growth === null || first === undefined || last === undefined
    ? words.too
    : words.told[growth.told](withEnds(first, words), withEnds(last, words));
};

/** Pixels from point to point: a day fits, and twelve points fit the page. */
const perPoint = 45;

const chartOf = (points: readonly GrowthPoint[], told: string, title: string, words: GrowthWords): Drawn => {
  const { hue, dashes } = playerLine(0);
  const years = new Set(points.map(({ from }) => from.slice(0, 4)));
  const list = points
    .map((one) => `${words.of(one.from, one.to, one.rehearsals)}: ${withEnds(one, words)}.`)
    .join(' ');
  return drawn({
    title: title === '' ? words.title : `${title}: ${words.title}`,
    alternative: `${told} ${words.head}. ${list}`,
    point: words.point,
    // One "bar" for each point: bar lines part rehearsals here.
    bars: points.map(({ from }, i) => ({ label: words.day(from, years.size > 1), start: i, end: i + 1 })),
    perBar: perPoint,
    players: [{ name: '', pen: { hue, dashes: dashes.map((dash) => 7 * dash) } }],
    fields: [
      {
        head: words.head,
        above: words.above,
        below: words.below,
        base: null,
        points: points.map(({ value, low, high }, i) => ({
          player: 0,
          bar: i,
          within: 0.5,
          value,
          low,
          high,
          wholeBar: false,
        })),
      },
    ],
  });
};

/** Growth at one place under one step. `title`: what the place is called; may be empty. */
export const placeGrowth = (
  journal: Journal,
  { piece, place, step, title }: { piece: string; place: string; step: string; title: string },
  language: TellingLanguage,
): PlaceGrowth => {
  const words = growthWords[language];
  const points = pointsOf(takesAt(journal, piece, place), step);
  const growth = growthOf(points);
  const told = toldOf(growth, points, words);
  return { points, growth, told, chart: points.length < 2 ? null : chartOf(points, told, title, words) };
};
