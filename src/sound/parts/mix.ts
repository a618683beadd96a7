/** The parts of a drill as channels of samples. */
import type { Timeline } from '../../drill/model.ts';
import { checkSampleRate, ok, refusable, Refusal, samplesAt, type Result } from '../../units/index.ts';
import { checkReference, factorOf, referencePitches } from '../tuning.ts';
import type { PartSound } from '../voices/voiceOf.ts';
import { planTones } from './plan.ts';
import { renderTones } from './render.ts';
import { seats, type Seating } from './seats.ts';
import type { NoteShape } from './shapes.ts';

export type PartsTimeline = Pick<Timeline, 'sampleRate' | 'notes' | 'duration'>;

export interface PartsOptions {
  /** A4 in Hz, 392 to 466; 440 where it is left out. */
  readonly reference?: number;
  /** Ids of the parts that sound; null or left out: all. The others are silent and the level of these does not change. */
  readonly only?: readonly string[] | null;
  /** Ids of parts left out; none where it is left out. */
  readonly without?: readonly string[];
  /** "mono" where it is left out. */
  readonly seating?: Seating;
  /** Articulation and dynamics (`noteShapes`); without, all notes are plain and equally strong. */
  readonly shapes?: ReadonlyMap<string, NoteShape>;
}

export interface PartsSound {
  readonly channels: number;
  readonly frames: number;
  /** Frames side by side, channels interleaved, full scale 1. Fresh each time. */
  readonly blocks: Iterable<Float64Array>;
}

/** Mean power of a single line, weighted, in dBFS, where the peaks leave room for it: common practice, no source. */
const lineLevel = -20;

const chosen = (
  parts: readonly PartSound[],
  { only = null, without = [] }: PartsOptions,
): readonly boolean[] => {
  for (const id of [...(only ?? []), ...without]) {
    if (!parts.some((part) => part.id === id)) {
      const known = parts.map((part) => `${part.id} (${part.name})`).join(', ');
      throw new Refusal(
        'part-unknown',
        `There is no part "${id}" to be heard or left out. ${parts.length === 0 ? 'This drill has no parts.' : `The parts are ${known}.`}`,
      );
    }
  }
  return parts.map(({ id }) => (only === null || only.includes(id)) && !without.includes(id));
};

/**
 * Renders the parts. Every note begins on its very sample, its first sample not zero; where nothing sounds there is
 * exact zero. The largest sample never passes `ceiling`
 * (amplitude, full scale 1): the gain is such that the sum of the peaks of all
 * that sounds at once, whatever is left out, stays below it, and a line is never stronger than about -20 dB of weighted mean power.
 *
 * Problems: "part-voice-unknown". Errors: "sample-rate", "reference-pitch", "part-unknown".
 */
export const renderParts = (
  timeline: PartsTimeline,
  parts: readonly PartSound[],
  ceiling: number,
  options: PartsOptions = {},
): Result<PartsSound> =>
  refusable(() => {
    const rate = timeline.sampleRate;
    const wrong = checkSampleRate(rate);
    if (wrong !== null) return { ok: false, error: wrong };
    const reference = checkReference(options.reference ?? referencePitches.usual);
    if (!reference.ok) return reference;
    const heard = chosen(parts, options);
    const { tones, bound, problems } = planTones(timeline, parts, {
      reference: reference.value,
      shapes: options.shapes ?? new Map<string, NoteShape>(),
    });
    const frames = samplesAt(timeline.duration, rate);
    const { channels, gains } = seats(parts.length, options.seating ?? 'mono');
    const gain = Math.min(factorOf(lineLevel), bound === 0 ? 1 : ceiling / bound);

    function* blocks(): Generator<Float64Array> {
      for (const { length, parts: sounds } of renderTones(tones, frames, rate, heard)) {
        const block = new Float64Array(length * channels);
        sounds.forEach((sound, part) => {
          if (sound === null) return;
          for (let channel = 0; channel < channels; channel += 1) {
            const factor = (gains[part]?.[channel] ?? 0) * gain;
            if (factor === 0) continue;
            for (let n = 0, at = channel; n < length; n += 1, at += channels)
              block[at] = (block[at] ?? 0) + factor * (sound[n] ?? 0);
          }
        });
        yield block;
      }
    }
    return ok({ channels, frames, blocks: { [Symbol.iterator]: blocks } }, problems);
  });
