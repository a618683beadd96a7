/** A chart of the desk, drawn as it is: SVG text of our own making, with its text equivalent. */
import { useLayoutEffect, useRef } from 'preact/hooks';

export const Chart = ({ svg, alternative }: { readonly svg: string; readonly alternative: string }) => {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const read = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    place.current?.replaceChildren(document.importNode(read, true));
  }, [svg]);
  return <div ref={place} class="growth" role="img" aria-label={alternative} />;
};
