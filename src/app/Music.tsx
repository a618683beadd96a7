/** Engraved music on the screen: systems, the signs that they share, and the font of signs in text. */
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import type { Screen, ScreenSystem } from '../desk/index.ts';
import { pictureOf } from './picture.ts';

/** A system is drawn when it comes near: a whole quartet at once would hold up the page for seconds. */
const nearby = '150% 0px';

/** One system, with what it shows in words. */
export const System = ({ system, label }: { readonly system: ScreenSystem; readonly label: string }) => {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const { current } = place;
    if (current === null) return undefined;
    const observer = new IntersectionObserver(
      (seen) => {
        if (!seen.some(({ isIntersecting }) => isIntersecting)) {
          current.replaceChildren();
          return;
        }
        observer.disconnect();
        const picture = pictureOf(system.svg);
        picture?.setAttribute('aria-hidden', 'true');
        current.replaceChildren(...(picture === null ? [] : [picture]));
      },
      { rootMargin: nearby },
    );
    observer.observe(current);
    return () => observer.disconnect();
  }, [system.svg]);
  const ratio = `${system.width} / ${system.height}`;
  return <div ref={place} class="system" role="img" aria-label={label} style={{ aspectRatio: ratio }} />;
};

/** The signs that all systems are drawn with. */
export const Signs = ({ signs }: { readonly signs: string }) => {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const picture = pictureOf(signs);
    place.current?.replaceChildren(...(picture === null ? [] : [picture]));
  }, [signs]);
  return <div ref={place} class="signs" aria-hidden="true" />;
};

export const useMusicFont = (screen: Pick<Screen, 'musicFont'> | null): void => {
  const font = screen?.musicFont;
  useEffect(() => {
    if (font === undefined || [...document.fonts].some(({ family }) => family === font.family)) return;
    const face = new FontFace(font.family, new Uint8Array(font.woff2));
    document.fonts.add(face);
    void face.load();
  }, [font?.family]);
};
