/** The clicks of a drill prepared for live sound: few waves, and a list of where each of them begins. */
import { ok, samplesAt, type Decibels, type Result, type Samples } from '../units/index.ts';
import type { Timeline } from '../drill/model.ts';
import { clickMaker, usualLevel, type ClickRegister } from './click.ts';
import { clickQueue, softness, type ClickOnset } from './clickQueue.ts';

/** Plain data, fit to be handed to another thread. Played from a frame F on, it is the click track from F on. */
export interface LiveClicks {
  /** Hz. */
  readonly sampleRate: number;
  /** Samples of the whole drill. */
  readonly length: Samples;
  /** Sounds, full scale 1: the samples of a 32-bit click track. */
  readonly waves: readonly Float32Array<ArrayBuffer>[];
  /** Where each click begins, by time. No two overlap. */
  readonly starts: readonly Samples[];
  /** For each click the index of its wave. */
  readonly wave: readonly number[];
}

/**
 * Prepares the clicks of a timeline, at its sample rate. `level`: peak in dBFS, -60 to -1.5; -6 where it is left out.
 * `register`: see `chooseRegister`. Played one after the other they are, sample by sample, what `renderClicks` makes. Errors: those of `clickMaker` and
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
  return ok({ sampleRate, length, waves, starts: queue.value.map(({ sample }) => sample), wave });
};
