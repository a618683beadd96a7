/** A plain table of onsets read as what players played: a column for each player, a row for each place. */
import { countText, fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import { columnOf, isBlank, numberIn, type Column } from './columns.ts';
import { plainTable, type Cell, type PlainTable } from './csv.ts';
import type { Onset, Played, Player } from './model.ts';
import { median } from './moments.ts';
import { placesOf, type PlaceUnit } from './places.ts';

export interface OnsetTable extends Played {
  /** Onsets of the click, in seconds; null where the table has no such column. */
  readonly click: readonly Onset[] | null;
  /** What positions count in; null where the table does not tell and its rows are not evenly spaced. */
  readonly unit: PlaceUnit | null;
}

/** Median step between onsets from which on a table is taken to be in milliseconds, and in something finer still. */
const milliseconds = 50;
const finer = 10_000;

/** "1, 2 and 3" is for the command line; here names are quoted. */
const quoted = (names: readonly string[]): string => names.map((name) => `"${name}"`).join(', ');

const cellAt = (row: readonly Cell[], index: number): Cell =>
  row[index] ?? { text: '', line: row[0]?.line ?? 1 };

/** The numbers of a column, or the error at its first cell that is neither a number nor blank. */
const numbersOf = (
  { name, index }: Column,
  rows: readonly (readonly Cell[])[],
  separator: PlainTable['separator'],
): Result<readonly Onset[]> => {
  const values: Onset[] = [];
  for (const row of rows) {
    const cell = cellAt(row, index);
    if (isBlank(cell)) {
      values.push(null);
      continue;
    }
    const value = numberIn(cell.text, separator);
    if (value === null) {
      const comma = /^\d+,\d+$/.test(cell.text)
        ? ' Decimal commas need semicolons or tabs between columns.'
        : '';
      return fail(
        'onset-unreadable',
        `"${cell.text.slice(0, 40)}" under "${name}" is no number of seconds; leave the cell empty where nobody played.${comma}`,
        { line: cell.line, column: index + 1 },
      );
    }
    values.push(value);
  }
  return ok(values);
};

const headers = (
  [header, ...rows]: readonly (readonly Cell[])[],
  separator: PlainTable['separator'],
): Result<readonly (readonly Cell[])[]> => {
  if (header === undefined) return fail('table-empty', 'The table is empty.');
  if (header.every((cell) => isBlank(cell) || numberIn(cell.text, separator) !== null)) {
    return fail(
      'table-no-header',
      `The first line holds numbers only (${header[0]?.text ?? ''} ...); the names of the players should stand there.`,
      { line: header[0]?.line ?? 1 },
    );
  }
  if (rows.length === 0) return fail('table-empty', 'The table has a line of names and nothing below it.');
  for (const row of rows) {
    const extra = row.findIndex((cell, i) => i >= header.length && cell.text !== '');
    if (extra >= 0) {
      const { text, line } = cellAt(row, extra);
      return fail(
        'table-row-long',
        `This line has ${countText(row.length, 'cell', 'cells')}, the first has ${header.length}: "${text.slice(0, 40)}" stands under no name.`,
        { line, column: extra + 1 },
      );
    }
  }
  return ok(rows);
};

/** Rows that end early: their missing cells are blank. */
const shortRows = (rows: readonly (readonly Cell[])[], width: number): readonly Problem[] => {
  const short = rows.filter((row) => row.length < width);
  const [first] = short;
  if (first === undefined) return [];
  const line = first[0]?.line ?? 1;
  const what = countText(short.length, 'line has', 'lines have');
  return [
    problem(
      'repair',
      'table-row-short',
      `${what} fewer cells than the first line has names; what is missing is taken as blank.`,
      {
        line,
      },
    ),
  ];
};

const notTaken = (columns: readonly Column[]): readonly Problem[] => {
  const of = (why: Column['why']): readonly string[] =>
    columns.filter((column) => column.why === why).map(({ name }) => name);
  const [odd, empty] = [of('no-times'), of('empty')];
  return [
    ...(odd.length === 0
      ? []
      : [
          problem(
            'note',
            'column-no-times',
            `Not taken as players, for what stands there are no times that go forward: ${quoted(odd)}. --players names those that are meant.`,
          ),
        ]),
    ...(empty.length === 0
      ? []
      : [problem('note', 'column-empty', `Nothing stands under ${quoted(empty)}.`)]),
  ];
};

const backwards = (
  { name, onsets }: Player,
  index: number,
  rows: readonly (readonly Cell[])[],
): readonly Problem[] => {
  let before: number | null = null;
  const lines: number[] = [];
  for (const [i, time] of onsets.entries()) {
    if (time === null) continue;
    if (before !== null && time < before) lines.push(rows[i]?.[0]?.line ?? 1);
    before = time;
  }
  const [line] = lines;
  if (line === undefined) return [];
  return [
    problem(
      'note',
      'time-backwards',
      `${name}: ${countText(lines.length, 'onset is', 'onsets are')} earlier than the one above. Asynchronies are taken as they stand; tempo is not read across.`,
      { line, column: index + 1 },
    ),
  ];
};

/** By what the times are divided to be seconds; 0 where no unit fits. */
const divisorOf = (players: readonly Player[]): { readonly divisor: number; readonly step: number } => {
  const steps = players.flatMap(({ onsets }) => {
    const there = onsets.flatMap((time) => time ?? []);
    return there.slice(1).flatMap((time, i) => {
      const step = time - (there[i] ?? time);
      return step > 0 ? [step] : [];
    });
  });
  const step = median(steps) ?? 0;
  return { step, divisor: step >= finer ? 0 : step >= milliseconds ? 1000 : 1 };
};

/** Players whose times lie far from the first's: likely each on a clock of their own. */
const apart = (players: readonly Player[]): readonly Problem[] => {
  const [first, ...others] = players;
  return others.flatMap(({ name, onsets }) => {
    const gaps = onsets.flatMap((time, i) => {
      const other = first?.onsets[i] ?? null;
      return time === null || other === null ? [] : [time - other];
    });
    const gap = median(gaps) ?? 0;
    return Math.abs(gap) < 1
      ? []
      : [
          problem(
            'note',
            'clocks-apart',
            `${name} comes ${Math.abs(gap).toFixed(2)} s ${gap > 0 ? 'after' : 'before'} ${first?.name ?? ''} throughout: the recordings are likely not on one clock, or rows do not belong together.`,
          ),
        ];
  });
};

export interface TableOptions {
  /** Names of the columns that are players; null: as the table shows. */
  readonly players: readonly string[] | null;
}

/**
 * Reads a table (docs/formats/together.md). Errors: those of `plainTable`; `table-empty`, `table-no-header`,
 * `table-row-long`, `player-twice`, `player-unknown`, `players-missing`, `onset-unreadable`, `onset-unit-unclear`, and those of
 * places (`beat-unreadable`).
 */
export const readOnsetTable = (text: string, { players: named }: TableOptions): Result<OnsetTable> => {
  const table = plainTable(text);
  if (!table.ok) return table;
  const { separator } = table.value;
  const body = headers(table.value.rows, separator);
  if (!body.ok) return body;
  const rows = body.value;
  const header = table.value.rows[0] ?? [];
  const wanted = named === null ? null : new Set(named.map((name) => name.trim().toLowerCase()));
  const columns = header.map(({ text: name }, index) =>
    columnOf(
      name,
      index,
      rows.map((row) => cellAt(row, index)),
      separator,
      wanted,
    ),
  );
  const chosen = columns.filter(({ kind, name }) => kind === 'player' && name !== '');
  const seen = new Set<string>();
  for (const { name, index } of chosen) {
    if (seen.has(name.toLowerCase())) {
      return fail('player-twice', `Two columns are named "${name}"; give each player a name of their own.`, {
        line: header[0]?.line ?? 1,
        column: index + 1,
      });
    }
    seen.add(name.toLowerCase());
  }
  const unknown = (named ?? []).filter((name) => !seen.has(name.trim().toLowerCase()));
  if (unknown.length > 0) {
    return fail(
      'player-unknown',
      `There is no column ${quoted(unknown)}; there are ${quoted(header.map((cell) => cell.text))}.`,
    );
  }
  const remarks = notTaken(columns);
  if (chosen.length === 0) {
    return fail(
      'players-missing',
      `No column holds times of a player. ${remarks.map(({ message }) => message).join(' ')}`.trim(),
    );
  }
  const raw: (Player & { readonly index: number })[] = [];
  for (const column of chosen) {
    const onsets = numbersOf(column, rows, separator);
    if (!onsets.ok) return onsets;
    raw.push({ name: column.name, index: column.index, onsets: onsets.value });
  }
  const clickColumn = columns.find(({ kind }) => kind === 'click');
  const click = clickColumn === undefined ? null : numbersOf(clickColumn, rows, separator);
  if (click?.ok === false) return click;
  const { divisor, step } = divisorOf(raw);
  if (divisor === 0) {
    return fail(
      'onset-unit-unclear',
      `From one onset to the next it is ${Math.round(step)} here: these are neither seconds nor milliseconds but likely samples. Divide them by the sample rate.`,
    );
  }
  const scaled = (onsets: readonly Onset[]): readonly Onset[] =>
    onsets.map((time) => (time === null ? null : time / divisor));
  const players = raw.map(({ name, index, onsets }) => ({ name, index, onsets: scaled(onsets) }));
  const placed = placesOf(rows, columns, players, separator);
  if (!placed.ok) return placed;
  const problems = [
    ...shortRows(rows, header.length),
    ...remarks,
    ...(divisor === 1
      ? []
      : [
          problem(
            'assumption',
            'onsets-in-milliseconds',
            `From one onset to the next it is ${Math.round(step)} here: the times are taken as milliseconds.`,
          ),
        ]),
    ...players.flatMap((player) => backwards(player, player.index, rows)),
    ...apart(players),
    ...placed.problems,
  ];
  return ok(
    {
      players: players.map(({ name, onsets }) => ({ name, onsets })),
      click: click === null ? null : scaled(click.value),
      places: placed.value.places,
      unit: placed.value.unit,
    },
    problems,
  );
};
