/** The page: title, players, and the engraved music of the passage, or of all bars while one chooses among them. */
import { useCallback, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Overview, ScreenOptions, ScreenSystem } from '../desk/index.ts';
import type { BarRange } from './barNames.ts';
import { Hands, type Doings } from './Hands.tsx';
import { useMusicFont } from './Music.tsx';
import { PlaceChoice } from './Places.tsx';
import type { Session, Shown } from './session.ts';
import { optionsFor } from './size.ts';
import { Stretches } from './Stretches.tsx';
import { systemWords } from './systemWords.ts';
import { useWords } from './words/context.ts';
import { screensOf } from './written.ts';

const partNames = ({ look }: Overview): readonly string[] =>
  look.parts.map(({ name, id }) => (name === '' ? id : name));

/** A word in the head that can be touched. */
const Word = ({ words, onPress }: { readonly words: string; readonly onPress: () => void }) => (
  <button type="button" class="word-button" onClick={onPress}>
    {words}
  </button>
);

interface HeadProps {
  readonly session: Session;
  readonly shown: Shown;
  /** The passage's first bar, where it was touched and its last was not yet. */
  readonly first: number | null;
  readonly onFirst: (first: number | null) => void;
}

/** The way to all bars and back, and what is to be touched there. */
const Head = ({ session, shown, first, onFirst }: HeadProps) => {
  const { piece, whole, screen } = shown;
  const { hand } = useWords();
  const bars = piece?.look.bars ?? [];
  const number = (index: number): string => bars[index]?.number ?? '';
  const { everyBar } = session;
  if (piece === null) return <p class="ways"> </p>;
  if (whole === null)
    return (
      <p class="ways">
        <Word words={hand.whole} onPress={() => session.showWhole()} />{' '}
        <PlaceChoice session={session} shown={shown} />{' '}
        {everyBar !== null && <Word words={hand.everyBar} onPress={() => session.ask(everyBar)} />}{' '}
        {screen !== null && screen.stretches.length > 1 && (
          <span class="aside progress">{hand.written(screen.written, screen.count)}</span>
        )}
      </p>
    );
  const end = session.passage?.last ?? null;
  return (
    <div class="ways choosing">
      <p>
        {first === null ? hand.wholeHelp : hand.first(number(first))}{' '}
        {first !== null && (
          <>
            {end !== null && end > first && (
              <Word words={hand.until(number(end))} onPress={() => session.choose({ first, last: end })} />
            )}{' '}
            <Word words={hand.alone(number(first))} onPress={() => session.choose({ first, last: first })} />{' '}
            <Word words={hand.again} onPress={() => onFirst(null)} />
          </>
        )}
      </p>
      <p>
        <Word words={hand.back} onPress={() => session.leaveWhole()} />{' '}
        <span class="aside">{hand.written(whole.written, whole.count)}</span>
      </p>
    </div>
  );
};

/** What is being waited for, and the way out of it where it takes long. */
const Waiting = ({ session, shown: { busy, whole, screen } }: { session: Session; shown: Shown }) => {
  const { page: said } = useWords();
  if (busy === null || (whole !== null && busy !== 'reading')) return null;
  return (
    <p class={screen === null && whole === null ? 'word' : 'word passing'}>
      <span>
        {said.busy[busy]}
        {busy === 'reading' && (
          <>
            {' '}
            <Word words={said.stopReading} onPress={() => void session.stopReading()} />
          </>
        )}
      </span>
    </p>
  );
};

/** What was done, for those who do not see it. */
const Told = ({ session, shown, chosen }: { session: Session; shown: Shown; chosen: BarRange | null }) => {
  const { hand } = useWords();
  const bars = shown.piece?.look.bars ?? [];
  const number = (index: number): string => bars[index]?.number ?? '';
  const passage = session.passage;
  const { told } = shown;
  return (
    <p class="unseen" aria-live="polite">
      {chosen !== null
        ? hand.chosen(number(chosen.first), number(chosen.last))
        : `${told === null ? '' : `${hand.undone[told.way]} `}${passage === null ? '' : hand.passage(number(passage.first), number(passage.last))}`}
    </p>
  );
};

interface Props {
  readonly session: Session;
  readonly shown: Shown;
  /** Who plays, where that is known; null: the parts' own names. */
  readonly players: string | null;
  readonly onWidth: (options: ScreenOptions) => void;
}

export const Page = ({ session, shown, players, onWidth }: Props) => {
  const { piece, drill, screen, places, busy, whole } = shown;
  const words = useWords();
  const said = words.page;
  const sheet = useRef<HTMLDivElement>(null);
  const [first, setFirst] = useState<number | null>(null);
  const [chosen, setChosen] = useState<BarRange | null>(null);
  useMusicFont(screen === null ? null : (screensOf(screen)[0] ?? null));
  useLayoutEffect(() => {
    const place = sheet.current;
    if (place === null) return undefined;
    const fit = (): void => onWidth({ ...optionsFor(place.clientWidth, innerHeight), words: said.inMusic });
    const observer = new ResizeObserver(fit);
    observer.observe(place);
    fit();
    return () => observer.disconnect();
  }, [said]);
  const drillLabel = useCallback(
    (system: ScreenSystem): string => systemWords(system, words, drill, places),
    [words, drill, places],
  );
  const barsLabel = useCallback(({ from, to }: ScreenSystem): string => words.system.bars(from, to), [words]);
  const waiting = whole === null ? null : first;
  const choose = (a: number, b: number): void => {
    setFirst(null);
    session.choose({ first: Math.min(a, b), last: Math.max(a, b) });
  };
  const doings: Doings = {
    touched: (bar, shift) => {
      const begun = waiting ?? (shift ? (session.passage?.first ?? null) : null);
      if (begun !== null) choose(begun, bar);
      else if (whole === null) session.beginAt(bar);
      else setFirst(bar);
    },
    drawn: (range) => choose(range.first, range.last),
    beat: whole === null ? (barIndex, beat) => session.touches.beat({ barIndex, beat }) : null,
    note: whole === null && shown.placing !== null ? (touched) => session.touches.note(touched) : null,
    partName: (id) => {
      const part = piece?.look.parts.find((one) => one.id === id);
      return part === undefined || part.name === '' ? id : part.name;
    },
  };
  return (
    <main class="page">
      <header>
        <h1>{piece?.look.title === '' ? said.untitled : (piece?.look.title ?? ' ')}</h1>
        <p class="players">{piece === null ? ' ' : (players ?? said.listed(partNames(piece)))}</p>
      </header>
      <Head session={session} shown={shown} first={waiting} onFirst={setFirst} />
      <Told session={session} shown={shown} chosen={chosen} />
      <div ref={sheet} class="sheet" aria-busy={busy !== null} data-busy={busy ?? ''}>
        <Waiting session={session} shown={shown} />
        <Hands passage={session.passage} doings={doings} onChosen={setChosen}>
          {(marked) =>
            whole !== null && piece !== null ? (
              <Stretches
                key="whole"
                written={whole}
                numbers={piece.look.bars.map(({ number }) => number)}
                parts={piece.look.parts.length}
                begin={session.passage?.first ?? 0}
                label={barsLabel}
                marked={
                  waiting === null || marked.drawn !== null
                    ? marked
                    : { ...marked, drawn: { first: waiting, last: waiting } }
                }
              />
            ) : (
              screen !== null && (
                <Stretches
                  key="drill"
                  written={screen}
                  numbers={drill?.pageBars.map(({ number }) => number) ?? []}
                  parts={drill?.drill.parts?.length ?? piece?.look.parts.length ?? 1}
                  begin={null}
                  label={drillLabel}
                  marked={marked}
                />
              )
            )
          }
        </Hands>
      </div>
    </main>
  );
};
