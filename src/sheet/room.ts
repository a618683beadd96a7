/** Free room beside what is engraved: where a pencil mark of a given size may stand. */
import { meets, type Box } from './skyline.ts';

/** The lowest free place for a box of that width and height that ends above `bottom` and begins below `top`; its bottom edge, or null. */
export const freeAbove = (
  boxes: readonly Box[],
  { left, right }: Pick<Box, 'left' | 'right'>,
  height: number,
  bottom: number,
  top: number,
  step: number,
): number | null => {
  const near = boxes.filter((box) => box.left < right && left < box.right && box.top < bottom);
  for (let y = bottom; y - height >= top; y -= step) {
    const wanted = { left, right, top: y - height, bottom: y };
    if (!near.some((box) => meets(box, wanted))) return y;
  }
  return null;
};

/**
 * The highest free place for a box of that width and height that begins below `top` and ends above `bottom`; its top edge, or null. Steps of `step`.
 */
export const freeBelow = (
  boxes: readonly Box[],
  { left, right }: Pick<Box, 'left' | 'right'>,
  height: number,
  top: number,
  bottom: number,
  step: number,
): number | null => {
  const near = boxes.filter((box) => box.left < right && left < box.right && box.bottom > top);
  for (let y = top; y + height <= bottom; y += step) {
    const wanted = { left, right, top: y, bottom: y + height };
    if (!near.some((box) => meets(box, wanted))) return y;
  }
  return null;
};
