/** Tuplets: how many notes stand in the time of how many. Source: MEI Guidelines 5, 4.3.4 "Tuplets". */
import type { Place } from '../../../units/index.ts';
import type { WrittenNote } from '../../notes.ts';
import { attribute, type XmlElement } from '../xml.ts';
import type { World } from './state.ts';
import { whole } from './values.ts';

/** Larger products of nested tuplets are a slip or an attack. */
const mostInTuplet = 10_000_000;

/** One tuplet inside another; where no note would be left that could be played, the inner one is passed over, with a problem. */
export const inside = (
  outer: WrittenNote['tuplet'],
  inner: WrittenNote['tuplet'],
  world: Pick<World, 'log'>,
  place: Place,
): WrittenNote['tuplet'] => {
  const product = { actual: outer.actual * inner.actual, normal: outer.normal * inner.normal };
  if (product.actual <= mostInTuplet && product.normal <= mostInTuplet) return product;
  world.log.say(
    'repair',
    'tuplet-unreadable',
    'Tuplets stand inside each other until no note is left that could be played; the inner ones are read as plain notes.',
    place,
  );
  return outer;
};

/**
 * In the time of how many notes a tuplet stands that does not say so: the power of two below its number (3:2, 5:4, 7:4); of a power of
 * two itself three quarters of it, as in compound time (4:3, 8:6), and 2:3. Common practice, no source.
 */
const usualBase = (num: number): number => {
  const power = 2 ** Math.floor(Math.log2(num));
  if (power < num) return power;
  return num === 2 ? 3 : Math.max(1, (3 * num) / 4);
};

/** The ratio of a tuplet; null where it can not be read. */
export const ratioOf = (
  element: XmlElement,
  world: Pick<World, 'log'>,
  place: Place,
): { readonly actual: number; readonly normal: number } | null => {
  const num = whole(attribute(element, 'num'), 1, 10_000);
  const base = attribute(element, 'numbase');
  const normal = base === '' && num !== null ? usualBase(num) : whole(base, 1, 10_000);
  if (num === null || normal === null) {
    world.log.say(
      'repair',
      'tuplet-unreadable',
      'A tuplet does not say how many notes stand in the time of how many; its notes are kept as plain notes of their length.',
      place,
    );
    return null;
  }
  if (base === '')
    world.log.tally(
      'assumption',
      'tuplet-base-assumed',
      '',
      (many) =>
        `A tuplet does not say in the time of how many notes it is played (${many}); the usual ratio is taken.`,
      place,
    );
  return { actual: num, normal };
};
