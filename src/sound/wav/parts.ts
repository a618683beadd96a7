import type { Result } from '../../units/index.ts';
import { renderParts, type PartsOptions, type PartsTimeline } from '../parts/mix.ts';
import { factorOf } from '../tuning.ts';
import type { PartSound } from '../voices/voiceOf.ts';
import { writeWav } from './write.ts';

export interface PartsWavOptions extends PartsOptions {
  /** 16 (the usual), 24, or 32 for floating point. */
  readonly depth?: number;
}

/** The largest sample, full scale 1: -3 dBFS, for the wave between the samples may pass the samples a little. */
export const partsCeiling: number = factorOf(-3);

/**
 * The parts of a drill as a WAV file in pieces, as long as the drill: what a missing partner would play. Mono unless
 * another seating is asked for. Errors: those of `renderParts` and `writeWav`.
 */
export const partsWav = (
  timeline: PartsTimeline,
  parts: readonly PartSound[],
  { depth = 16, ...options }: PartsWavOptions = {},
): Result<Iterable<Uint8Array>> => {
  const sound = renderParts(timeline, parts, partsCeiling, options);
  if (!sound.ok) return sound;
  const { channels, frames, blocks } = sound.value;
  const wav = writeWav(blocks, { sampleRate: timeline.sampleRate, channels, depth, frames });
  return wav.ok ? { ...wav, problems: [...sound.problems, ...wav.problems] } : wav;
};
