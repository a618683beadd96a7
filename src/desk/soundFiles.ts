/** The sound of a drill as files: the click, the parts, and both together with the count spoken. */
import type { WorkedDrill } from '../drill/workOut.ts';
import { drillShapes } from '../sound/parts/drillShapes.ts';
import { isLight } from '../sound/registers.ts';
import { referencePitches } from '../sound/tuning.ts';
import { clickWav } from '../sound/wav/clicks.ts';
import { fullWav } from '../sound/wav/full.ts';
import { partsWav } from '../sound/wav/parts.ts';
import type { WordSet } from '../sound/words/wordSet.ts';
import { ok, samplesAt, type Problem, type Result } from '../units/index.ts';
import type { FileToWrite } from './ports.ts';

/** How the sound is written; no part of the drill. */
export interface SoundOptions {
  /** Hz, 8,000 to 192,000; 48,000 where it is left out. */
  readonly rate?: number;
  /** 16, 24, or 32 for floating point; 16 where it is left out. */
  readonly depth?: number;
  /** A4 in Hz, 392 to 466; 440 where it is left out. */
  readonly pitch?: number;
  /** Ids of parts that are not sounded, so that their players take them over. */
  readonly without?: readonly string[];
  /** Where the click lies in full.wav: together with the parts, or alone on the left. */
  readonly place?: 'centre' | 'left';
  /** The spoken count of full.wav; null or left out: counts are clicked. */
  readonly words?: WordSet | null;
}

/** Give or take a header, to tell progress by. */
const sized = (name: string, chunks: Iterable<Uint8Array>, bytes: number): FileToWrite => ({
  name,
  chunks,
  size: bytes,
});

/**
 * click.wav, full.wav and, where the score has notes, parts.wav. Onsets stand on the same samples in all of them. Errors
 * and problems: those of `clickWav`, `partsWav` and `fullWav`.
 */
export const soundFiles = (
  worked: WorkedDrill,
  { depth = 16, pitch = referencePitches.usual, without = [], place = 'centre', words = null }: SoundOptions,
): Result<readonly FileToWrite[]> => {
  const { timeline, parts, drill } = worked;
  const shapes = drillShapes(worked);
  const light = isLight(drill.click);
  const heard = { depth, reference: pitch };
  const click = clickWav(timeline, { ...heard, light });
  if (!click.ok) return click;
  const bytes = (samplesAt(timeline.duration, timeline.sampleRate) * depth) / 8;
  const files = [sized('click.wav', click.value, bytes)];
  const problems: Problem[] = [...click.problems];
  if (parts.length > 0) {
    const sound = partsWav(timeline, parts, { ...heard, shapes, without });
    if (!sound.ok) return sound;
    files.push(sized('parts.wav', sound.value, bytes));
    problems.push(...sound.problems);
  }
  const full = fullWav(timeline, parts, { ...heard, shapes, without, light, place, words });
  if (!full.ok) return full;
  files.push(sized('full.wav', full.value, bytes * (place === 'left' ? 2 : 1)));
  return ok(files, [...problems, ...full.problems.filter(({ code }) => !cutAtTheStart.has(code))]);
};

/** The first count stands on the first sample, so what is spoken before its vowel is always lost; no news. */
const cutAtTheStart: ReadonlySet<string> = new Set(['count-word-cut']);
