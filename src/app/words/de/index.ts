/** All that the page says, in German. */
import type { Words } from '../en/index.ts';
import { hand } from './hand.ts';
import { letting } from './letting.ts';
import { marking } from './marking.ts';
import { margin, page, sound, stand } from './page.ts';
import { places, system } from './places.ts';
import { reading } from './reading.ts';
import { settings, shelf } from './shelf.ts';
import { takes } from './takes.ts';

export const german: Words = {
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
