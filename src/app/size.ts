/** How large the music is on the screen. */
import type { ScreenOptions } from '../desk/index.ts';

/** Height of a staff in the engraver's millimetres; the screen's scale follows from how large it is to be seen. */
const staff = 7;

/**
 * Height of a staff on the screen, in CSS pixels: larger where there is room. On the screens that stand on a music stand
 * a CSS pixel is 0.2 to 0.25 mm, so that 31 pixels are 6 to 8 mm, as on paper (sheet/paper.ts).
 */
const staffPixels = (width: number, height: number): number => {
  if (width < 480) return 24;
  if (width < 600) return 27;
  if (width < 900) return 30;
  return height < 850 ? 31 : 35;
};

/** Steps of width, in millimetres: a small change of the window is answered by scaling alone. */
const widthStep = 4;

/** For a sheet so many CSS pixels wide, in a window so many high. */
export const optionsFor = (width: number, height: number): ScreenOptions => {
  const millimetres = (width * staff) / staffPixels(width, height);
  return { staff, width: Math.max(60, Math.floor(millimetres / widthStep) * widthStep) };
};

/** Times larger on the stand, to be read from farther. */
const onStand = 1.25;

/** For a stand so many CSS pixels wide and high. */
export const standOptions = (width: number, height: number): ScreenOptions =>
  optionsFor(width / onStand, height);
