/** Many bars in stretches. What is looked at is engraved, and no more. */
import { useEffect, useLayoutEffect, useMemo, useRef } from 'preact/hooks';
import type { ScreenSystem } from '../desk/index.ts';
import { Line, type Marked } from './Lines.tsx';
import { Signs } from './Music.tsx';
import { useSpeech } from './words/context.ts';
import { problemText } from './words/index.ts';
import type { Stretch, Written } from './written.ts';

/** What is this near is engraved too, so that one seldom waits. */
const near = '60% 0px';

/** Share of a line's width that a part takes in height; only until the music is there. */
const guess = { part: 0.085, margin: 0.05 };

interface Labelled {
  readonly marked: Marked;
  /** What a system shows, in words. The same function as long as it says the same. */
  readonly label: (system: ScreenSystem) => string;
}

const LabelledLine = ({ system, marked, label }: Labelled & { readonly system: ScreenSystem }) => {
  const words = useMemo(() => label(system), [system, label]);
  return <Line system={system} label={words} marked={marked} />;
};

interface StretchProps extends Labelled {
  readonly stretch: Stretch;
  readonly numbers: readonly string[];
  readonly parts: number;
  readonly writing: boolean;
  readonly onSeen: (seen: boolean) => void;
}

const StretchView = ({ stretch, numbers, parts, writing, marked, label, onSeen }: StretchProps) => {
  const speech = useSpeech();
  const { hand } = speech.words;
  const place = useRef<HTMLDivElement>(null);
  const seen = useRef(onSeen);
  seen.current = onSeen;
  useLayoutEffect(() => {
    if (place.current === null) return undefined;
    const observer = new IntersectionObserver(
      (entries) => seen.current(entries.some(({ isIntersecting }) => isIntersecting)),
      { rootMargin: near },
    );
    observer.observe(place.current);
    return () => observer.disconnect();
  }, []);
  const { screen, error, first, last } = stretch;
  const [from, to] = [numbers[first] ?? '', numbers[last] ?? ''];
  const height = `${100 * (2 * guess.part * Math.max(1, parts) + guess.margin)}cqw`;
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
            <LabelledLine key={i} system={system} label={label} marked={marked} />
          ))}
        </>
      )}
    </div>
  );
};

interface Props extends Labelled {
  readonly written: Written;
  /** Printed numbers of the bars. */
  readonly numbers: readonly string[];
  /** How many parts. */
  readonly parts: number;
  /** The bar at which one begins to look, by its place among them; null: at the top. */
  readonly begin: number | null;
}

export const Stretches = ({ written, numbers, parts, begin, marked, label }: Props) => {
  const seen = useRef(new Set<number>());
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (begin === null) return;
    for (const one of place.current?.querySelectorAll<HTMLElement>('.stretch') ?? [])
      if (Number(one.dataset['first']) <= begin && begin <= Number(one.dataset['last'])) one.scrollIntoView();
  }, []);
  const { look } = written;
  // Another page than the one before does not know yet what is looked at.
  useEffect(() => {
    const at = [...seen.current].filter((one) => one < written.stretches.length);
    if (at.length > 0) look(at.sort((a, b) => a - b));
  }, [look]);
  return (
    <div ref={place} class={begin === null ? 'drill-bars' : 'all-bars'}>
      {written.stretches.map((stretch, i) => (
        <StretchView
          key={i}
          stretch={stretch}
          numbers={numbers}
          parts={parts}
          writing={written.writing?.first === stretch.first}
          marked={marked}
          label={label}
          onSeen={(now) => {
            if (now) seen.current.add(i);
            else seen.current.delete(i);
            look([...seen.current].sort((a, b) => a - b));
          }}
        />
      ))}
    </div>
  );
};
