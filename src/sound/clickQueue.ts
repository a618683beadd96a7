/** The clicks of a drill in the order in which they sound, each with the room that it has: for files and for live sound. */
import { fail, ok, type Result, type Samples } from '../units/index.ts';

/** Where a click begins, counted from the file's first sample, and whether it is the first beat of a bar. */
export interface ClickOnset {
  readonly sample: Samples;
  readonly first: boolean;
}

export interface QueuedClick extends ClickOnset {
  /** Samples until it has to have ended: three quarters of the way to the next click, or the end of the sound. */
  readonly room: Samples;
}

/** By time, with clicks on the same sample made one: two together would only be louder. */
const merged = (events: readonly ClickOnset[]): readonly ClickOnset[] => {
  const firstAt = new Map<Samples, boolean>();
  for (const { sample, first } of events) firstAt.set(sample, first || firstAt.get(sample) === true);
  return [...firstAt].map(([sample, first]) => ({ sample, first })).sort((a, b) => a.sample - b.sample);
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
    clicks.map(({ sample, first }, i) => {
      const next = clicks[i + 1]?.sample;
      const room = next === undefined ? length - sample : Math.floor(((next - sample) * 3) / 4);
      return { sample, first, room: Math.max(1, room) as Samples };
    }),
  );
};
