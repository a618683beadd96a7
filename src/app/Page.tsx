/** The page: title, players, and the engraved music of the passage. */
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import type { LiveDrill, Screen, ScreenOptions, ScreenSystem } from '../desk/index.ts';
import { pictureOf } from './picture.ts';
import type { Shown } from './session.ts';
import { optionsFor } from './size.ts';
import { systemWords } from './systemWords.ts';
import { playersOf, words } from './wording.ts';

/** A system is drawn when it comes near: a whole quartet at once would hold up the page for seconds. */
const nearby = '150% 0px';

const System = ({ system, label }: { readonly system: ScreenSystem; readonly label: string }) => {
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

const Signs = ({ signs }: { readonly signs: string }) => {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const picture = pictureOf(signs);
    place.current?.replaceChildren(...(picture === null ? [] : [picture]));
  }, [signs]);
  return <div ref={place} class="signs" aria-hidden="true" />;
};

const useMusicFont = (screen: Screen | null): void => {
  const font = screen?.musicFont;
  useEffect(() => {
    if (font === undefined || [...document.fonts].some(({ family }) => family === font.family)) return;
    const face = new FontFace(font.family, new Uint8Array(font.woff2));
    document.fonts.add(face);
    void face.load();
  }, [font?.family]);
};

const Systems = ({
  screen,
  drill,
  places,
}: {
  readonly screen: Screen;
  readonly drill: LiveDrill | null;
  readonly places: Shown['places'];
}) => (
  <>
    <Signs signs={screen.signs} />
    {screen.systems.map((system, i) => (
      <System key={i} system={system} label={systemWords(system, drill, places)} />
    ))}
  </>
);

interface Props {
  readonly shown: Shown;
  /** Who plays, where that is known; null: the parts' own names. */
  readonly players: string | null;
  readonly onWidth: (options: ScreenOptions) => void;
}

export const Page = ({ shown: { piece, drill, screen, places, busy }, players, onWidth }: Props) => {
  const sheet = useRef<HTMLDivElement>(null);
  useMusicFont(screen);
  useLayoutEffect(() => {
    const place = sheet.current;
    if (place === null) return undefined;
    const observer = new ResizeObserver(() => onWidth(optionsFor(place.clientWidth, innerHeight)));
    observer.observe(place);
    onWidth(optionsFor(place.clientWidth, innerHeight));
    return () => observer.disconnect();
  }, []);
  return (
    <main class="page">
      <header>
        <h1>{piece?.look.title === '' ? 'Untitled' : (piece?.look.title ?? ' ')}</h1>
        <p class="players">{piece === null ? ' ' : (players ?? playersOf(piece))}</p>
      </header>
      <div ref={sheet} class="sheet" aria-busy={busy !== null}>
        {busy !== null && (
          <p class={screen === null ? 'word' : 'word passing'}>
            {busy === 'reading' ? words.reading : words.engraving}
          </p>
        )}
        {screen !== null && <Systems screen={screen} drill={drill} places={places} />}
      </div>
    </main>
  );
};
