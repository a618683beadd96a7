/** All that the page says, in English. */
import { hand } from './hand.ts';
import { letting } from './letting.ts';
import { marking } from './marking.ts';
import { margin, page, sound, stand } from './page.ts';
import { places, system } from './places.ts';
import { reading } from './reading.ts';
import { settings, shelf } from './shelf.ts';
import { takes } from './takes.ts';

export const english = {
  page,
  margin,
  sound,
  stand,
  places,
  system,
  shelf,
  settings,
  hand,
  marking,
  reading,
  takes,
  letting,
};

/** What every language says. */
export type Words = typeof english;
