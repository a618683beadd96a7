/** From place to place through the piece, as they come in the music. */
import type { ListedPlace } from '../desk/index.ts';

type Found = Pick<ListedPlace, 'bars'> & { readonly from: { readonly barIndex: number } };

/**
 * The nearest place that begins after bar `now` (by 1) or before it (by -1), by index; null where there is none. Of places that begin
 * in one bar the first in the list, which is the heaviest.
 */
export const nextPlace = <T extends Found>(places: readonly T[], now: number, by: 1 | -1): T | null => {
  let best: T | null = null;
  for (const place of places) {
    const away = (place.from.barIndex - now) * by;
    if (away <= 0) continue;
    if (best === null || away < (best.from.barIndex - now) * by) best = place;
  }
  return best;
};
