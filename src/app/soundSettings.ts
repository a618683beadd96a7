/** How loud it is and what sounds; no part of a drill, which is music. */
import type { SoundOptions } from '../desk/index.ts';
import { factorOfLetter, type LevelLetter } from '../desk/liveSound.ts';
import type { Balance } from '../host/browser/clickMessages.ts';

export interface SoundSettings {
  /** Whether the parts sound, and not the click alone. */
  readonly parts: boolean;
  /** By part id; null: silent. Parts that are not named are mf. */
  readonly levels: Readonly<Record<string, LevelLetter | null>>;
  readonly click: LevelLetter;
  /** Whether the counts before the music are spoken over soft clicks, or clicked. */
  readonly count: 'spoken' | 'clicked';
  readonly place: Balance['place'];
  /** A4 in Hz, as written. */
  readonly pitch: string;
}

export const usualSound: SoundSettings = {
  parts: false,
  levels: {},
  click: 'ff',
  count: 'spoken',
  place: 'centre',
  pitch: '440',
};

export const levelOf = ({ levels }: SoundSettings, part: string): LevelLetter | null => {
  const level = levels[part];
  return level === undefined ? 'mf' : level;
};

/** For the loudspeaker: `ids` are the parts of the drill in order. */
export const balanceOf = (settings: SoundSettings, ids: readonly string[]): Balance => ({
  click: factorOfLetter(settings.click),
  parts: ids.map((id) => factorOfLetter(levelOf(settings, id))),
  place: settings.place,
});

/** For files of sound: silent ones of these parts are left out of them, as on the command line. */
export const soundOf = (settings: SoundSettings, ids: readonly string[]): SoundOptions => ({
  pitch: Number(settings.pitch.replace(',', '.')),
  place: settings.place,
  without: ids.filter((id) => levelOf(settings, id) === null),
});
