/** A chart as SVG: fields under each other on common bar lines, each figure with a whisker as long as its interval. */
import { barAxis, left, type BarAxis } from './axis.ts';
import type { Chart, ChartPlayer, Drawn, Field, Point } from './model.ts';
import { element, escaped, label } from './svg.ts';

const head = 34;
const fieldHeight = 150;
const gap = 44;
const legend = 26;
const ink = '#1d1b18';
const pencil = '#555';
/** Pixels of a letter in a field's head, on the safe side: what is drawn is not measured. */
const perLetter = 6.6;
/** Half of what the players' marks at one place stand apart, so that whiskers do not hide each other. */
const aside = 2.5;

/** Intervals so many times as long as the middle one are cut at the edge: a figure of which hardly anything is known must not make all others flat. Our choice. */
const longest = 6;

/** The length up to which a field's intervals are drawn whole. */
const wholeUpTo = ({ points }: Field): number => {
  const lengths = points.flatMap(({ low, high }) => (low === null || high === null ? [] : [high - low]));
  const middle = lengths.sort((a, b) => a - b)[(lengths.length - 1) >> 1];
  return middle === undefined || middle <= 0 ? Infinity : longest * middle;
};

/** The least and the greatest that is drawn whole of a field: figures, ends of intervals and the base; null of nothing. */
const endsOf = (field: Field): readonly [number, number] | null => {
  const { points, base } = field;
  const most = wholeUpTo(field);
  const all = [
    ...points.flatMap(({ value, low, high }) =>
      low === null || high === null || high - low > most ? [value] : [value, low, high],
    ),
    ...(base === null ? [] : [base]),
  ];
  if (all.length === 0) return null;
  return all.reduce<readonly [number, number]>(
    ([a, b], value) => [Math.min(a, value), Math.max(b, value)],
    [Infinity, -Infinity],
  );
};

/** From values to pixels: all figures fit, and the base is among them; what lies beyond is at the edge. */
const scaleOf = (field: Field, top: number): ((value: number) => number) => {
  const [least, most] = endsOf(field) ?? [0, 1];
  const room = most > least ? (most - least) / 12 : 1;
  return (value) => {
    const share = (most + room - value) / (most - least + 2 * room);
    return top + fieldHeight * Math.max(0, Math.min(1, share));
  };
};

/** Figures at the right edge: the ends, and the base where it keeps clear of them. */
const marksOf = (field: Field, y: (value: number) => number): readonly number[] => {
  const ends = new Set(endsOf(field) ?? []);
  const { base } = field;
  const clear = base !== null && [...ends].every((end) => Math.abs(y(end) - y(base)) > 14);
  return [...ends, ...(clear ? [base] : [])];
};

const markText = (value: number, { point }: Chart): string =>
  value
    .toFixed(Math.abs(value) < 10 ? 1 : 0)
    .replace(/^-(?=0(\.0*)?$)/, '')
    .replace('-', '\u2212')
    .replace('.', point);

const strokeOf = ({ pen: { hue, dashes } }: ChartPlayer): Readonly<Record<string, string>> => ({
  stroke: hue,
  ...(dashes.length === 0 ? {} : { 'stroke-dasharray': dashes.join(' ') }),
});

const drawnPoint = (
  point: Point,
  { players }: Chart,
  axis: BarAxis,
  y: (value: number) => number,
): string => {
  const player = players[point.player];
  if (player === undefined) return '';
  const { bar, within, value, low, high, wholeBar } = point;
  const shift = wholeBar ? 0 : aside * (2 * point.player - (players.length - 1));
  const from = axis.at(bar, within);
  const x = (wholeBar ? axis.at(bar, (1 + within) / 2) : from) + shift;
  const data = {
    'data-bar': String(bar),
    'data-within': String(within),
    'data-value': String(value),
    'data-player': player.name,
  };
  const whisker =
    low === null || high === null
      ? ''
      : element('line', {
          class: 'whisker',
          x1: x + (wholeBar ? aside * (2 * point.player - (players.length - 1)) : 0),
          x2: x + (wholeBar ? aside * (2 * point.player - (players.length - 1)) : 0),
          y1: y(high),
          y2: y(low),
          'stroke-width': 1.2,
          ...strokeOf(player),
        });
  const mark = wholeBar
    ? element('line', {
        class: 'figure',
        x1: from,
        x2: axis.at(bar, 1),
        y1: y(value),
        y2: y(value),
        'stroke-width': 2.5,
        ...strokeOf(player),
      })
    : element('circle', { class: 'figure', cx: x, cy: y(value), r: 2.6, fill: player.pen.hue });
  return element('g', { class: 'point', ...data }, whisker + mark);
};

const drawnField = (field: Field, chart: Chart, axis: BarAxis, top: number): string => {
  const y = scaleOf(field, top);
  const end = axis.lines.at(-1) ?? left;
  const small = { 'font-size': 11, fill: pencil };
  const edge = { ...small, x: left - 6, 'text-anchor': 'end' };
  return element(
    'g',
    { class: 'field' },
    [
      label(field.head, { x: left, y: top - 8, 'font-size': 13, fill: ink }),
      label(field.above, { ...edge, y: top + 10 }),
      label(field.below, { ...edge, y: top + fieldHeight - 2 }),
      ...axis.lines.map((x) =>
        element('line', {
          class: 'bar-line',
          x1: x,
          x2: x,
          y1: top,
          y2: top + fieldHeight,
          stroke: pencil,
          'stroke-width': 0.75,
        }),
      ),
      ...(field.base === null
        ? []
        : [
            element('line', {
              class: 'base',
              x1: left,
              x2: end,
              y1: y(field.base),
              y2: y(field.base),
              stroke: pencil,
              'stroke-width': 0.75,
            }),
          ]),
      ...marksOf(field, y).map((value) =>
        label(markText(value, chart), { ...small, class: 'mark', x: end + 5, y: y(value) + 4 }),
      ),
      ...chart.bars.map((bar, i) =>
        label(bar.label, { ...small, x: axis.at(i, 0) + 3, y: top + fieldHeight + 13 }),
      ),
      ...field.points.map((point) => drawnPoint(point, chart, axis, y)),
    ].join(''),
  );
};

const drawnLegend = ({ players }: Chart, y: number): string =>
  players
    .filter(({ name }) => name !== '')
    .map((player, i) => {
      const x = left + 150 * i;
      const line = { x1: x, x2: x + 28, y1: y, y2: y, 'stroke-width': 2.5, ...strokeOf(player) };
      return (
        element('line', { class: 'pen', ...line }) +
        label(player.name, { x: x + 34, y: y + 4, 'font-size': 12, fill: ink })
      );
    })
    .join('');

/** Draws a chart. Nothing is coloured for being large or small: hue and line style are the player's. */
export const drawn = (chart: Chart): Drawn => {
  const axis = barAxis(chart.bars, chart.perBar);
  const words = Math.max(...chart.fields.map(({ head }) => head.length));
  const width = Math.max(axis.width, left + 150 * chart.players.length, left + perLetter * words);
  const top = (i: number): number => head + 14 + i * (fieldHeight + gap);
  const height = top(chart.fields.length) + (chart.players.some(({ name }) => name !== '') ? legend : 0) - 14;
  const content = [
    element('title', {}, escaped(chart.title)),
    element('desc', {}, escaped(chart.alternative)),
    label(chart.title, { x: left, y: 20, 'font-size': 15, fill: ink }),
    ...chart.fields.map((field, i) => drawnField(field, chart, axis, top(i))),
    drawnLegend(chart, height - 16),
  ];
  const svg = element(
    'svg',
    {
      xmlns: 'http://www.w3.org/2000/svg',
      viewBox: `0 0 ${Math.ceil(width)} ${Math.ceil(height)}`,
      width,
      height,
      role: 'img',
      'font-family': "Tinos, 'Times New Roman', serif",
    },
    content.join(''),
  );
  return { svg: `${svg}\n`, alternative: chart.alternative };
};
