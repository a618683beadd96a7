/** All numbers of a reading as one plain table (RFC 4180), a figure a line: for spreadsheets and statistics. Columns: docs/formats/reading.md. */
import type { Figure, Reading } from './reading.ts';

/** In this order; later versions of Levare may add some at the end. */
export const readingColumns = [
  'what',
  'figure',
  'unit',
  'part',
  'other',
  'rep',
  'bar',
  'barIndex',
  'pass',
  'beat',
  'note',
  'value',
  'low',
  'high',
  'n',
] as const;
type Column = (typeof readingColumns)[number];

/** A line; what is left out is empty. */
export type ReadingRow = Partial<Readonly<Record<Column, string | number | null>>>;
type Line = ReadingRow;

interface Where {
  readonly rep: number;
  readonly bar: string;
  readonly barIndex: number;
  readonly pass: number;
}

const placed = ({ rep, bar, barIndex, pass }: Where): Line => ({ rep, bar, barIndex, pass });

/** Lines of one thing, of those of its figures that can be told. */
const told = (
  what: string,
  common: Line,
  figures: readonly (readonly [figure: string, unit: string, value: Figure | null])[],
): readonly Line[] =>
  figures.flatMap(([name, unit, figure]) =>
    figure === null ? [] : [{ what, figure: name, unit, ...common, ...figure }],
  );

const exact = (value: number | null): Figure | null =>
  value === null ? null : { value, low: null, high: null };

/** A measured time with its 95 % interval, from one standard deviation of normal errors. */
const timed = (value: number | null, deviation: number | null): Figure | null =>
  value === null || deviation === null
    ? exact(value)
    : { value, low: value - 1.96 * deviation, high: value + 1.96 * deviation };

const noteLines = ({ notes, written, lengths }: Reading): readonly Line[] => {
  const ratios = new Map(lengths.map(({ id, ratio }) => [id, ratio]));
  const shapes = new Map(written.map((one) => [one.id, one]));
  return notes.flatMap((note) => {
    const common = { ...placed(note), part: note.part, beat: note.beat, note: note.id };
    const shape = shapes.get(note.id);
    return told(`note-${note.state}`, common, [
      ['expected', 's', exact(note.expected)],
      ['onset', 's', timed(note.onset, note.uncertainty)],
      ['perceived', 's', timed(note.perceived, note.perceivedUncertainty)],
      ['offset', 's', exact(note.offset)],
      ['level', 'dB', exact(note.level)],
      ['cents', 'cent', exact(note.cents)],
      ['length', 'share', exact(ratios.get(note.id) ?? null)],
      ['asked-share', 'share', exact(shape?.share ?? null)],
      ['asked-level', 'dB', exact(shape?.level ?? null)],
    ]);
  });
};

const playerLines = (reading: Reading): readonly Line[] => [
  ...reading.clock.flatMap(({ part, offset, offsetError, ppm, ppmError, clicksHeard }) =>
    told('clock', { part, n: clicksHeard }, [
      ['offset', 's', timed(offset, offsetError)],
      ['rate', 'ppm', timed(ppm, ppmError)],
    ]),
  ),
  ...reading.pairs.flatMap(({ parts: [part, other], n, mean, sd, sdWithoutNoise, meanAbsolute }) =>
    told('pair', { part, other, n }, [
      ['mean', 'ms', mean],
      ['sd', 'ms', sd],
      ['sd-without-noise', 'ms', sdWithoutNoise],
      ['mean-absolute', 'ms', meanAbsolute],
    ]),
  ),
  ...reading.corrections.flatMap(({ part, to, n, gains }) =>
    gains.flatMap((gain, i) =>
      told('correction', { part, other: to[i] ?? '', n }, [['gain', 'share', gain]]),
    ),
  ),
  ...reading.timing.flatMap(({ part, n, clockSd, motorSd }) =>
    told('timing', { part, n }, [
      ['clock-sd', 'ms', clockSd],
      ['motor-sd', 'ms', motorSd],
    ]),
  ),
  ...reading.drift.flatMap(({ part, n, pace, percentPerMinute }) =>
    told('drift', { part, n }, [
      ['pace', 'percent', pace],
      ['growth', 'percent a minute', percentPerMinute],
    ]),
  ),
  ...reading.articulation.flatMap(({ part, ratio, n }) =>
    told('articulation', { part, n }, [['length', 'share', ratio]]),
  ),
  ...reading.articulationBetween.flatMap(({ parts: [part, other], difference, n }) =>
    told('articulation', { part, other, n: Math.min(...n) }, [['length-difference', 'share', difference]]),
  ),
  ...reading.evenness.flatMap(({ part, value, longShort, n }) =>
    told('evenness', { part, n }, [[`long-short ${value}`, 'factor', longShort]]),
  ),
  ...reading.evennessBetween.flatMap(({ parts: [part, other], value, ratio, n }) =>
    told('evenness', { part, other, n: Math.min(...n) }, [[`ratio ${value}`, 'factor', ratio]]),
  ),
];

const placeLines = (reading: Reading): readonly Line[] => [
  ...reading.tempo.flatMap((one) =>
    told('tempo', { ...placed(one), part: one.part, n: one.n }, [
      ['tempo', 'quarters a minute', one.perMinute],
      ['asked', 'quarters a minute', exact(one.asked)],
    ]),
  ),
  ...reading.barLines.flatMap((one) =>
    told('bar-line', { ...placed(one), part: one.part, beat: '1', n: one.n }, [
      ['late', 'ms', one.late],
      ['late-at-click', 'ms', one.lateAtClick],
    ]),
  ),
  ...reading.entries.flatMap((one) =>
    told(
      one.first ? 'first-entry' : 'entry',
      { ...placed(one), part: one.parts[0], other: one.parts[1], beat: one.beat },
      [['apart', 'ms', one.apart]],
    ),
  ),
  ...reading.seams.flatMap((one) =>
    told(
      'seam',
      { ...placed(one), part: one.to, other: one.from, beat: one.beat, n: Math.min(one.n.from, one.n.to) },
      [
        ['late', 'ms', one.late],
        ['level-before', 'dB', one.level.from],
        ['level-after', 'dB', one.level.to],
        ['length', 'share', one.length],
        ['level-slope-before', 'dB a quarter', one.levelSlope.before],
        ['level-slope-after', 'dB a quarter', one.levelSlope.after],
        ['tempo-slope-before', 'percent a quarter', one.tempoSlope.before],
        ['tempo-slope-after', 'percent a quarter', one.tempoSlope.after],
      ],
    ),
  ),
  ...reading.syncopations.flatMap((one) =>
    told('syncopation', { ...placed(one), part: one.part, beat: one.beat, n: one.n }, [
      ['late', 'ms', one.late],
    ]),
  ),
];

/** A cell that a spreadsheet takes for no formula: part names and ids may begin with any sign, numbers with a minus only. */
const cell = (value: string | number | null | undefined): string => {
  if (value === null || value === undefined) return '';
  if (typeof value === 'number') return String(Number(value.toPrecision(9)));
  const plain = /^[=+@\t-]/.test(value) ? `'${value}` : value;
  return /[",\n\r]/.test(plain) ? `"${plain.replace(/"/g, '""')}"` : plain;
};

/** The lines of the table: of the players, of places, of notes. */
export const readingRows = (reading: Reading): readonly ReadingRow[] => [
  ...playerLines(reading),
  ...placeLines(reading),
  ...noteLines(reading),
];

/** The table, with its names in the first line; lines end in CR LF. Same reading, same text. */
export const readingCsv = (reading: Reading): string => {
  const rows = readingRows(reading).map((line) =>
    readingColumns.map((column) => cell(line[column])).join(','),
  );
  return `${[readingColumns.join(','), ...rows].join('\r\n')}\r\n`;
};
