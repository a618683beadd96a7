/** Tones to samples, block by block, one channel for each part. */
import { blockLength as usualLength } from '../render.ts';
import { play, type Playing, type Tone } from '../voices/play.ts';

/** The parts' samples over one block; null for a part that is silent throughout. */
export type PartBlock = readonly (Float64Array | null)[];

interface Sounding {
  readonly tone: Tone;
  readonly playing: Playing;
}

export interface Stretch {
  /** First sample; no tone may begin before it. 0 where it is left out. */
  readonly from?: number;
  /** Samples in a block; those of the files where it is left out. The samples do not depend on it. */
  readonly blockLength?: number;
}

/**
 * Renders `tones` (by start) to blocks up to `frames`; `heard` says which parts. What is given
 * out is overwritten by the next block. At a gain of 1; the caller scales.
 */
export function* renderTones(
  tones: readonly Tone[],
  frames: number,
  rate: number,
  heard: readonly boolean[],
  { from: first = 0, blockLength = usualLength }: Stretch = {},
): Generator<{ readonly length: number; readonly parts: PartBlock }> {
  const buffers = heard.map(() => new Float64Array(blockLength));
  let next = 0;
  let sounding: readonly Sounding[] = [];
  for (let from = first; from < frames; from += blockLength) {
    const length = Math.min(blockLength, frames - from);
    const begun: Sounding[] = [];
    for (let tone = tones[next]; tone !== undefined && tone.start < from + length; tone = tones[++next]) {
      if (heard[tone.part] === true) begun.push({ tone, playing: play(tone, rate) });
    }
    const now = [...sounding, ...begun];
    const parts = buffers.map((buffer, part) => {
      const mine = now.filter(({ tone }) => tone.part === part);
      if (mine.length === 0) return null;
      buffer.fill(0);
      for (const { playing } of mine) playing(buffer, from, from + length);
      return buffer;
    });
    sounding = now.filter(({ tone }) => tone.end > from + length);
    yield { length, parts };
  }
}
