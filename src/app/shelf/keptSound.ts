/** What sounds, how loud, and how long a touch waits, as it is kept with a piece: words by name. */
import { levelLetters, type LevelLetter } from '../../desk/liveSound.ts';
import { usualSound, type SoundSettings } from '../soundSettings.ts';

export interface Sounding {
  readonly sound: SoundSettings;
  /** Seconds that a start by touch waits; null: as it is. */
  readonly wait: number | null;
}

const silent = 'silent';
const level = 'level/';

const letterOf = (word: string | undefined): LevelLetter | null =>
  levelLetters.find((letter) => letter === word) ?? null;

/** As it is kept: "parts" on or off, "click" and "level/P1" letters or "silent", "count" spoken or clicked, "place", "pitch" in Hz, "wait" in seconds. */
export const keptSound = (
  { parts, click, count, place, pitch, levels }: SoundSettings,
  wait: number,
): Readonly<Record<string, string>> => ({
  parts: parts ? 'on' : 'off',
  click,
  count,
  place,
  pitch,
  wait: String(wait),
  ...Object.fromEntries(Object.entries(levels).map(([id, letter]) => [`${level}${id}`, letter ?? silent])),
});

/** What was kept; as usual where nothing was, or where it is none of the words. */
export const soundIn = (kept: Readonly<Record<string, string>>): Sounding => {
  const wait = Number(kept['wait'] ?? Number.NaN);
  const pitch = Number((kept['pitch'] ?? '').replace(',', '.'));
  const levels = Object.entries(kept).flatMap(([name, word]): [string, LevelLetter | null][] => {
    if (!name.startsWith(level)) return [];
    const letter = letterOf(word);
    return letter === null && word !== silent ? [] : [[name.slice(level.length), letter]];
  });
  return {
    sound: {
      parts: kept['parts'] === 'on',
      levels: Object.fromEntries(levels),
      click: letterOf(kept['click']) ?? usualSound.click,
      count: kept['count'] === 'clicked' ? 'clicked' : usualSound.count,
      place: kept['place'] === 'left' ? 'left' : usualSound.place,
      pitch: pitch > 0 ? (kept['pitch'] ?? usualSound.pitch) : usualSound.pitch,
    },
    wait: Number.isFinite(wait) && wait >= 0 && wait <= 60 ? wait : null,
  };
};
