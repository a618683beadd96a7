/** SVG text as an element of the page. */

/** Null where the text is no picture. */
export const pictureOf = (svg: string): SVGSVGElement | null => {
  const root = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  const picture = document.importNode(root, true);
  return picture instanceof SVGSVGElement ? picture : null;
};
