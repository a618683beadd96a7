/** The clicks of a drill, and its spoken counts, prepared for live sound: few waves, and a list of where each of them begins. */
import { ok, samplesAt, type Decibels, type Result, type Samples } from '../units/index.ts';
import type { Timeline } from '../drill/model.ts';
import { clickMaker, usualLevel, type ClickRegister } from './click.ts';
import { clickQueue, softness, type ClickOnset } from './clickQueue.ts';
import type { PlacedWord } from './words/place.ts';

/** Sounds in their places. */
export interface LiveQueue {
  /** Sounds, full scale 1: the samples of a 32-bit click track. */
  readonly waves: readonly Float32Array<ArrayBuffer>[];
  /** Where each of them begins, by time. No two overlap. */
  readonly starts: readonly number[];
  /** For each of them the index of its wave. */
  readonly wave: readonly number[];
}

/** Plain data, fit to be handed to another thread. Played from a frame F on, it is the click track from F on. */
export interface LiveClicks extends LiveQueue {
  /** Hz. */
  readonly sampleRate: number;
  /** Samples of the whole drill. */
  readonly length: Samples;
  /** The spoken counts, which may begin before their clicks and sound over them. */
  readonly words: LiveQueue;
}

const nothing: LiveQueue = { waves: [], starts: [], wave: [] };

/** Words that were placed, each sound of them once. */
export const liveWords = (placed: readonly PlacedWord[]): LiveQueue => {
  const waves: Float32Array<ArrayBuffer>[] = [];
  const known = new Map<ArrayBufferLike, Map<number, number>>();
  const wave = placed.map(({ samples }) => {
    // Of one sound there may be lengths: it ends where something else begins.
    const lengths = known.get(samples.buffer) ?? new Map<number, number>();
    known.set(samples.buffer, lengths);
    const found = lengths.get(samples.length) ?? waves.length;
    if (found === waves.length) waves.push(new Float32Array(samples));
    lengths.set(samples.length, found);
    return found;
  });
  return { waves, starts: placed.map(({ start }) => start), wave };
};

/**
 * Prepares the clicks of a timeline, at its sample rate. `level`: peak in dBFS, -60 to -1.5; -6 where it is left out.
 * `register`: see `chooseRegister`; `words`: see `liveWords`. Played one after the other they are, sample by sample, what `renderClicks` makes. Errors: those of `clickMaker` and
 * `clickQueue`.
 */
export const liveClicks = (
  {
    sampleRate,
    clicks,
    duration,
  }: Pick<Timeline, 'sampleRate' | 'duration'> & { readonly clicks: readonly ClickOnset[] },
  level: Decibels = usualLevel,
  register: ClickRegister = 'middle',
  words: LiveQueue = nothing,
): Result<LiveClicks> => {
  const maker = clickMaker(sampleRate, level, register);
  if (!maker.ok) return maker;
  const length = samplesAt(duration, sampleRate);
  const queue = clickQueue(clicks, length);
  if (!queue.ok) return queue;
  const waves: Float32Array<ArrayBuffer>[] = [];
  const known = new Map<string, number>();
  const full = maker.value('beat').length;
  const wave = queue.value.map(({ first, soft, room }) => {
    const key = `${first ? 'first' : 'beat'} ${soft ? 'soft' : ''} ${Math.min(room, full)}`;
    const found = known.get(key) ?? waves.length;
    if (found === waves.length) {
      const sound = maker.value(first ? 'first beat' : 'beat', room);
      waves.push(new Float32Array(soft ? sound.map((value) => value * softness) : sound));
    }
    known.set(key, found);
    return found;
  });
  return ok({ sampleRate, length, waves, starts: queue.value.map(({ sample }) => sample), wave, words });
};
