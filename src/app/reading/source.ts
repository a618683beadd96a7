/** From a take to what the ear needs: which sounds, which drill, and what of it was played. */
import {
  soundsOf,
  takeHeader,
  takeHeaderSize,
  bytesPerSample,
  type Performed,
  type PieceSettings,
  type PlayedDrill,
  type Take,
  type TakeSound,
} from '../../desk/index.ts';
import type { HearableSound } from '../../host/browser/index.ts';
import { requestOf } from '../asked.ts';
import { askedIn } from '../shelf/settings.ts';
import { runOf, untilOf } from './runs.ts';
import { nothingAsked } from '../asked.ts';

/** What is read of a take. */
export interface Source {
  readonly played: PlayedDrill;
  readonly sounds: readonly HearableSound[];
  /** Ids of the take's sounds, by the names that they have in `sounds`. */
  readonly ids: ReadonlyMap<string, string>;
  /** Seconds cut off the beginning. */
  readonly cut: number;
  /** Seconds on the drill's timeline at which it was left; null: not known. */
  readonly until: number | null;
}

/** Seconds of the recording before a run and after it that are read with it. */
const around = 1;

/** Recordings from elsewhere come before the one that was made here: they were laid to the take to be heard in its place. */
const chosen = (take: Take): readonly (readonly [string, TakeSound])[] => {
  const all = soundsOf(take);
  const brought = all.filter(([, { recorded }]) => !recorded);
  return brought.length > 0 ? brought : all.slice(0, 1);
};

/** Null where none of its sounds is on this device. `fileOf`: the file of a sound. `which`: the drill that is read, by time; null: the one that was played longest. */
export const sourceOf = async (
  take: Take,
  performed: Performed | null,
  settings: PieceSettings,
  name: string,
  fileOf: (sound: TakeSound) => Promise<File | null>,
  which: number | null,
): Promise<Source | null> => {
  const run = performed === null ? null : runOf(performed, which);
  const ids = new Map<string, string>();
  const sounds: HearableSound[] = [];
  let cut = 0;
  for (const [id, sound] of chosen(take)) {
    const file = await fileOf(sound);
    if (file === null) continue;
    const plain = sound.name || name;
    const own = ids.has(plain) ? `${plain} (${id})` : plain;
    ids.set(own, id);
    let part: Blob = file;
    if (sound.recorded && performed !== null && run !== null && performed.runs.length > 1) {
      const { rate } = performed;
      const from = Math.max(0, Math.min(run.at, run.from) - around * rate);
      const to = Math.min(performed.samples, run.to + around * rate);
      const bytes = (sample: number): number => takeHeaderSize + bytesPerSample * sample;
      part = new Blob([new Uint8Array(takeHeader(rate, to - from)), file.slice(bytes(from), bytes(to))]);
      cut = from / rate;
    }
    sounds.push({ name: own, part: sound.part === '' ? null : sound.part, file: part });
  }
  if (sounds.length === 0) return null;
  const texts = requestOf(askedIn(take.asked) ?? nothingAsked);
  return {
    played:
      run === null
        ? { kind: 'asked', texts, settings }
        : { kind: 'sounded', drill: run.drill, settings: run.settings },
    sounds,
    ids,
    cut,
    until: run === null || performed === null ? null : untilOf(run, performed),
  };
};
