/**
 * The recording's clock from the clicks that are heard in it. A line through (time on the drill, time in the recording)
 * of all clicks found near where they are expected, by iteratively reweighted least squares with Tukey's biweight
 * (Beaton and Tukey 1974), so that a note taken for a click does no harm.
 */
import { bin, type ClickLikeness } from './clickPeaks.ts';
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
export const latestBegin = 60;

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
const peakNear = (values: Float32Array, time: number, width: number): { at: number; size: number } | null => {
  const from = Math.max(1, Math.round((time - width) * listeningRate));
  const to = Math.min(values.length - 2, Math.round((time + width) * listeningRate));
  let best = -1;
  let size = 0;
  for (let n = from; n <= to; n += 1) {
    if ((values[n] ?? 0) > size) {
      size = values[n] ?? 0;
      best = n;
    }
  }
  if (best < 0) return null;
  const [a, b, c] = [values[best - 1] ?? 0, values[best] ?? 0, values[best + 1] ?? 0];
  const bend = a - 2 * b + c;
  const shift = bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (a - c)) / bend)) : 0;
  return { at: (best + shift) / listeningRate, size };
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

/** Seconds on each side of where a click is expected. */
const window = 0.012;
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

/** Once the line is known, softer clicks are found too: near it, and against their surroundings. */
const nearWindow = 0.004;
const softEnough = 1.5;

const nearby = (
  likeness: ClickLikeness,
  clicks: readonly ExpectedClick[],
  { offset, slope }: Pick<Line, 'offset' | 'slope'>,
): readonly Found[] =>
  clicks.flatMap(({ time, first }) => {
    const peak = peakNear(first ? likeness.first : likeness.beat, offset + slope * time, nearWindow);
    if (peak === null) return [];
    const bins = first ? likeness.firstBins : likeness.beatBins;
    const clear = bins[Math.floor((peak.at * listeningRate) / bin)] ?? 0;
    return clear >= softEnough ? [{ drill: time, heard: peak.at, clear }] : [];
  });

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
  const found: Found[] = [];
  let line: Pick<Line, 'offset' | 'slope'> = { offset: closer(likeness, clicks, offset), slope: 1 };
  let expected = 0;
  let refit = 8;
  for (const { time, first } of clicks) {
    const at = line.offset + line.slope * time;
    if (at < 0 || at > end) continue;
    expected += 1;
    const peak = peakNear(first ? likeness.first : likeness.beat, at, window);
    if (peak === null) continue;
    const bins = first ? likeness.firstBins : likeness.beatBins;
    const clear = bins[Math.floor((peak.at * listeningRate) / bin)] ?? 0;
    if (clear >= clearEnough) found.push({ drill: time, heard: peak.at, clear });
    if (found.length < refit) continue;
    line = fit(found.slice(-400), line);
    refit = Math.ceil(found.length * 1.3) + 4;
  }
  if (found.length < Math.max(2, Math.min(4, expected))) return null;
  line = fit(found, line);
  const all = nearby(likeness, clicks, line);
  const final = fit(all.length >= found.length ? all : found, line);
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
