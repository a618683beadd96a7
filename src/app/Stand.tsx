/** The page as it stands on a music stand: the music alone, as large as it goes, and a line of words at its foot. */
import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import { fillScreen, keepAwake, leaveFullScreen } from '../host/browser/index.ts';
import { Signs, System } from './Music.tsx';
import type { ScreenSystem } from '../desk/index.ts';
import type { Session, Shown } from './session.ts';
import { standOptions } from './size.ts';
import { pageFor, standPages, systemAt, systemsOfBars, wantedFor, type StandPage } from './standPages.ts';
import { systemWords } from './systemWords.ts';
import { useSpeech, useWords } from './words/context.ts';
import { problemText, type Words } from './words/index.ts';
import { writtenFromStart, type Stretch } from './written.ts';

interface Props {
  readonly session: Session;
  readonly shown: Shown;
}

interface StandProps extends Props {
  /** For those who record. */
  readonly record: ComponentChildren;
}

interface Room {
  readonly width: number;
  readonly height: number;
}

/** CSS pixels between two systems; as in the style sheet. */
const between = 14;

const useRoom = (session: Session, { inMusic }: Words['page']) => {
  const place = useRef<HTMLDivElement>(null);
  const [room, setRoom] = useState<Room>({ width: 1, height: 1 });
  useLayoutEffect(() => {
    const music = place.current;
    if (music === null) return undefined;
    const look = (): void => {
      setRoom({ width: music.clientWidth, height: music.clientHeight });
      session.fit({ ...standOptions(music.clientWidth, music.clientHeight), words: inMusic });
    };
    const observer = new ResizeObserver(look);
    observer.observe(music);
    return () => observer.disconnect();
  }, []);
  return { place, room };
};

/** Fills the screen and keeps it lit as long as the stand is there. */
const useWholeScreen = (session: Session): boolean => {
  const [awake, setAwake] = useState(true);
  useEffect(() => {
    void fillScreen(document.documentElement);
    const left = (): void => {
      if (document.fullscreenElement === null) session.putOnStand(false);
    };
    document.addEventListener('fullscreenchange', left);
    const sleep = keepAwake(setAwake);
    return () => {
      document.removeEventListener('fullscreenchange', left);
      sleep();
      leaveFullScreen();
    };
  }, []);
  return awake;
};

/** The screen that is seen: turned by hand, and by the music as it goes on. */
const useTurning = (
  { session, shown }: Props,
  pages: readonly StandPage[],
  systems: readonly ScreenSystem[],
) => {
  const [at, setAt] = useState(0);
  const { drill, playing } = shown;
  const ofBars = useMemo(() => (drill === null ? [] : systemsOfBars(systems, drill.marks)), [systems, drill]);
  useEffect(() => {
    if (playing === 'still' || drill === null) return undefined;
    let seen = -1;
    let frame = 0;
    const look = (): void => {
      frame = requestAnimationFrame(look);
      const page = pageFor(pages, systemAt(drill.marks, ofBars, session.playback.heard() ?? 0));
      // A page that was turned by hand stays until the music itself comes to another.
      if (page === seen) return;
      seen = page;
      setAt(page);
    };
    look();
    return () => cancelAnimationFrame(frame);
  }, [playing, drill, pages, ofBars]);
  const last = Math.max(0, pages.length - 1);
  return { at: Math.min(at, last), turn: (by: number) => setAt(Math.max(0, Math.min(last, at + by))) };
};

/** From one place where the players depend on each other to the next. */
const PlaceBy = ({ session, by }: { readonly session: Session; readonly by: 1 | -1 }) => {
  const { stand, places } = useWords();
  const place = session.placeBy(by);
  return (
    <button
      type="button"
      disabled={place === null}
      title={place === null ? '' : places.row(place)}
      onClick={() => {
        if (place !== null) session.goTo(place);
      }}
    >
      {by === 1 ? stand.next : stand.previous}
    </button>
  );
};

const Foot = ({
  session,
  shown: { playing, drill, changed, coming, places, screen },
  pages,
  at,
  turn,
  awake,
  record,
}: StandProps & {
  readonly pages: number;
  readonly at: number;
  readonly turn: (by: number) => void;
  readonly awake: boolean;
}) => {
  const { stand, margin, page, hand } = useWords();
  const more = screen !== null && at === pages - 1 && screen.written < screen.count;
  return (
    <nav class="foot" aria-label={stand.foot}>
      <button type="button" onClick={() => session.playback.again()}>
        {stand.again}
      </button>
      <button type="button" onClick={() => session.tempoBy(-1)}>
        {stand.slower}
      </button>
      <span class="tempo">
        {(coming ?? drill?.summary)?.tempi.map(({ perMinute }) => page.figure(perMinute)).join(' · ')}
      </span>
      <button type="button" onClick={() => session.tempoBy(1)}>
        {stand.faster}
      </button>
      {places.length > 0 && (
        <>
          <PlaceBy session={session} by={-1} />
          <PlaceBy session={session} by={1} />
        </>
      )}
      {record}
      <span class="state" role="status">
        {playing === 'waiting'
          ? margin.hands
          : playing === 'playing' && changed !== null
            ? margin.later[changed]
            : more
              ? hand.written(screen.written, screen.count)
              : awake
                ? ''
                : stand.sleeps}
      </span>
      {pages > 1 && (
        <>
          <button type="button" disabled={at === 0} onClick={() => turn(-1)}>
            {stand.back}
          </button>
          <button type="button" disabled={at === pages - 1} onClick={() => turn(1)}>
            {stand.on}
          </button>
        </>
      )}
      <button type="button" onClick={() => session.putOnStand(false)}>
        {stand.leave}
      </button>
    </nav>
  );
};

export const Stand = ({ session, shown, record }: StandProps) => {
  const speech = useSpeech();
  const { stand, page: said } = speech.words;
  const { place, room } = useRoom(session, said);
  const awake = useWholeScreen(session);
  const whole = useRef<HTMLDivElement>(null);
  // The keys are the stand's from now on.
  useEffect(() => whole.current?.focus(), []);
  const { screen, drill, playing, wait } = shown;
  const stretches = useMemo(
    (): readonly Stretch[] => (screen === null ? [] : writtenFromStart(screen)),
    [screen],
  );
  const systems = useMemo(() => stretches.flatMap((one) => one.screen?.systems ?? []), [stretches]);
  const pages = useMemo(
    () =>
      standPages(
        systems.map(({ width, height }) => (room.width * height) / width + between),
        room.height,
      ),
    [systems, room],
  );
  const { at, turn } = useTurning({ session, shown }, pages, systems);
  const page = pages[at];
  const wanted = wantedFor(
    pages,
    at,
    stretches.map((one) => one.screen?.systems.length ?? 0),
    screen?.stretches.length ?? 0,
  ).join(' ');
  const look = screen?.look;
  useEffect(() => {
    if (wanted !== '') look?.(wanted.split(' ').map(Number));
  }, [look, wanted]);
  useEffect(() => {
    const keys = (event: KeyboardEvent): void => {
      const by = { PageDown: 1, ArrowRight: 1, PageUp: -1, ArrowLeft: -1 }[event.key];
      const pace = { ArrowUp: 1, ArrowDown: -1 } as const;
      if (by !== undefined) {
        event.preventDefault();
        pedal(by);
      } else if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
        event.preventDefault();
        session.tempoBy(pace[event.key]);
      } else if (event.key === 'Escape' && playing === 'still') session.putOnStand(false);
    };
    // A pedal has two switches: on, which begins where nothing plays, and back, which begins again.
    const pedal = (by: number): void => {
      if (by > 0) {
        if (playing === 'still' && at === 0) session.playback.play(0);
        else turn(1);
      } else if (playing === 'still' && at > 0) turn(-1);
      else session.playback.again();
    };
    addEventListener('keydown', keys);
    return () => removeEventListener('keydown', keys);
  }, [playing, at, pages]);
  return (
    <div
      ref={whole}
      class="on-stand"
      role="region"
      aria-label={stand.stand}
      aria-busy={shown.busy !== null}
      tabIndex={-1}
    >
      <div
        class="music"
        onClick={() => (playing === 'still' ? session.playback.play(wait) : session.playback.stop())}
      >
        <div ref={place} class="room">
          {stretches.map((one) => one.screen !== null && <Signs key={one.first} signs={one.screen.signs} />)}
          {systems.slice(page?.from ?? 0, page?.to ?? 0).map((system, i) => (
            <System key={`${at} ${i}`} system={system} label={systemWords(system, speech.words, drill)} />
          ))}
          {systems.length === 0 && (
            <p class="word">
              {shown.error === null ? said.busy[shown.busy ?? 'engraving'] : problemText(shown.error, speech)}
            </p>
          )}
        </div>
      </div>
      <Foot
        session={session}
        shown={shown}
        pages={pages.length}
        at={at}
        turn={turn}
        awake={awake}
        record={record}
      />
    </div>
  );
};
