/**
 * How each voice is made: the strengths of its partials, and how it begins, lives and ends. Partials follow the
 * textbook picture of each family (strong odd partials of the clarinet's low register, formants of double reeds, brass
 * and singers, body resonances of bowed strings; after Fletcher and Rossing, The Physics of Musical Instruments, from
 * memory). They are drawn to be told apart, not to pass for a recording: see docs/decisions/sound.md.
 */
import type { VoiceName } from './voiceOf.ts';

/** A resonance: centre and half width in Hz, gain at the centre. */
export type Resonance = readonly [centre: number, width: number, gain: number];

export interface Character {
  /** Partial k falls as 1 / (1 + (k / knee)^slope), slope a whole number. */
  readonly knee: number;
  readonly slope: number;
  /** Strength of even partials, below 2 kHz. */
  readonly even: number;
  /** Strength away from all resonances. */
  readonly floor: number;
  readonly resonances: readonly Resonance[];
  /** Whether the resonances move with the singer's register. */
  readonly singer: boolean;
  /** Seconds in which the tone grows from the end of the common rise to its full strength. */
  readonly swell: number;
  /** Seconds of the fade that ends with the note. */
  readonly release: number;
  /** Seconds in which a struck or plucked tone at A4 falls to 1/e; 0 for tones that last. */
  readonly decay: number;
  /** Vibrato in cents to either side; 0 for none. */
  readonly vibrato: number;
  /** Beating of the breath: share of the amplitude to either side. */
  readonly tremolo: number;
  /** Noise of the attack and of the tone itself, relative to the tone. */
  readonly chiff: number;
  readonly breath: number;
}

const wind: Character = {
  knee: 8,
  slope: 2,
  even: 1,
  floor: 1,
  resonances: [],
  singer: false,
  swell: 0.03,
  release: 0.015,
  decay: 0,
  vibrato: 0,
  tremolo: 0,
  chiff: 0.06,
  breath: 0.004,
};
const brass: Character = { ...wind, knee: 10, floor: 0.3, swell: 0.04, chiff: 0.03, breath: 0.001 };
const bowed: Character = {
  ...wind,
  knee: 1,
  slope: 1,
  floor: 0.35,
  swell: 0.06,
  release: 0.025,
  vibrato: 12,
  chiff: 0.1,
  breath: 0.006,
};
const struck: Character = { ...wind, swell: 0, release: 0.04, chiff: 0.05, breath: 0 };

export const characters: Readonly<Record<VoiceName, Character>> = {
  flute: { ...wind, knee: 2.2, slope: 4, tremolo: 0.05, vibrato: 6, chiff: 0.15, breath: 0.025 },
  recorder: { ...wind, knee: 1.4, slope: 5, even: 0.3, swell: 0.02, chiff: 0.2, breath: 0.012 },
  oboe: {
    ...wind,
    knee: 14,
    floor: 0.1,
    resonances: [
      [1_050, 300, 1],
      [2_900, 450, 0.8],
    ],
    vibrato: 5,
  },
  clarinet: { ...wind, knee: 6, even: 0.06 },
  saxophone: {
    ...wind,
    floor: 0.25,
    resonances: [
      [650, 250, 1],
      [1_700, 450, 0.6],
    ],
    vibrato: 8,
    breath: 0.012,
  },
  bassoon: {
    ...wind,
    knee: 16,
    floor: 0.08,
    resonances: [
      [470, 150, 1],
      [1_180, 250, 0.4],
    ],
  },
  horn: { ...brass, knee: 4, slope: 3, floor: 0.35, resonances: [[380, 200, 1]] },
  trumpet: { ...brass, knee: 12, resonances: [[1_300, 600, 1]] },
  trombone: {
    ...brass,
    resonances: [
      [560, 250, 1],
      [1_500, 500, 0.4],
    ],
  },
  tuba: { ...brass, knee: 5, slope: 3, resonances: [[250, 130, 1]] },
  violin: {
    ...bowed,
    resonances: [
      [285, 50, 0.5],
      [470, 80, 0.8],
      [1_150, 250, 0.6],
      [2_700, 700, 1.6],
    ],
  },
  viola: {
    ...bowed,
    resonances: [
      [225, 45, 0.8],
      [370, 70, 1],
      [650, 120, 0.9],
      [1_700, 450, 0.9],
    ],
    vibrato: 11,
  },
  cello: {
    ...bowed,
    resonances: [
      [105, 30, 0.8],
      [185, 40, 0.9],
      [320, 60, 0.7],
      [1_200, 400, 0.8],
    ],
    vibrato: 10,
    swell: 0.07,
  },
  'double bass': {
    ...bowed,
    slope: 2,
    knee: 3,
    resonances: [
      [65, 20, 0.6],
      [115, 30, 1],
      [240, 60, 0.6],
      [700, 250, 0.4],
    ],
    vibrato: 0,
    swell: 0.08,
  },
  voice: {
    ...wind,
    knee: 1,
    slope: 1,
    floor: 0.05,
    resonances: [
      [680, 110, 1],
      [1_090, 140, 0.7],
      [2_750, 250, 0.5],
    ],
    singer: true,
    swell: 0.06,
    release: 0.03,
    vibrato: 18,
    chiff: 0.02,
    breath: 0.006,
  },
  organ: { ...wind, knee: 3, slope: 2, even: 0.9, swell: 0.01, chiff: 0.1, breath: 0 },
  piano: { ...struck, knee: 4, decay: 0.9 },
  harpsichord: { ...struck, knee: 18, even: 0.8, decay: 0.6, chiff: 0.12 },
  guitar: { ...struck, knee: 7, even: 0.7, decay: 0.5 },
  harp: { ...struck, knee: 3, slope: 3, decay: 0.8 },
  /** Noise alone; see `silence` in tables.ts. */
  percussion: { ...struck, decay: 0.1, chiff: 3 },
};
