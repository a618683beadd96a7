/** The page: title, players, and the engraved music of the passage. */
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { LiveDrill, Screen, ScreenOptions } from '../desk/index.ts';
import { Signs, System, useMusicFont } from './Music.tsx';
import type { Shown } from './session.ts';
import { optionsFor } from './size.ts';
import { systemWords } from './systemWords.ts';
import { useWords } from './words/context.ts';
import type { Overview } from '../desk/index.ts';

const partNames = ({ look }: Overview): readonly string[] =>
  look.parts.map(({ name, id }) => (name === '' ? id : name));

const Systems = ({
  screen,
  drill,
  places,
}: {
  readonly screen: Screen;
  readonly drill: LiveDrill | null;
  readonly places: Shown['places'];
}) => {
  const words = useWords();
  return (
    <>
      <Signs signs={screen.signs} />
      {screen.systems.map((system, i) => (
        <System key={i} system={system} label={systemWords(system, words, drill, places)} />
      ))}
    </>
  );
};

interface Props {
  readonly shown: Shown;
  /** Who plays, where that is known; null: the parts' own names. */
  readonly players: string | null;
  readonly onWidth: (options: ScreenOptions) => void;
}

export const Page = ({ shown: { piece, drill, screen, places, busy }, players, onWidth }: Props) => {
  const said = useWords().page;
  const sheet = useRef<HTMLDivElement>(null);
  useMusicFont(screen);
  useLayoutEffect(() => {
    const place = sheet.current;
    if (place === null) return undefined;
    const fit = (): void => onWidth({ ...optionsFor(place.clientWidth, innerHeight), words: said.inMusic });
    const observer = new ResizeObserver(fit);
    observer.observe(place);
    fit();
    return () => observer.disconnect();
  }, [said]);
  return (
    <main class="page">
      <header>
        <h1>{piece?.look.title === '' ? said.untitled : (piece?.look.title ?? ' ')}</h1>
        <p class="players">{piece === null ? ' ' : (players ?? said.listed(partNames(piece)))}</p>
      </header>
      <div ref={sheet} class="sheet" aria-busy={busy !== null}>
        {busy !== null && (
          <p class={screen === null ? 'word' : 'word passing'}>
            {busy === 'reading' ? said.reading : said.engraving}
          </p>
        )}
        {screen !== null && <Systems screen={screen} drill={drill} places={places} />}
      </div>
    </main>
  );
};
