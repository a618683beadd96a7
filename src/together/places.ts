/** Where in the music the rows of a table stand. */
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import { isBlank, numberIn, type Column, type ColumnKind } from './columns.ts';
import type { Cell, PlainTable } from './csv.ts';
import { stepsOf, type Place, type Player } from './model.ts';
import { median } from './moments.ts';

/** What positions count in: the beats of the table, or its rows where these are evenly spaced in time. */
export type PlaceUnit = 'beats' | 'rows';

export interface Placed {
  readonly places: readonly Place[];
  readonly unit: PlaceUnit | null;
}

type Rows = readonly (readonly Cell[])[];

/** "2", "2.5", "2+1/2", "2 1/2" as a number. */
const beatIn = (text: string, separator: PlainTable['separator']): number | null => {
  const split = /^(\d+)\s*[+ ]\s*(\d+)\/(\d+)$/.exec(text);
  if (split !== null) {
    const [, whole = '0', n = '0', d = '1'] = split;
    return Number(d) === 0 ? null : Number(whole) + Number(n) / Number(d);
  }
  return numberIn(text, separator);
};

/** Bars in order: a new one with each new name; numbers that skip, skip bars. */
const barsOf = (rows: Rows, column: Column): readonly (number | null)[] => {
  let bar = -1;
  let name: string | null = null;
  return rows.map((row) => {
    const text = row[column.index]?.text ?? '';
    if (text === '') return bar < 0 ? null : bar;
    if (text !== name) {
      const skipped = name === null ? 1 : Number(text) - Number(name);
      bar += Number.isInteger(skipped) && skipped > 0 && skipped < 10_000 ? skipped : 1;
      name = text;
    }
    return bar;
  });
};

/** Share of intervals that may lie outside of these limits, as parts of the middle one, for rows to count as even. */
const mostUneven = 0.1;
const evenWithin = [0.65, 1.5] as const;

const rowsAreEven = (players: readonly Player[], places: readonly Place[]): boolean => {
  const paces = players.flatMap(({ onsets }) =>
    stepsOf(onsets, places).map(({ seconds, beats }) => seconds / beats),
  );
  const middle = median(paces);
  if (middle === null || paces.length < 3) return false;
  const [low, high] = evenWithin;
  const off = paces.filter((pace) => pace < middle * low || pace > middle * high).length;
  return off <= mostUneven * paces.length;
};

const numbersIn = (
  rows: Rows,
  column: Column,
  separator: PlainTable['separator'],
): Result<readonly (number | null)[]> => {
  const values: (number | null)[] = [];
  for (const row of rows) {
    const cell = row[column.index] ?? { text: '', line: row[0]?.line ?? 1 };
    const value = isBlank(cell) ? null : beatIn(cell.text, separator);
    if (value === null && !isBlank(cell)) {
      return fail(
        'beat-unreadable',
        `"${cell.text.slice(0, 40)}" under "${column.name}" is no beat; write 2, 2.5 or 2+1/2.`,
        { line: cell.line, column: column.index + 1 },
      );
    }
    values.push(value);
  }
  return ok(values);
};

const rises = (values: readonly (number | null)[]): boolean => {
  const there = values.flatMap((value) => value ?? []);
  return there.length > 1 && there.every((value, i) => i === 0 || value > (there[i - 1] ?? value));
};

/** Positions in beats from bars and beats, or from beats that run on; null where the table has neither. */
const positionsOf = (
  beats: readonly (number | null)[] | null,
  bars: readonly (number | null)[] | null,
): { readonly positions: readonly (number | null)[]; readonly perBar: number | null } | null => {
  if (beats === null) return null;
  if (rises(beats)) return { positions: beats, perBar: null };
  if (bars === null) return null;
  const perBar = Math.floor(beats.reduce<number>((most, beat) => Math.max(most, beat ?? 1), 1));
  const positions = beats.map((beat, i) => {
    const bar = bars[i] ?? null;
    return beat === null || bar === null ? null : bar * perBar + beat - 1;
  });
  return { positions, perBar };
};

/**
 * Places of the rows. A column "position" (or "beats") runs on in beats; "beat" counts within the bar of column "bar", or
 * runs on where it rises all through. Bars then have as many beats as the highest that is named (assumption
 * `bar-length-assumed`). Without them, rows are the unit where onsets show them evenly spaced (`rows-as-beats`); else tempo
 * and all that rests on it cannot be told (`rows-uneven`). Error: `beat-unreadable`.
 */
export const placesOf = (
  rows: Rows,
  columns: readonly Column[],
  players: readonly Player[],
  separator: PlainTable['separator'],
): Result<Placed> => {
  const find = (kind: ColumnKind): Column | undefined => columns.find((column) => column.kind === kind);
  const [barColumn, beatColumn, positionColumn] = [find('bar'), find('beat'), find('position')];
  const counted = positionColumn ?? beatColumn;
  const bars = barColumn === undefined ? null : barsOf(rows, barColumn);
  const beats = counted === undefined ? null : numbersIn(rows, counted, separator);
  if (beats?.ok === false) return beats;
  const placed = positionsOf(beats?.value ?? null, bars);
  const problems: Problem[] = [];
  const withBars = (
    positions: readonly (number | null)[],
    onLine: (i: number) => boolean,
  ): readonly Place[] =>
    rows.map((row, i) => ({
      beats: positions[i] ?? null,
      bar: bars?.[i] ?? null,
      barName: barColumn === undefined ? '' : (row[barColumn.index]?.text ?? ''),
      onBarLine: (bars?.[i] ?? null) !== null && onLine(i),
    }));
  const startsBar = (i: number): boolean => bars?.[i] !== bars?.[i - 1];
  if (placed !== null) {
    const { positions, perBar } = placed;
    if (perBar !== null) {
      problems.push(
        problem(
          'assumption',
          'bar-length-assumed',
          `Bars are taken to have ${perBar} beats, the highest that is named.`,
        ),
      );
    }
    const onLine = (i: number): boolean =>
      perBar === null ? startsBar(i) : (positions[i] ?? 0.5) % perBar === 0;
    return ok({ places: withBars(positions, onLine), unit: 'beats' }, problems);
  }
  const byRow = withBars(
    rows.map((_, i) => i),
    startsBar,
  );
  if (rowsAreEven(players, byRow)) {
    problems.push(
      problem(
        'assumption',
        'rows-as-beats',
        'The rows are evenly spaced in time: each is taken as one beat. A column "position" with beats from the beginning would say more.',
      ),
    );
    return ok({ places: byRow, unit: 'rows' }, problems);
  }
  problems.push(
    problem(
      'note',
      'rows-uneven',
      'The rows are not evenly spaced in time and no column "position" says where they stand: tempo, drift and correction are not told.',
    ),
  );
  return ok({ places: byRow.map((place) => ({ ...place, beats: null })), unit: null }, problems);
};
