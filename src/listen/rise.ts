/** Where a note may begin: rises of its partials, and what each of them looks like. */
import { frameStep, type NoteView } from './noteView.ts';

/** The shape of a rise in one curve of levels in dB. */
export interface Shape {
  /** dB from the lowest level before to the highest after. */
  readonly depth: number;
  /** Seconds in the recording at which 10, 50 and 90 % of the rise (in dB) are passed. */
  readonly at10: number;
  readonly at50: number;
  readonly at90: number;
  /** Seconds at which the level comes within 15 dB and within 25 dB of the highest; null where it never was lower. */
  readonly within15: number | null;
  readonly within25: number | null;
}

/** Where a curve passes a level, and from how far below. */
export interface Crossing {
  /** Seconds in the recording. */
  readonly at: number;
  /** dB from the lowest place before to the level. */
  readonly margin: number;
}

export interface Candidate {
  /** Frame of the view. */
  readonly frame: number;
  /** Seconds in the recording of the steepest place. */
  readonly at: number;
  /** Mean rise in dB of the best partials over 24 ms on each side. */
  readonly rise: number;
  /** Rise in dB of the whole sound over 10 ms on each side. */
  readonly sudden: number;
  /** Highest novelty within 12 ms, 0 to 1. */
  readonly novel: number;
  /**
   * Where the whole sound comes within 15 dB (over 10 ms) and within 40 dB (over 2 ms) of the note's highest level, in seconds; null where it
   * was never lower. And how far that highest level lies above the highest of the first 70 ms, in dB: slow notes grow.
   */
  readonly beat: Crossing | null;
  readonly first: Crossing | null;
  readonly growth: number;
  /** Of the note's partials, and of the whole sound over 2 and over 10 ms. */
  readonly own: Shape;
  readonly fine: Shape;
  readonly smooth: Shape;
  /** Highest level of the note's partials after it, in dB below full scale. */
  readonly top: number;
  /** Level of the whole sound after it less that of the note's partials, in dB. */
  readonly other: number;
}

const riseSpan = Math.round(0.024 / frameStep);
const suddenSpan = Math.round(0.01 / frameStep);
/** Share of the partials that count at each frame: a partial may be weak or covered. */
const bestShare = 0.6;
/** Seconds after the steepest place in which the highest level is sought, and before it for the lowest. */
const after = 0.07;
const before = 0.07;
/** No more candidates than this. */
const mostCandidates = 10;

const level = (curve: Float64Array, frame: number): number =>
  curve[Math.max(0, Math.min(curve.length - 1, frame))] ?? -Infinity;

/** Mean rise at each frame of the partials that rise most. */
const riseCurve = ({ partials, smooth, frames }: NoteView): Float64Array => {
  const curves = partials.length > 0 ? partials : [smooth];
  const count = Math.max(1, Math.ceil(bestShare * curves.length));
  return Float64Array.from({ length: frames }, (_, f) => {
    const rises = curves.map((curve) => level(curve, f + riseSpan) - level(curve, f - riseSpan));
    rises.sort((a, b) => b - a);
    let sum = 0;
    for (let i = 0; i < count; i += 1) sum += rises[i] ?? 0;
    return sum / count;
  });
};

/** Measures a rise around its steepest frame. */
const shapeOf = (curve: Float64Array, steepest: number, start: number): Shape => {
  const [from, to] = [steepest - Math.round(before / frameStep), steepest + Math.round(after / frameStep)];
  let [low, lowAt] = [Infinity, steepest];
  for (let f = steepest + 4; f >= Math.max(0, from); f -= 1)
    if (level(curve, f) < low) [low, lowAt] = [level(curve, f), f];
  let high = -Infinity;
  for (let f = lowAt; f <= to; f += 1) high = Math.max(high, level(curve, f));
  const crossing = (value: number): number => {
    let f = lowAt;
    while (f <= to && level(curve, f) < value) f += 1;
    const [a, b] = [level(curve, f - 1), level(curve, f)];
    const part = f > lowAt && b > a ? (value - a) / (b - a) : 1;
    return start + (f - 1 + part) * frameStep;
  };
  const depth = Math.max(0, high - low);
  return {
    depth,
    at10: crossing(low + 0.1 * depth),
    at50: crossing(low + 0.5 * depth),
    at90: crossing(low + 0.9 * depth),
    within15: depth > 17 ? crossing(high - 15) : null,
    within25: depth > 27 ? crossing(high - 25) : null,
  };
};

/** Where a curve reaches a level, after the lowest place before a frame; null: it was never lower, or never is higher. */
const reaches = (
  { start, frames }: NoteView,
  curve: Float64Array,
  frame: number,
  value: number,
): Crossing | null => {
  let f = Math.min(frames - 1, frame + 4);
  let low = f;
  for (const from = Math.max(0, frame - Math.round(before / frameStep)); f >= from; f -= 1)
    if (level(curve, f) < level(curve, low)) low = f;
  const margin = value - level(curve, low);
  if (margin <= 0) return null;
  f = low;
  while (f < frames && level(curve, f) < value) f += 1;
  if (f >= frames) return null;
  const [a, b] = [level(curve, f - 1), level(curve, f)];
  return { at: start + (f - 1 + (b > a ? (value - a) / (b - a) : 1)) * frameStep, margin };
};

/** How much novelty counts as how many dB of rise, where a note is repeated; and from how much on. */
const noveltyWorth = 25;
const leastNovelty = 0.25;

/** Candidates between two frames, the strongest first. `repeated`: the note before has the same pitch. */
export const candidatesOf = (
  view: NoteView,
  from: number,
  to: number,
  repeated: boolean,
): readonly Candidate[] => {
  const curve = riseCurve(view);
  const sudden = (f: number): number => level(view.fine, f + suddenSpan) - level(view.fine, f - suddenSpan);
  const burst = Float64Array.from({ length: view.frames }, (_, f) => sudden(f));
  const peaks: { f: number; rise: number; worth: number }[] = [];
  for (let f = Math.max(1, from); f <= Math.min(view.frames - 2, to); f += 1) {
    const rise = curve[f] ?? 0;
    const attack = burst[f] ?? 0;
    if (rise > 1.5 && rise >= (curve[f - 1] ?? 0) && rise > (curve[f + 1] ?? 0))
      peaks.push({ f, rise, worth: rise });
    // A repeated note may begin in the middle of its own ringing: then only the attack in the whole sound tells it.
    else if (attack > 3 && attack >= (burst[f - 1] ?? 0) && attack > (burst[f + 1] ?? 0))
      peaks.push({ f, rise, worth: 0.7 * attack });
    else if (repeated) {
      const novel = view.novelty[f] ?? 0;
      if (novel > leastNovelty && novel >= (view.novelty[f - 1] ?? 0) && novel > (view.novelty[f + 1] ?? 0))
        peaks.push({ f, rise, worth: noveltyWorth * novel });
    }
  }
  peaks.sort((a, b) => b.worth - a.worth);
  const chosen: typeof peaks = [];
  for (const peak of peaks) {
    if (chosen.length >= mostCandidates) break;
    if (chosen.every(({ f }) => Math.abs(f - peak.f) * frameStep >= 0.012)) chosen.push(peak);
  }
  return chosen.map(({ f, rise }) => {
    let [most, novel] = [0, 0];
    for (let d = -6; d <= 6; d += 1) {
      most = Math.max(most, burst[f + d] ?? 0);
      novel = Math.max(novel, view.novelty[f + d] ?? 0);
    }
    let [top, whole] = [-Infinity, -Infinity];
    for (let d = 0; d <= after / frameStep; d += 1) {
      top = Math.max(top, level(view.own, f + d));
      whole = Math.max(whole, level(view.smooth, f + d));
    }
    return {
      frame: f,
      at: view.start + f * frameStep,
      rise,
      sudden: most,
      novel,
      beat: reaches(view, view.smooth, f, view.peak - 15),
      first: reaches(view, view.fine, f, view.peak - 40),
      growth: view.peak - whole,
      own: shapeOf(view.own, f, view.start),
      fine: shapeOf(view.fine, f, view.start),
      smooth: shapeOf(view.smooth, f, view.start),
      top,
      other: whole - top,
    };
  });
};
