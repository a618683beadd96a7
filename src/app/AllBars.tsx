/** All bars of the piece, from which a passage is chosen. What is looked at is engraved, and no more. */
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import type { Overview } from '../desk/index.ts';
import { Line, type Marked } from './Lines.tsx';
import { Signs } from './Music.tsx';
import type { Session } from './session.ts';
import type { Stretch, Whole } from './whole.ts';
import { useSpeech } from './words/context.ts';
import { problemText } from './words/index.ts';

/** What is this near is engraved too, so that one seldom waits. */
const near = '60% 0px';

/** Share of a line's width that a part takes in height; only until the music is there. */
const guess = { part: 0.085, margin: 0.05 };

interface StretchProps {
  readonly stretch: Stretch;
  readonly look: Overview['look'];
  readonly writing: boolean;
  readonly marked: Marked;
  readonly onSeen: (seen: boolean) => void;
}

const StretchView = ({ stretch, look, writing, marked, onSeen }: StretchProps) => {
  const speech = useSpeech();
  const { hand, system: said } = speech.words;
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    if (place.current === null) return undefined;
    const observer = new IntersectionObserver(
      (entries) => onSeen(entries.some(({ isIntersecting }) => isIntersecting)),
      { rootMargin: near },
    );
    observer.observe(place.current);
    return () => observer.disconnect();
  }, []);
  const { screen, error, first, last } = stretch;
  const [from, to] = [look.bars[first]?.number ?? '', look.bars[last]?.number ?? ''];
  const height = `${100 * (2 * guess.part * Math.max(1, look.parts.length) + guess.margin)}cqw`;
  return (
    <div ref={place} class="stretch" data-first={first} data-last={last}>
      {screen === null ? (
        <p class="word coming" style={{ height }}>
          {error !== null
            ? problemText(error, speech)
            : writing
              ? hand.writing(from, to)
              : hand.waiting(from, to)}
        </p>
      ) : (
        <>
          <Signs signs={screen.signs} />
          {screen.systems.map((system, i) => (
            <Line key={i} system={system} label={said.bars(system.from, system.to)} marked={marked} />
          ))}
        </>
      )}
    </div>
  );
};

interface Props {
  readonly session: Session;
  readonly whole: Whole;
  readonly look: Overview['look'];
  readonly marked: Marked;
}

export const AllBars = ({ session, whole, look, marked }: Props) => {
  const seen = useRef(new Set<number>());
  const place = useRef<HTMLDivElement>(null);
  // One begins where the passage is.
  useEffect(() => {
    const first = marked.passage?.first ?? 0;
    for (const one of place.current?.querySelectorAll<HTMLElement>('.stretch') ?? [])
      if (Number(one.dataset['first']) <= first && first <= Number(one.dataset['last'])) one.scrollIntoView();
  }, []);
  return (
    <div ref={place}>
      {whole.stretches.map((stretch, i) => (
        <StretchView
          key={i}
          stretch={stretch}
          look={look}
          writing={whole.writing?.first === stretch.first}
          marked={marked}
          onSeen={(now) => {
            if (now) seen.current.add(i);
            else seen.current.delete(i);
            session.lookAt([...seen.current].sort((a, b) => a - b));
          }}
        />
      ))}
    </div>
  );
};
