/** The same place, played several times: one figure, with a narrower interval. */
import type { ReadingClock } from '../reading.ts';
import { systematic } from '../figure.ts';
import type { Seen, Sure } from './weigh.ts';

/** Half of a 95 % interval in standard deviations, as in the figures of a reading. */
const half95 = 1.96;

const halfOf = ({ low, high }: Sure): number => (high - low) / 2;

/**
 * The mean of several figures of one thing. Its interval holds what is unsure of each; what does not differ from time to time (`shared`, half of a 95 %
 * interval) and so is not averaged out; and, where the figures differ by more than they are unsure, what one time differs from another (DerSimonian &
 * Laird 1986, Control Clin Trials 7:177, their moment estimate with equal weights; from memory).
 */
export const pooled = (figures: readonly Sure[], shared = 0): Sure | null => {
  const [only] = figures;
  const k = figures.length;
  if (only === undefined || k === 1) return only ?? null;
  const value = figures.reduce((sum, one) => sum + one.value / k, 0);
  const variances = figures.map((one) => Math.max(0, halfOf(one) ** 2 - shared ** 2) / half95 ** 2);
  const within = variances.reduce((sum, one) => sum + one / k, 0);
  const around = figures.reduce((sum, one) => sum + (one.value - value) ** 2 / (k - 1), 0);
  const between = Math.max(0, around - within);
  const half = Math.hypot(half95 * Math.sqrt((within + between) / k), shared);
  return { value, low: value - half, high: value + half };
};

/** What is told of a place, of one time that it was played. */
export type Once = Omit<Seen, 'kind' | 'among' | 'unit' | 'toBar' | 'times'>;

/** Of figures in milliseconds between players on these clocks: what no repetition makes smaller. */
export const sharedBy = ({ parts }: Once, clock: readonly ReadingClock[]): number => {
  const own = clock.filter(({ part }) => parts.includes(part));
  return own.length === 0 ? 0 : systematic(parts, clock);
};

/** Repetitions of each place together, in the order in which they were first played. `shared`: as in `pooled`. */
export const pooledPlaces = (
  places: readonly Once[],
  shared: (place: Once) => number = () => 0,
): readonly (Once & { readonly times: number })[] => {
  const groups = new Map<string, Once[]>();
  for (const place of places) {
    const key = `${place.barIndex}/${place.pass}/${place.beat}/${place.parts.join(' ')}`;
    groups.set(key, [...(groups.get(key) ?? []), place]);
  }
  return [...groups.values()].flatMap((group) => {
    const [first] = group;
    if (first === undefined) return [];
    const own = Math.min(shared(first), ...group.map(({ figure }) => halfOf(figure)));
    const figure = pooled(
      group.map((one) => one.figure),
      own,
    );
    if (figure === null) return [];
    return [
      {
        ...first,
        figure,
        n: group.reduce((sum, { n }) => sum + n, 0),
        times: new Set(group.map(({ rep }) => rep)).size,
      },
    ];
  });
};
