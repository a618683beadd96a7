/** The parts of a drill prepared for live sound: planned tones, rendered on the way, a channel for each part. */
import { samplesAt, type Problem, type Samples } from '../units/index.ts';
import { belowLoudest } from './levels.ts';
import { planTones } from './parts/plan.ts';
import { renderTones } from './parts/render.ts';
import type { NoteShape } from './parts/shapes.ts';
import { factorOf } from './tuning.ts';
import type { PartsTimeline } from './parts/mix.ts';
import type { Tone } from './voices/play.ts';
import type { PartSound } from './voices/voiceOf.ts';

/** Plain data, fit to be handed to another thread. */
export interface LiveParts {
  /** Hz. */
  readonly sampleRate: number;
  /** Samples of the whole drill. */
  readonly length: Samples;
  /** Ids, in the order of the channels. */
  readonly ids: readonly string[];
  /** By start. */
  readonly tones: readonly Tone[];
  /** What every channel is to be multiplied with at the loudest letter: then all of them together stay below the ceiling. */
  readonly gain: number;
}

/** Mean power of a single line at mf, weighted, in dBFS, where the ceiling leaves room for it: as in parts.wav. */
const lineLevel = -20;

/**
 * Prepares the parts. `reference`: A4 in Hz, 392 to 466, checked by the caller. `ceiling`: amplitude (full scale 1) that the
 * sum of all parts never passes at ff.
 */
export const liveParts = (
  timeline: PartsTimeline,
  parts: readonly PartSound[],
  {
    reference,
    shapes,
    ceiling,
  }: {
    readonly reference: number;
    readonly shapes: ReadonlyMap<string, NoteShape>;
    readonly ceiling: number;
  },
): { readonly parts: LiveParts; readonly problems: readonly Problem[] } => {
  const { tones, bound, problems } = planTones(timeline, parts, { reference, shapes });
  const wanted = factorOf(lineLevel + belowLoudest('mf'));
  return {
    parts: {
      sampleRate: timeline.sampleRate,
      length: samplesAt(timeline.duration, timeline.sampleRate),
      ids: parts.map(({ id }) => id),
      tones,
      gain: bound === 0 ? wanted : Math.min(wanted, ceiling / bound),
    },
    problems,
  };
};

/** A stretch of all parts, one after the other. */
export interface PartsBlock {
  /** Sample of the drill with which it begins. */
  readonly from: number;
  readonly length: number;
  /** In the order of the ids; null for one that is silent throughout. At full gain. */
  readonly parts: readonly (Float32Array<ArrayBuffer> | null)[];
}

/** Samples in a block of live sound: a fifth of a second or less, so that the first one is there at once. */
const liveBlock = 8192;

/**
 * Renders from a sample on. Notes that began before it are left out: it is meant to be where a bar begins. Fresh arrays
 * each time, which may be handed over.
 */
export function* partsBlocks(
  { tones, length, sampleRate, ids, gain }: LiveParts,
  from = 0,
): Generator<PartsBlock> {
  const later = tones.filter(({ start }) => start >= from);
  const all = ids.map(() => true);
  let at = from;
  for (const block of renderTones(later, length, sampleRate, all, { from, blockLength: liveBlock })) {
    yield {
      from: at,
      length: block.length,
      parts: block.parts.map((samples) =>
        samples === null
          ? null
          : Float32Array.from({ length: block.length }, (_, n) => gain * (samples[n] ?? 0)),
      ),
    };
    at += block.length;
  }
}
