/** A source of numbers, 0 <= x < 1. */
export type Random = () => number;

/**
 * A seeded source of randomness: the same seed gives the same numbers everywhere. Mulberry32, T. Ettinger 2017,
 * public domain (from memory); good enough for tests and simulation, not for secrets.
 */
export const seeded = (seed: number): Random => {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
};
