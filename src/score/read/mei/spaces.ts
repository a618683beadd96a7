/** Spaces that do not say how long they are, with something behind them. Common practice of programs that write MEI, no source. */
import { beats, F, type Fraction } from '../../../units/index.ts';
import { fullBarOf } from './repeats.ts';
import type { LayerSpot } from './layer.ts';

/** The first such space of a layer: where it begins, and after how many notes of the file. */
export interface Unsized {
  readonly at: Fraction;
  readonly order: number;
}

/** What follows the space ends with its bar: the space takes what is left. The result is how far the layer reaches. */
export const settleUnsized = (unsized: Unsized, cursor: Fraction, spot: LayerSpot): Fraction => {
  const { world, staff, bar, draft, layer, place } = spot;
  const { incomplete = false } = world.bars[bar] ?? {};
  const left = F.sub(incomplete ? draft.extent : fullBarOf(staff), cursor);
  const later = (staff.drawn.get(bar) ?? []).filter(
    (drawn) => drawn.layer === layer && drawn.order > unsized.order,
  );
  if (!F.isPositive(left) || later.length === 0) return cursor;
  for (const { note } of later) note.onset = beats(F.add(note.onset, left));
  world.log.say(
    'repair',
    'duration-missing',
    'An invisible rest has no length; it is taken to last until what follows it ends with the bar.',
    place,
  );
  return F.add(cursor, left);
};
