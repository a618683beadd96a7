/** Where notes are to be expected once most of them were heard: the tempo of all players, and by how much each is ahead of it or behind it. */
import type { MixNote } from './types.ts';

/** A beginning that was surely heard. */
interface Heard {
  readonly part: number;
  /** Seconds in the drill. */
  readonly written: number;
  /** Seconds in the recording. */
  readonly beat: number;
}

/** Seconds of the drill on each side that say how fast it goes; wider until there are enough. Our choice: some two bars in all. */
const [band, widest, enough, wider] = [1.5, 6, 8, 1.4];
const least = 3;
/** Tukey's constant for 95 % efficiency (from memory), and the least scatter in seconds that it is taken of. */
const [biweight, leastScatter] = [4.685, 0.015];
/** A course below a third of what is written or above three times it is a slip. */
const slowest = 1 / 3;
/** Weight of the written tempo, in square seconds of a note away: few notes do not bend it. */
const pull = 0.1;

const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
};

/** Index of the first of these that is written at `time` or after. */
const firstFrom = (heard: readonly Heard[], time: number): number => {
  let [low, high] = [0, heard.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((heard[middle]?.written ?? 0) < time) low = middle + 1;
    else high = middle;
  }
  return low;
};

/** When what is written at `time` is played: a local line (Cleveland 1979, tricube weights), robust by Tukey's biweight. `heard`: by time written. */
const courseAt = (heard: readonly Heard[], time: number): number | null => {
  let near: readonly Heard[] = [];
  let reach = band;
  for (; ; reach *= wider) {
    near = heard.slice(firstFrom(heard, time - reach), firstFrom(heard, time + reach));
    if (near.length >= enough || reach > widest) break;
  }
  if (near.length < least) return null;
  const points = near.map(({ written, beat }) => ({ x: written - time, y: beat }));
  let slope = 1;
  let at = median(points.map(({ x, y }) => y - x));
  for (let round = 0; round < 6; round += 1) {
    const off = points.map(({ x, y }) => y - at - slope * x);
    const limit = biweight * Math.max(leastScatter, 1.4826 * median(off.map(Math.abs)));
    let [sw, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
    points.forEach(({ x, y }, n) => {
      const u = (off[n] ?? 0) / limit;
      if (Math.abs(u) >= 1) return;
      const w = (1 - u * u) ** 2 * (1 - Math.min(1, Math.abs(x) / reach) ** 3) ** 3;
      [sw, sx, sy, sxx, sxy] = [sw + w, sx + w * x, sy + w * y, sxx + w * x * x, sxy + w * x * y];
    });
    if (sw < 0.5) break;
    const raw = (sxy - (sx * sy) / sw + pull) / (sxx - (sx * sx) / sw + pull);
    slope = Math.max(slowest, Math.min(1 / slowest, raw));
    at = sy / sw - (slope * sx) / sw;
  }
  return at;
};

/**
 * Where each note is to be expected, in seconds of the recording: by the tempo of all players together, and by its player's own usual lead. `beats`: what
 * was surely heard, null elsewhere. Where too little was heard around a note it stays where it was.
 */
export const redrawn = (notes: readonly MixNote[], beats: readonly (number | null)[]): Float64Array => {
  const heard = notes
    .flatMap(({ part, written }, i): readonly Heard[] => {
      const beat = beats[i] ?? null;
      return beat === null ? [] : [{ part, written, beat }];
    })
    .sort((a, b) => a.written - b.written);
  const known = new Map<number, number | null>();
  const course = (written: number): number | null => {
    const there = known.get(written);
    if (there !== undefined) return there;
    const at = courseAt(heard, written);
    known.set(written, at);
    return at;
  };
  const leads = new Map<number, number>();
  for (const part of new Set(notes.map((note) => note.part))) {
    const off = heard.flatMap((one) => {
      const at = one.part === part ? course(one.written) : null;
      return at === null ? [] : [one.beat - at];
    });
    leads.set(part, off.length > 5 ? median(off) : 0);
  }
  return Float64Array.from(notes, ({ part, written, time }) => {
    const at = course(written);
    return at === null ? time : at + (leads.get(part) ?? 0);
  });
};
