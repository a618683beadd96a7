/** The clicks of a drill in the order in which they sound, each with the room that it has: for files and for live sound. */
import { fail, ok, type Result, type Samples } from '../units/index.ts';

/** Where a click begins, counted from the file's first sample, and whether it is the first beat of a bar. */
export interface ClickOnset {
  readonly sample: Samples;
  readonly first: boolean;
  /** Softer, as under a count word; false where it is left out. */
  readonly soft?: boolean;
}

/** Amplitude of a soft click against a usual one: 10.5 dB less. */
export const softness = 0.3;

export interface QueuedClick extends Required<ClickOnset> {
  /** Samples until it has to have ended: three quarters of the way to the next click, or the end of the sound. */
  readonly room: Samples;
}

/** By time, with clicks on the same sample made one: two together would only be louder. */
const merged = (events: readonly ClickOnset[]): readonly Required<ClickOnset>[] => {
  const at = new Map<Samples, Required<ClickOnset>>();
  for (const { sample, first, soft = false } of events) {
    const known = at.get(sample);
    at.set(sample, { sample, first: first || known?.first === true, soft: soft && known?.soft !== false });
  }
  return [...at.values()].sort((a, b) => a.sample - b.sample);
};

/**
 * Puts clicks in order. `length`: samples of the whole sound. Errors: "click-outside" (a click before the beginning, or
 * at or after the end, or on no whole sample), "sound-length" (a length that is no whole number from 0).
 */
export const clickQueue = (
  events: readonly ClickOnset[],
  length: Samples,
): Result<readonly QueuedClick[]> => {
  if (!Number.isSafeInteger(length) || length < 0) {
    return fail(
      'sound-length',
      `The sound would last ${length} samples. That has to be a whole number from 0.`,
    );
  }
  const outside = events.find(
    ({ sample }) => !Number.isSafeInteger(sample) || sample < 0 || sample >= length,
  );
  if (outside !== undefined) {
    return fail(
      'click-outside',
      `A click lies on sample ${outside.sample}, but the sound has samples 0 to ${length - 1}. The drill's length and its clicks contradict each other.`,
    );
  }
  const clicks = merged(events);
  return ok(
    clicks.map((click, i) => {
      const { sample } = click;
      const next = clicks[i + 1]?.sample;
      const room = next === undefined ? length - sample : Math.floor(((next - sample) * 3) / 4);
      return { ...click, room: Math.max(1, room) as Samples };
    }),
  );
};
