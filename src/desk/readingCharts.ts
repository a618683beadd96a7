/** A reading as charts on the bar lines of its drill: tempo, togetherness, seams, level and length. */
import { drawn, type ChartPlayer, type Drawn, type Field, type Point } from '../figure/index.ts';
import { playerLine } from '../sheet/pencil.ts';
import { chartPlaces, type ChartPlaces } from './chartPlaces.ts';
import { notesFromOthers } from './fromOthers.ts';
import type { Figure, Reading, ReadingSeam } from './reading.ts';
import { chartWords, type ChartWords } from './words/charts.ts';
import { lengthsByBar, levelsByBar, type InBar } from './writtenAlike.ts';
import { shownNames, type TellingLanguage } from './words/index.ts';

export interface ReadingChart extends Drawn {
  /** File name without ending. */
  readonly name: 'tempo' | 'asynchrony' | 'seams' | 'level-and-length';
}

/** A dash of the pages is in staff spaces; here it is this many pixels. Our choice. */
const space = 7;

interface Drawing {
  readonly reading: Reading;
  readonly places: ChartPlaces;
  readonly words: ChartWords;
  readonly playerOf: (part: string) => number;
}

type Bar = Parameters<ChartPlaces['barOf']>[0];

const pointAt = (
  { places, playerOf }: Drawing,
  part: string,
  where: Bar,
  within: number | null,
  value: Figure,
): readonly Point[] => {
  const bar = places.barOf(where);
  return bar === null
    ? []
    : [{ player: playerOf(part), bar, within: within ?? 0, ...value, wholeBar: within === null }];
};

const tempoField = (drawing: Drawing): Field => {
  const { reading, words } = drawing;
  const asked = new Set(reading.tempo.map((one) => one.asked.toFixed(6)));
  const [only] = reading.tempo;
  return {
    head: words.perMinute,
    above: words.edges.quicker,
    below: words.edges.slower,
    // In free playing no tempo is held against anyone.
    base: reading.playing === 'click' && asked.size === 1 ? (only?.asked ?? null) : null,
    points: reading.tempo.flatMap((one) => pointAt(drawing, one.part, one, null, one.perMinute)),
  };
};

const asynchronyField = (drawing: Drawing): Field => {
  const { reading, words, places } = drawing;
  return {
    head: words.fromOthers,
    above: words.edges.after,
    below: words.edges.before,
    base: 0,
    points: notesFromOthers(reading).flatMap(({ note, figure }) =>
      pointAt(drawing, note.part, note, places.within(note, note.expected), figure),
    ),
  };
};

const difference = (after: Figure | null, before: Figure | null): Figure | null => {
  if (after === null || before === null) return null;
  const value = after.value - before.value;
  const [a, b, c, d] = [after.low, after.high, before.low, before.high];
  if (a === null || b === null || c === null || d === null) return { value, low: null, high: null };
  return {
    value,
    low: value - Math.hypot(after.value - a, d - before.value),
    high: value + Math.hypot(b - after.value, before.value - c),
  };
};

const seamFields = (drawing: Drawing): readonly Field[] => {
  const { reading, words, places } = drawing;
  const { edges } = words;
  const of = (figureOf: (seam: ReadingSeam) => Figure | null): readonly Point[] =>
    reading.seams.flatMap((seam) => {
      const value = figureOf(seam);
      const within = places.within(seam, places.timeOf(seam));
      return value === null ? [] : pointAt(drawing, seam.to, seam, within, value);
    });
  return [
    {
      head: words.seamTime,
      above: edges.after,
      below: edges.before,
      base: 0,
      points: of(({ late }) => late),
    },
    {
      head: words.seamLevel,
      above: edges.louder,
      below: edges.softer,
      base: 0,
      points: of(({ level }) => difference(level.to, level.from)),
    },
    {
      head: words.seamLength,
      above: edges.longer,
      below: edges.shorter,
      base: 0,
      points: of(({ length }) => length),
    },
  ];
};

const levelFields = (drawing: Drawing): readonly Field[] => {
  const { reading, words } = drawing;
  const { edges } = words;
  const of = (bars: readonly InBar[]): readonly Point[] =>
    bars.flatMap(({ part, first, value }) => pointAt(drawing, part, first, null, value));
  return [
    {
      head: words.level,
      above: edges.louder,
      below: edges.softer,
      base: 0,
      points: of(levelsByBar(reading)),
    },
    {
      head: words.length,
      above: edges.longer,
      below: edges.shorter,
      base: null,
      points: of(lengthsByBar(reading)),
    },
  ];
};

/** A chart in words: every figure with its interval, bar by bar. */
const alternativeOf = (
  fields: readonly Field[],
  { places: { bars }, words }: Drawing,
  players: readonly ChartPlayer[],
): string => {
  const number = (value: number, digits: number): string =>
    value
      .toFixed(digits)
      .replace(/^-(?=0(\.0*)?$)/, '')
      .replace('-', '\u2212')
      .replace('.', words.point);
  return fields
    .map(({ head, points }) => {
      const most = Math.max(0, ...points.map(({ value }) => Math.abs(value)));
      const digits = most < 3 ? 2 : 1;
      const told = bars.flatMap((bar, i) => {
        const here = points
          .filter((point) => point.bar === i)
          .map(({ player, value, low, high }) => {
            const ends =
              low === null || high === null
                ? ''
                : ` (${number(low, digits)} ${words.to} ${number(high, digits)})`;
            return `${players[player]?.name ?? ''} ${number(value, digits)}${ends}`;
          });
        return here.length === 0 ? [] : [`${words.bar(bar.label)}: ${here.join(', ')}.`];
      });
      return `${head}. ${told.length === 0 ? words.nothing : told.join(' ')}`;
    })
    .join(' ');
};

/**
 * The charts of a reading; those for which nothing was heard are left out, and a reading of version 1 has none: it does not know where its
 * bars lie. Same reading, same text.
 */
export const readingCharts = (reading: Reading, language: TellingLanguage): readonly ReadingChart[] => {
  const words = chartWords[language];
  const name = shownNames(reading);
  const players = reading.parts.map(({ id }, i): ChartPlayer => {
    const { hue, dashes } = playerLine(i);
    return { name: name(id), pen: { hue, dashes: dashes.map((dash) => Math.round(10 * space * dash) / 10) } };
  });
  const places = chartPlaces(reading);
  const drawing: Drawing = {
    reading,
    places,
    words,
    playerOf: (part) => reading.parts.findIndex(({ id }) => id === part),
  };
  const charts = [
    ['tempo', words.tempo, [tempoField(drawing)]],
    ['asynchrony', words.asynchrony, [asynchronyField(drawing)]],
    ['seams', words.seams, seamFields(drawing)],
    ['level-and-length', words.levels, levelFields(drawing)],
  ] as const;
  return charts.flatMap(([file, title, fields]): readonly ReadingChart[] => {
    const known = fields.filter(({ points }) => points.length > 0);
    if (known.length === 0 || places.bars.length === 0) return [];
    const alternative = alternativeOf(known, drawing, players);
    return [
      {
        name: file,
        ...drawn({ title, alternative, point: words.point, bars: places.bars, players, fields: known }),
      },
    ];
  });
};

/** Pixels of a chart as PNG: twice the size at which it is drawn. */
export const chartWidth = ({ svg }: Pick<ReadingChart, 'svg'>): number =>
  Math.round(2 * Number.parseFloat(/ width="([\d.]+)"/.exec(svg)?.[1] ?? '600'));
