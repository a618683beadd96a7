/** Recordings taken along as files. */
import type { TakeSound } from '../../desk/index.ts';
import { savedFile, type Ear } from '../../host/browser/index.ts';
import type { Problem } from '../../units/index.ts';
import { bare } from '../shelf/records.ts';

const endingOf = ({ file }: TakeSound): string => /\.[^.]*$/.exec(file)?.[0] ?? '';

/** Kinds of recordings by the endings of their files: "WAV", "M4A, WAV". */
export const kindsOf = (sounds: readonly TakeSound[]): string =>
  [...new Set(sounds.map((sound) => endingOf(sound).slice(1).toUpperCase()))].sort().join(', ');

/** Gives each as a file, as it is or packed by `pack`; with what went wrong last. Those that are not on this device are left. */
export const saveSounds = async (
  sounds: readonly TakeSound[],
  called: string,
  fileOf: (sound: TakeSound) => Promise<File | null>,
  pack: Ear['flac'] | null,
): Promise<Problem | null> => {
  let wrong: Problem | null = null;
  for (const sound of sounds) {
    const file = await fileOf(sound);
    if (file === null) continue;
    const name = bare(`${called} ${sound.name.replace(/\.[^.]*$/, '')}`);
    if (pack === null) savedFile(`${name}${endingOf(sound)}`, file);
    const packed = await pack?.(file);
    if (packed?.ok === true) savedFile(`${name}.flac`, packed.value);
    if (packed?.ok === false) wrong = packed.error;
  }
  return wrong;
};
