/**
 * What the network of a mixture is told of one expected note (net.ts): its partials in windows of three spreads, the whole sound, and what the
 * score expects around it. The same code makes the material that the network is fitted to (training/mix).
 */
import { listeningRate } from '../model.ts';
import { phaseNovelty } from '../novelty.ts';
import { frameHop, partialWaves, spreads } from './featuresPartial.ts';
import { chord, highest, knownCount, partials, scoreRows, scoreView, shared } from './featuresScore.ts';
import type { WholeSound } from './featuresWhole.ts';
import type { MixNote } from './types.ts';

/** Frames on each side of the expected time: 180 ms. */
export const reach = 45;
export const width = 2 * reach + 1;
export const frameSeconds = frameHop / listeningRate;

const levelRows = spreads.length * partials;
/** Partials (spread by spread); level, high level, what covers the note heard by itself (`hearOthers`); suddenness, novelty. */
const heardRows = levelRows + 5;
const levelAt = levelRows;
const highAt = levelRows + 1;
const othersAt = levelRows + 2;
const fluxAt = levelRows + 3;
const noveltyAt = levelRows + 4;
export const rowCount = heardRows + scoreRows;
/** The known numbers, and two that say how loud the note's partials are. */
export const constantCount = knownCount + 2;

/** dB below the loudest that are shown. */
const depth = 60;
/** dB below which nothing is there to be shown. */
const silence = -120;
/** Frames between the two moments from which a third is foretold. */
const ahead = 3;

export interface HeardRows {
  /** `heardRows` rows of 2 x reach + 1 frames: dB for partials and levels; what is not looked at, as a partial too high, is -200. */
  readonly rows: Float32Array;
  readonly frames: number;
}

/** How far the partials are from where they would be if they went on in phase and size (Duxbury et al. 2003, DAFx), 0 to 1. */
const noveltyOf = (waves: readonly Float64Array[], f: number, frames: number): number => {
  const [at, now] = [f - 2 * ahead + 1, f + 1];
  const before = f - ahead + 1;
  if (at < 0 || now >= frames) return 0;
  return phaseNovelty(waves, at, before, now);
};

/** Looks at a tone of `hertz` in `frames` on each side of `time` (seconds in the recording). */
export const heardAround = (
  signal: Float32Array,
  whole: WholeSound,
  hertz: number,
  time: number,
  each: number,
): HeardRows => {
  const frames = 2 * each + 1;
  const middle = Math.round((time * listeningRate) / frameHop);
  const from = Math.round(time * listeningRate) - each * frameHop;
  const rows = new Float32Array(heardRows * frames).fill(-200, 0, fluxAt * frames);
  const waves: Float64Array[] = [];
  for (let h = 1; h <= partials && h * hertz < highest; h += 1) {
    const own = partialWaves(signal, from, frames, h * hertz);
    own.forEach((wave, w) => {
      const row = (w * partials + h - 1) * frames;
      for (let f = 0; f < frames; f += 1) {
        const [a, b] = [wave[2 * f] ?? 0, wave[2 * f + 1] ?? 0];
        rows[row + f] = 10 * Math.log10(2 * (a * a + b * b) + 1e-12);
      }
    });
    if (own[1] !== undefined) waves.push(own[1]);
  }
  for (let f = 0; f < frames; f += 1) {
    const at = Math.max(0, Math.min(whole.frames - 1, middle - each + f));
    rows[levelAt * frames + f] = whole.level[at] ?? 0;
    rows[highAt * frames + f] = whole.high[at] ?? 0;
    rows[fluxAt * frames + f] = whole.flux[at] ?? 0;
    rows[noveltyAt * frames + f] = noveltyOf(waves, f, frames);
  }
  return { rows, frames };
};

/** Seconds from a note within which others that cover it are listened to. */
const near = 0.2;
/** Mean over a note's partials from which on another covers it, and share below which a partial of the other is its own. */
const [covers, own] = [0.04, 0.3];

/**
 * Fills in, for each note, the energy of those partials of other notes beginning nearby that it does not share, of the notes that cover some of its own: when an
 * octave begins in two parts, the lower one's odd partials tell which of the beginnings is whose. `heard`: one of equal frames for each of
 * `notes` (by time); null where there is none.
 */
export const hearOthers = (heard: readonly (HeardRows | null)[], notes: readonly MixNote[]): void => {
  notes.forEach((note, k) => {
    const into = heard[k];
    if (into === undefined || into === null) return;
    const { rows, frames } = into;
    const sums = new Float64Array(frames);
    const add = (other: MixNote, from: HeardRows | null | undefined): void => {
      if (from === undefined || from === null || other === note) return;
      // A note that the alignment put far off lies out of order.
      if (Math.abs(other.time - note.time) >= near) return;
      if (other.part === note.part && Math.abs(other.time - note.time) > chord) return;
      let mean = 0;
      for (let h = 1; h <= partials; h += 1) mean += shared(note.hertz, h, other.hertz) / partials;
      if (mean < covers) return;
      const shift = Math.round((note.time - other.time) / frameSeconds);
      for (let h = 1; h <= partials && h * other.hertz < highest; h += 1) {
        if (shared(other.hertz, h, note.hertz) > own) continue;
        const row = (partials + h - 1) * frames;
        for (let f = 0; f < frames; f += 1) {
          const at = Math.max(0, Math.min(frames - 1, f + shift));
          sums[f] = (sums[f] ?? 0) + 10 ** ((from.rows[row + at] ?? -200) / 10);
        }
      }
    };
    for (let j = k - 1; j >= 0 && note.time - (notes[j]?.time ?? -Infinity) < near; j -= 1)
      add(notes[j] ?? note, heard[j]);
    for (let j = k + 1; j < notes.length && (notes[j]?.time ?? Infinity) - note.time < near; j += 1)
      add(notes[j] ?? note, heard[j]);
    for (let f = 0; f < frames; f += 1) rows[othersAt * frames + f] = 10 * Math.log10((sums[f] ?? 0) + 1e-20);
  });
};

const highestOf = (rows: Float32Array, from: number, to: number): number => {
  let most = -200;
  for (let i = from; i < to; i += 1) most = Math.max(most, rows[i] ?? -200);
  return most;
};

export interface NoteFeatures {
  /** `rowCount` rows of `width` frames, each value of the order of 1. */
  readonly rows: Float32Array;
  readonly constants: Float32Array;
}

/** What the second network knows besides. */
export interface HeardBefore {
  /** Where the note is looked for, in seconds; `notes` are where they were heard. */
  readonly time: number;
  /** Further rows of `width` frames around that (beliefs.ts). */
  readonly beliefs: Float32Array;
}

/** Loudest moment of the note's partials, in dB. */
export const topOf = ({ rows, frames }: HeardRows): number => highestOf(rows, 0, levelRows * frames);

/**
 * Puts together what is heard (`reach` frames on each side) and what is expected. `usualTop`: median of the recording's notes' loudest
 * moments, in dB. Mirrored by `crop` in training/mix/data.py.
 */
export const noteFeatures = (
  heard: HeardRows,
  notes: readonly MixNote[],
  k: number,
  clicks: Float64Array,
  usualTop: number,
  again: HeardBefore = { time: notes[k]?.time ?? 0, beliefs: new Float32Array(0) },
): NoteFeatures => {
  const rows = new Float32Array(rowCount * width + again.beliefs.length);
  const scaled = (from: number, to: number, top: number): void => {
    for (let i = from; i < to; i += 1) rows[i] = Math.max(-depth, (heard.rows[i] ?? 0) - top) / 20 + 1.5;
  };
  const top = topOf(heard);
  scaled(0, levelRows * width, top);
  const topAt = (row: number): number => highestOf(heard.rows, row * width, (row + 1) * width);
  const [level, high] = [topAt(levelAt), topAt(highAt)];
  scaled(levelAt * width, highAt * width, level);
  scaled(highAt * width, othersAt * width, high);
  scaled(othersAt * width, fluxAt * width, Math.max(silence, topAt(othersAt)));
  rows.set(heard.rows.subarray(fluxAt * width), fluxAt * width);
  const score = scoreView(notes, k, clicks, reach, again.time);
  rows.set(score.rows, heardRows * width);
  rows.set(again.beliefs, rowCount * width);
  const constants = new Float32Array(constantCount);
  constants.set(score.known);
  constants[knownCount] = Math.max(-3, Math.min(3, (top - usualTop) / 10));
  constants[knownCount + 1] = Math.max(-3, Math.min(3, (high - level + 20) / 10));
  return { rows, constants };
};
