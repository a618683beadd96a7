/**
 * The recording's clock from the clicks that are heard in it. A line through (time on the drill, time in the recording)
 * of all clicks found near where they are expected, by iteratively reweighted least squares with Tukey's biweight
 * (Beaton and Tukey 1974), so that a note taken for a click does no harm.
 */
import { bin, type ClickLikeness, type Curve } from './clickPeaks.ts';
import { listeningRate, type Clock, type ExpectedClick } from './model.ts';

/** Seconds of clicks, from the first on, by which the beginning is sought: within them 100 ppm are 4 ms. */
const searched = 40;
/** Largest clock error that is followed, in ppm: ten times that of a poor crystal. */
const mostPpm = 1000;

/** One value for each bin of a possible offset; the first bin stands for `least` seconds. */
export interface OffsetScores {
  readonly least: number;
  readonly scores: Float32Array;
}

/** Offsets that are tried: the recording may begin a minute late, or any time early. */
const latestBegin = 60;

/** Beats before the first click that have to be silent, and seconds within which a beat is taken. */
const silentBefore = 8;
const sameBeat = 0.05;

/**
 * Where a click would be taken for the drill's own and none is: the beats before the first one and in the gaps between
 * clicks. They tell a bar from the next one, where all else repeats.
 */
const silentBeats = (clicks: readonly ExpectedClick[]): readonly number[] => {
  const times = clicks.map(({ time }) => time);
  const gaps = times.slice(1).map((time, i) => time - (times[i] ?? 0));
  const beat = Math.max(0.2, Math.min(...gaps));
  const [first, last] = [times[0] ?? 0, times.at(-1) ?? 0];
  if (gaps.length === 0) return [];
  const before = Array.from({ length: silentBefore }, (_, k) => first - (k + 1) * beat);
  const between = times.slice(1).flatMap((time, i) => {
    const from = times[i] ?? 0;
    const count = Math.round((time - from) / beat);
    return Array.from({ length: Math.max(0, count - 1) }, (_, k) => from + ((k + 1) * (time - from)) / count);
  });
  return [...before, ...between].filter((time) => time < last - sameBeat);
};

/** How well the clicks fit at each possible offset: the mean likeness, 1 where nothing stands out. */
export const clickScores = (
  { beatBins, firstBins, character }: Pick<ClickLikeness, 'beatBins' | 'firstBins' | 'character'>,
  clicks: readonly ExpectedClick[],
): OffsetScores => {
  const step = bin / listeningRate;
  const begin = clicks[0]?.time ?? 0;
  const used = clicks.filter(({ time }) => time <= begin + searched);
  const least = -Math.min(latestBegin, used.at(-1)?.time ?? 0);
  const count = Math.max(1, beatBins.length - Math.floor(least / step));
  const scores = new Float32Array(count);
  const shift = Math.round(least / step);
  for (const { time, first } of used) {
    const own = first ? firstBins : beatBins;
    const at = Math.round(time / step) + shift;
    for (let o = 0; o < count; o += 1) {
      const b = o + at;
      const near = Math.max(own[b - 1] ?? 1, own[b] ?? 1, own[b + 1] ?? 1);
      // The characters tell beats from first beats; they differ by about a tenth in what a room leaves of them.
      const kind = Math.max(-0.1, Math.min(0.1, (first ? -1 : 1) * (character[b] ?? 0)));
      scores[o] = (scores[o] ?? 0) + near * (1 + 2 * kind);
    }
  }
  for (const time of silentBeats(used)) {
    const at = Math.round(time / step) + shift;
    for (let o = 0; o < count; o += 1) {
      const b = o + at;
      scores[o] = (scores[o] ?? 0) - Math.max(beatBins[b] ?? 1, firstBins[b] ?? 1);
    }
  }
  for (let o = 0; o < count; o += 1) scores[o] = (scores[o] ?? 0) / Math.max(1, used.length);
  return { least: shift * step, scores };
};

interface Found {
  readonly drill: number;
  readonly heard: number;
  /** Likeness against its surroundings. */
  readonly clear: number;
}

/** The place of the largest value near a time, by a parabola through it and its neighbours; in seconds. */
const peakNear = (curve: Curve, time: number, width: number): { at: number; size: number } | null => {
  const from = Math.max(1, Math.round((time - width) * listeningRate));
  const to = Math.min(curve.length - 2, Math.round((time + width) * listeningRate));
  if (to < from) return null;
  const values = curve.piece(from - 1, to + 2);
  let best = -1;
  let size = 0;
  for (let n = 1; n < values.length - 1; n += 1) {
    if ((values[n] ?? 0) > size) {
      size = values[n] ?? 0;
      best = n;
    }
  }
  if (best < 0) return null;
  const [a, b, c] = [values[best - 1] ?? 0, values[best] ?? 0, values[best + 1] ?? 0];
  const bend = a - 2 * b + c;
  const shift = bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (a - c)) / bend)) : 0;
  return { at: (from - 1 + best + shift) / listeningRate, size };
};

interface Line {
  readonly offset: number;
  readonly slope: number;
  /** Spread of what fits, in seconds. */
  readonly spread: number;
  readonly offsetError: number;
  readonly slopeError: number;
  readonly fitting: number;
}

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? (sorted[half] ?? 0) : ((sorted[half - 1] ?? 0) + (sorted[half] ?? 0)) / 2;
};

/** Clicks of less than this stretch, in seconds, tell no rate: it is then taken as true. */
const leastStretch = 4;
/** Standard deviation in ppm that clocks of recorders have before anything is known of them. Common practice, no source. */
const priorPpm = 50;
/** Seconds: what is never known better, as the click's own path through air and filters is not. */
const floorError = 0.0003;

const fit = (found: readonly Found[], before: Pick<Line, 'offset' | 'slope'>): Line => {
  let { offset, slope } = before;
  let spread = 0.003;
  let [sw, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  let used = 0;
  for (let round = 0; round < 12; round += 1) {
    const residuals = found.map(({ drill, heard }) => heard - offset - slope * drill);
    if (round > 0) spread = Math.max(0.0002, 1.4826 * median(residuals.map(Math.abs)));
    const limit = 4.685 * spread;
    [sw, sx, sy, sxx, sxy, used] = [0, 0, 0, 0, 0, 0];
    // The rate is drawn to 1 as strongly as clocks are known to be right.
    found.forEach(({ drill, heard, clear }, i) => {
      const u = (residuals[i] ?? 0) / limit;
      if (Math.abs(u) >= 1) return;
      const w = (1 - u * u) ** 2 * Math.min(1, Math.max(0.05, (clear - 1) / 3));
      used += 1;
      sw += w;
      sx += w * drill;
      sy += w * (heard - drill);
      sxx += w * drill * drill;
      sxy += w * drill * (heard - drill);
    });
    if (sw === 0) break;
    const middle = sx / sw;
    const wide = sxx - sx * middle + (spread / (priorPpm * 1e-6)) ** 2;
    const excess = (sxy - sx * (sy / sw)) / wide;
    slope = 1 + excess;
    offset = sy / sw - excess * middle;
  }
  const middle = sx / Math.max(sw, 1e-9);
  const wide = Math.max(1e-9, sxx - sx * middle + (spread / (priorPpm * 1e-6)) ** 2);
  const slopeError = spread / Math.sqrt(wide);
  const offsetError = Math.hypot(spread / Math.sqrt(Math.max(sw, 1)), slopeError * middle, floorError);
  return { offset, slope, spread, offsetError, slopeError, fitting: used };
};

/** A click counts as heard from here on, against its surroundings. */
const clearEnough = 2.5;

/** Seconds on each side of a first offset in which the true one lies. */
const rough = 0.025;

/** A first offset brought to within a millisecond, by the middle of the first clicks' own peaks. */
const closer = (likeness: ClickLikeness, clicks: readonly ExpectedClick[], offset: number): number => {
  const shifts = clicks.slice(0, 24).flatMap(({ time, first }) => {
    const peak = peakNear(first ? likeness.first : likeness.beat, offset + time, rough);
    return peak === null ? [] : [peak.at - time];
  });
  return shifts.length === 0 ? offset : median(shifts);
};

/** Once a line is known, softer clicks are found too: near it, and against their surroundings. Seconds, one pass each. */
const windows = [0.006, 0.004, 0.002] as const;
const softEnough = 1.5;

const nearby = (
  likeness: ClickLikeness,
  clicks: readonly ExpectedClick[],
  { offset, slope }: Pick<Line, 'offset' | 'slope'>,
  window: number,
): readonly Found[] =>
  clicks.flatMap(({ time, first }) => {
    const peak = peakNear(first ? likeness.first : likeness.beat, offset + slope * time, window);
    if (peak === null) return [];
    const bins = first ? likeness.firstBins : likeness.beatBins;
    const clear = bins[Math.floor((peak.at * listeningRate) / bin)] ?? 0;
    return clear >= softEnough ? [{ drill: time, heard: peak.at, clear }] : [];
  });

/** Rates that are tried, in ppm, and offsets around the first one, in seconds. */
const tried = { most: 240, step: 8 } as const;
const shifts = Array.from({ length: 9 }, (_, k) => (k - 4) * 0.002);
/** What a rate of 50 ppm costs, in clicks that stand out by one more. */
const rateCost = 0.5;

/** The line on which the clicks stand out most, all of them together: noise and notes lie on none (Hough 1962). */
const bestLine = (
  { beatBins, firstBins }: ClickLikeness,
  clicks: readonly ExpectedClick[],
  offset: number,
): Pick<Line, 'offset' | 'slope'> => {
  let [best, most] = [{ offset, slope: 1 }, -Infinity];
  for (let ppm = -tried.most; ppm <= tried.most; ppm += tried.step)
    for (const shift of shifts) {
      const slope = 1 + ppm / 1e6;
      let score = -rateCost * (ppm / priorPpm) ** 2;
      for (const { time, first } of clicks) {
        const b = Math.round(((offset + shift + slope * time) * listeningRate) / bin - 0.5);
        const bins = first ? firstBins : beatBins;
        score += (bins[b] ?? 1) + 0.5 * ((bins[b - 1] ?? 1) + (bins[b + 1] ?? 1));
      }
      if (score > most) [best, most] = [{ offset: offset + shift, slope }, score];
    }
  return best;
};

/**
 * Follows the clicks from a first offset in seconds. Null where they do not stand out: fewer than four are heard (or
 * all, where there are fewer), or fewer than a quarter of those expected.
 */
export const followClicks = (
  likeness: ClickLikeness,
  clicks: readonly ExpectedClick[],
  offset: number,
): Clock | null => {
  const end = likeness.beat.length / listeningRate;
  let line = bestLine(likeness, clicks, closer(likeness, clicks, offset));
  for (const window of windows) line = fit(nearby(likeness, clicks, line, window), line);
  const all = nearby(likeness, clicks, line, windows.at(-1) ?? 0);
  const final = fit(all, line);
  const expected = clicks.filter(({ time }) => {
    const at = final.offset + final.slope * time;
    return at >= 0 && at <= end;
  }).length;
  const strong = all.filter(({ clear }) => clear >= clearEnough).length;
  if (strong < Math.max(2, Math.min(4, expected))) return null;
  const ppm = (final.slope - 1) * 1e6;
  if (final.fitting < Math.max(2, 0.25 * expected) || Math.abs(ppm) > mostPpm) return null;
  const stretch = (all.at(-1)?.drill ?? 0) - (all[0]?.drill ?? 0);
  return {
    offset: final.offset,
    ppm: stretch < leastStretch ? 0 : ppm,
    offsetError: final.offsetError,
    ppmError: stretch < leastStretch ? priorPpm : Math.max(0.1, final.slopeError * 1e6),
    by: 'clicks',
    clicksHeard: final.fitting,
    clicksExpected: expected,
  };
};
