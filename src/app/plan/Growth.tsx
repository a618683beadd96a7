/** A chart of the desk, drawn as it is: SVG text of our own making, with its text equivalent. Where it is wider than the page, its newest end is seen first. */
import { useLayoutEffect, useRef } from 'preact/hooks';

export const Chart = ({ svg, alternative }: { readonly svg: string; readonly alternative: string }) => {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const read = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    const own = place.current;
    if (own === null) return;
    own.replaceChildren(document.importNode(read, true));
    own.scrollLeft = own.scrollWidth;
    // Keys reach what has to be moved to be seen, and nothing else.
    if (own.scrollWidth > own.clientWidth) own.tabIndex = 0;
  }, [svg]);
  return <div ref={place} class="growth" role="img" aria-label={alternative} />;
};
