/**
 * How the eighths (or sixteenths) of an irregular metre are grouped into beats: as the player says, as the notes are
 * beamed, or in the usual way.
 */
import type { Bar, Score } from '../score/model.ts';
import type { WrittenNote } from '../score/notes.ts';
import { F, type Beats } from '../units/index.ts';

/** Reads "2+2+3". Null where it is not a list of whole numbers from 1 to 16. */
export const parseGroups = (text: string): readonly number[] | null => {
  if (!/^\s*\d{1,2}(\s*\+\s*\d{1,2})*\s*$/.test(text)) return null;
  const groups = text.split('+').map(Number);
  return groups.every((size) => size >= 1 && size <= 16) ? groups : null;
};

/** Common practice, no source: twos with a three at the end; eight as 3+3+2; sixteenths in fours where they fit. */
export const usualGroups = (count: number, unit: number): readonly number[] => {
  if (unit >= 16 && count % 4 === 0) return Array.from({ length: count / 4 }, () => 4);
  if (count === 8) return [3, 3, 2];
  const twos = Array.from({ length: Math.floor((count - (count % 2 === 1 ? 3 : 0)) / 2) }, () => 2);
  return count % 2 === 1 ? [...twos, 3] : twos;
};

/** All ways to divide `count` into twos and threes, up to 13; beyond that none are tried. */
const divisions = (count: number): readonly (readonly number[])[] => {
  if (count === 0) return [[]];
  if (count > 13) return [];
  return [2, 3]
    .filter((size) => size <= count)
    .flatMap((size) => divisions(count - size).map((rest) => [size, ...rest]));
};

/** A beamed group, in units of the metre's lower value from the bar's start; [start, end). */
interface Span {
  readonly start: number;
  readonly end: number;
}

/** The beamed groups of one bar and part whose ends lie on the metre's unit. */
const beamSpans = (written: readonly WrittenNote[], bar: Bar, unit: number): readonly Span[] => {
  const spans: Span[] = [];
  const open = new Map<string, Beats>();
  const units = (position: F.Fraction) => F.toNumber(F.mul(F.sub(position, bar.start), F.fraction(unit)));
  for (const piece of written) {
    if (piece.kind !== 'note' || piece.chord) continue;
    const [outer] = piece.beams;
    const stem = `${piece.staff} ${piece.voice}`;
    if (outer === 'begin') open.set(stem, piece.onset);
    const began = open.get(stem);
    if (outer !== 'end' || began === undefined) continue;
    const span = { start: units(began), end: units(F.add(piece.onset, piece.duration)) };
    if (Number.isInteger(span.start) && Number.isInteger(span.end)) spans.push(span);
    open.delete(stem);
  }
  return spans;
};

/** One for each beam that fills a group, minus one for each that runs over from one group into another unevenly. */
const agreement = (groups: readonly number[], spans: readonly Span[]): number => {
  const edges = new Set([0]);
  groups.reduce((sum, size) => {
    edges.add(sum + size);
    return sum + size;
  }, 0);
  return spans.reduce((sum, { start, end }) => {
    const inner = [...edges].some((edge) => edge > start && edge < end);
    if (!edges.has(start) || !edges.has(end)) return inner ? sum - 1 : sum;
    return inner ? sum : sum + 1;
  }, 0);
};

const best = (count: number, spans: readonly Span[]): readonly number[] | null => {
  const ranked = divisions(count)
    .map((groups) => ({ groups, score: agreement(groups, spans) }))
    .sort((a, b) => b.score - a.score);
  const [first, second] = ranked;
  return first !== undefined && first.score > 0 && first.score > (second?.score ?? -Infinity)
    ? first.groups
    : null;
};

/** Written notes of a part by bar index. */
const byBar = (written: readonly WrittenNote[]): ReadonlyMap<number, readonly WrittenNote[]> => {
  const map = new Map<number, WrittenNote[]>();
  for (const piece of written) {
    const list = map.get(piece.bar);
    if (list === undefined) map.set(piece.bar, [piece]);
    else list.push(piece);
  }
  return map;
};

/**
 * For each bar in an irregular metre (5/8, 7/8, 8/8, 5/16 ...) the groups that its beams show; where its own beams
 * do not decide, those that the beams of all bars in that metre show; else no entry.
 */
export const beamedGroups = (score: Score): ReadonlyMap<number, readonly number[]> => {
  const parts = score.parts.map(({ written }) => byBar(written));
  const spansOf = new Map<number, readonly Span[]>();
  const byMetre = new Map<string, { bars: Bar[]; spans: Span[]; count: number }>();
  for (const bar of score.bars) {
    const irregular = irregularCount(bar);
    if (irregular === null) continue;
    const spans = parts.flatMap((part) => beamSpans(part.get(bar.index) ?? [], bar, irregular.unit));
    spansOf.set(bar.index, spans);
    const key = `${irregular.count}/${irregular.unit}`;
    const entry = byMetre.get(key) ?? { bars: [], spans: [], count: irregular.count };
    entry.bars.push(bar);
    entry.spans.push(...spans);
    byMetre.set(key, entry);
  }
  const result = new Map<number, readonly number[]>();
  for (const { bars, spans, count } of byMetre.values()) {
    const overall = best(count, spans);
    for (const { index } of bars) {
      const groups = best(count, spansOf.get(index) ?? []) ?? overall;
      if (groups !== null) result.set(index, groups);
    }
  }
  return result;
};

/** Groups of one irregular metre that beams show and nobody would take without them. */
export interface ShownGroups {
  readonly count: number;
  readonly unit: number;
  readonly groups: readonly number[];
  /** In written order; at least one. */
  readonly bars: readonly Bar[];
}

/** The groups that are lost where the notes are, as in a plan of bars alone; by their first bar. */
export const shownGroups = (score: Score): readonly ShownGroups[] => {
  const beamed = beamedGroups(score);
  const found = new Map<string, ShownGroups & { readonly bars: Bar[] }>();
  for (const bar of score.bars) {
    const irregular = irregularCount(bar);
    const groups = beamed.get(bar.index);
    if (irregular === null || groups === undefined) continue;
    const { count, unit } = irregular;
    if (groups.join() === usualGroups(count, unit).join()) continue;
    const key = `${groups.join('+')}/${unit}`;
    const known = found.get(key);
    if (known === undefined) found.set(key, { count, unit, groups, bars: [bar] });
    else known.bars.push(bar);
  }
  return [...found.values()];
};

/** Count and unit of a metre that is counted in groups: one plain numerator over 8 or less, not simple or compound. */
export const irregularCount = ({ metre }: Pick<Bar, 'metre'>): { count: number; unit: number } | null => {
  const [component, ...more] = metre.components;
  const [count, ...others] = component?.numerators ?? [];
  if (component === undefined || count === undefined || more.length > 0 || others.length > 0) return null;
  return component.unit >= 8 && count > 4 && count % 3 !== 0 ? { count, unit: component.unit } : null;
};
