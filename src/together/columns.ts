/** What each column of a table of onsets is: a player's onsets, a place in the music, or a remark. */
import type { Cell, PlainTable } from './csv.ts';

/** Words that stand for "nothing here". */
const blanks = new Set(['', '-', '.', 'na', 'n/a', 'nan', 'null', 'none', 'nil', '?']);

export const isBlank = ({ text }: Cell): boolean => blanks.has(text.toLowerCase());

/**
 * A number as tables write it: "12.5", "1e-3", "+.5", and, where the separator is not a comma, "12,5". Null for all else, so
 * for "1,234.5", "0x10" and "Infinity".
 */
export const numberIn = (text: string, separator: PlainTable['separator']): number | null => {
  const plain = separator !== ',' && /^[^.,]*,[^.,]*$/.test(text) ? text.replace(',', '.') : text;
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,3})?$/i.test(plain)) return null;
  const value = Number(plain);
  return Number.isFinite(value) ? value : null;
};

export type ColumnKind = 'bar' | 'beat' | 'position' | 'click' | 'remark' | 'player';

/** Names, in small letters, of columns that place a row in the music. Where they do, is said in docs/formats/together.md. */
const placing: Readonly<Record<string, ColumnKind>> = {
  bar: 'bar',
  measure: 'bar',
  beat: 'beat',
  position: 'position',
  beats: 'position',
  click: 'click',
};

/** Names, in small letters, of columns that are never a player's. */
const remarks = new Set([
  'label',
  'index',
  'row',
  'n',
  'no',
  'nr',
  'id',
  'piece',
  'section',
  'note',
  'comment',
  'remark',
  'place',
  'pass',
  'rep',
  'repetition',
]);

export interface Column {
  readonly name: string;
  /** From 0. */
  readonly index: number;
  readonly kind: ColumnKind;
  /** Why a column that is not named as a remark is not taken as a player's; null for all others. */
  readonly why: 'no-times' | 'empty' | null;
}

/** Steps back, as a share of all, beyond which numbers are no times of one player. */
const mostBack = 0.02;

/** Whether numbers go forward as times do: nearly never back, nor stand still all along. */
const goForward = (values: readonly number[]): boolean => {
  const steps = values.slice(1).map((value, i) => value - (values[i] ?? value));
  const back = steps.filter((step) => step < 0).length;
  const on = steps.filter((step) => step > 0).length;
  return back <= Math.max(2, mostBack * steps.length) && (steps.length < 3 || on > steps.length / 2);
};

/**
 * What a column is. By name where the name says it; else a column in which more than half of what is filled is no
 * number is a remark, and one whose numbers do not go forward (a count that begins anew, a tempo) is none of
 * times. `players`: names that the user says are players, in small letters; null where nothing is said.
 */
export const columnOf = (
  name: string,
  index: number,
  cells: readonly Cell[],
  separator: PlainTable['separator'],
  players: ReadonlySet<string> | null,
): Column => {
  const word = name.toLowerCase();
  const of = (kind: ColumnKind, why: Column['why'] = null): Column => ({ name, index, kind, why });
  if (players?.has(word) === true) return of('player');
  const placed = Object.hasOwn(placing, word) ? placing[word] : undefined;
  if (placed !== undefined) return of(placed);
  if (players !== null || remarks.has(word)) return of('remark');
  const filled = cells.filter((cell) => !isBlank(cell));
  if (filled.length === 0) return of('remark', 'empty');
  const numbers = filled.flatMap(({ text }) => numberIn(text, separator) ?? []);
  if (numbers.length < filled.length / 2) return of('remark', 'no-times');
  return goForward(numbers) ? of('player') : of('remark', 'no-times');
};
