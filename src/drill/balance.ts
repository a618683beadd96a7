/** Slurs, wedges, brackets and the like reach from a start to a stop; an extract keeps only those it holds whole. */
import type { Direction } from '../score/model.ts';

/** Whether each of a row of starts and stops has its partner: a stop closes the latest open start of its kind. */
export const partnered = (
  row: readonly { readonly type: 'start' | 'stop' | 'other'; readonly key: string }[],
): readonly boolean[] => {
  const result = row.map(({ type }) => type === 'other');
  const open = new Map<string, number[]>();
  row.forEach(({ type, key }, i) => {
    const waiting = open.get(key) ?? [];
    if (type === 'start') open.set(key, [...waiting, i]);
    if (type !== 'stop') return;
    const start = waiting.at(-1);
    if (start === undefined) return;
    result[start] = true;
    result[i] = true;
    open.set(key, waiting.slice(0, -1));
  });
  return result;
};

const lines = new Set<Direction['kind']>(['wedge', 'octaveShift', 'pedal', 'dashes', 'bracket']);

const typeOf = ({ kind, value }: Direction): 'start' | 'stop' | 'other' => {
  if (!lines.has(kind)) return 'other';
  if (value === 'stop' || value.startsWith('stop')) return 'stop';
  return value === 'continue' || value === 'change' ? 'other' : 'start';
};

/** Directions without the lines that only begin or only end here. */
export const balancedDirections = (row: readonly Direction[]): readonly Direction[] => {
  const kept = partnered(
    row.map((direction) => ({
      type: typeOf(direction),
      key: `${direction.kind} ${direction.number} ${direction.staff}`,
    })),
  );
  return row.filter((_, i) => kept[i] === true);
};
