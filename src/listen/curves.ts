/** The curves around a note, kept small for an hour's notes, and what of them the model of note beginnings is shown. */
import type { NoteView } from './noteView.ts';

export interface Curves {
  /** Of each curve, at the view's frames. */
  readonly frames: number;
  /**
   * One row after another: the note's partials together, its upper partials, the whole sound over 2 and over 10 ms (quarters of a dB above
   * 60 dB below each curve's highest), novelty (240ths).
   */
  readonly bytes: Uint8Array;
}

const depth = 60;
const perDecibel = 4;
const most = 240;

/** Frames on each side of a candidate that are shown, and from one to the next. */
const reach = 50;
const step = 2;
const levels = 4;
/** Numbers shown of each curve. */
const shown = (2 * reach) / step + 1;

const levelBytes = (curve: Float64Array): Uint8Array => {
  const top = curve.reduce((high, value) => Math.max(high, value), -Infinity);
  return Uint8Array.from(curve, (value) =>
    Math.max(0, Math.min(most, Math.round(perDecibel * (value - top + depth)))),
  );
};

/** Keeps the curves of a view. */
export const curvesOf = ({ own, high, fine, smooth, novelty, frames }: NoteView): Curves => {
  const bytes = new Uint8Array((levels + 1) * frames);
  [own, high, fine, smooth].forEach((curve, row) => {
    bytes.set(levelBytes(curve), row * frames);
  });
  bytes.set(
    Uint8Array.from(novelty, (value) => Math.round(most * Math.min(1, value))),
    levels * frames,
  );
  return { frames, bytes };
};

/**
 * The curves within 100 ms of a frame, every 4 ms: levels in units of 20 dB against the highest that is shown, 0 to -3; novelty in halves.
 * The same as `windows` in training/onsets/data.py.
 */
export const windowsOf = ({ frames, bytes }: Curves, frame: number): Float32Array => {
  const out = new Float32Array((levels + 1) * shown);
  for (let row = 0; row <= levels; row += 1) {
    let high = 0;
    for (let k = 0; k < shown; k += 1) {
      const f = Math.max(0, Math.min(frames - 1, frame - reach + step * k));
      const value = bytes[row * frames + f] ?? 0;
      out[row * shown + k] = value;
      high = Math.max(high, value);
    }
    for (let k = row * shown; k < (row + 1) * shown; k += 1)
      out[k] = row < levels ? ((out[k] ?? 0) - high) / (20 * perDecibel) : (2 * (out[k] ?? 0)) / most;
  }
  return out;
};
