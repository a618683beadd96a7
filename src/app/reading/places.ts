/** Where marks stand on a system that is drawn, as shares of it. */

export interface Placed {
  readonly id: string;
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** All marks in a picture, and the numbers of the words beside it. */
export const marksIn = (picture: Element): readonly SVGGElement[] => [
  ...picture.querySelectorAll<SVGGElement>('g.reading[data-kind], g.word-number[data-words]'),
];

export const markId = ({ id, dataset }: SVGGElement): string => dataset['words'] ?? id;

export const placesOf = (picture: Element): readonly Placed[] => {
  const all = picture.getBoundingClientRect();
  if (all.width === 0 || all.height === 0) return [];
  return marksIn(picture)
    .map((mark): Placed => {
      const box = mark.getBoundingClientRect();
      return {
        id: markId(mark),
        left: (box.left - all.left) / all.width,
        top: (box.top - all.top) / all.height,
        width: box.width / all.width,
        height: box.height / all.height,
      };
    })
    .filter(({ width, height }) => width > 0 || height > 0)
    .sort((a, b) => a.left - b.left || a.top - b.top);
};

/** CSS pixels around a mark within which a touch means it: a fingertip, with the mark 44 pixels across. */
const reach = 22;

/** The mark that is nearest to a touch; null where none is near. */
export const nearest = (
  places: readonly Placed[],
  { width, height }: DOMRect,
  x: number,
  y: number,
): string | null => {
  let best: { readonly id: string; readonly away: number } | null = null;
  for (const place of places) {
    const [left, top] = [place.left * width, place.top * height];
    const [right, bottom] = [left + place.width * width, top + place.height * height];
    const away = Math.hypot(Math.max(left - x, 0, x - right), Math.max(top - y, 0, y - bottom));
    if (away <= reach && (best === null || away < best.away)) best = { id: place.id, away };
  }
  return best?.id ?? null;
};
