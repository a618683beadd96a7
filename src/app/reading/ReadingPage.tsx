/** The page of a take that was heard: its music with the marks, and in the margin what was found, strongest first. */
import type { ComponentChildren } from 'preact';
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { ShownMark, TakeReading } from '../../desk/index.ts';
import { useMusicFont } from '../Music.tsx';
import { Word } from '../shelf/Fields.tsx';
import { optionsFor } from '../size.ts';
import { takeName } from '../takes/takeName.ts';
import { useSpeech, useWords } from '../words/context.ts';
import { problemText, type Words } from '../words/index.ts';
import { Ears, Said } from './Ears.tsx';
import { Chosen, Found } from './Found.tsx';
import type { HeardTakes } from './heardTakes.ts';
import { seenOf, type Hidden } from './layers.ts';
import { MarkedMusic } from './MarkedMusic.tsx';
import { Figures, Table } from './Numbers.tsx';
import { Rest } from './Rest.tsx';
import { Runs } from './Runs.tsx';

interface Props {
  readonly heard: HeardTakes;
  /** What the journal makes of it, below what was found. */
  readonly after: ComponentChildren;
}

/** How long it has listened: this moves where the work itself is in one piece. Not read out each second. */
const Elapsed = () => {
  const { takes } = useWords();
  const [seconds, setSeconds] = useState(0);
  useEffect(() => {
    const begun = performance.now();
    const timer = setInterval(() => setSeconds((performance.now() - begun) / 1000), 500);
    return () => clearInterval(timer);
  }, []);
  return (
    <p class="aside" role="timer">
      {takes.clock(seconds)}
    </p>
  );
};

const Waiting = ({ heard }: Pick<Props, 'heard'>) => {
  const { reading } = useWords();
  const { stage, done } = heard.now;
  if (stage === 'there') return null;
  return (
    <div class="word">
      <p role="status">{stage === 'hearing' ? reading.hearing : reading.drawing}</p>
      {stage === 'hearing' && (
        <>
          <Elapsed />
          <progress max={1} value={done} aria-label={reading.progress} />
          <p>
            <Word words={reading.leave} onPress={() => heard.close()} />
          </p>
        </>
      )}
    </div>
  );
};

/** How well several recordings lie on one clock; null for a single one. Two clocks differ by the errors of both. */
const clocksWords = ({ reading: { clock }, sounds }: TakeReading, { reading }: Words): string | null => {
  if (new Set(Object.values(sounds)).size < 2) return null;
  const by = clock.filter((one) => one.by === 'clicks');
  const error = 1.96 * Math.SQRT2 * Math.max(...by.map(({ offsetError }) => offsetError));
  return by.length < clock.length
    ? reading.noOneClock
    : reading.oneClock(Math.max(1, Math.ceil(1000 * error)));
};

export const ReadingPage = ({ heard, after }: Props) => {
  const speech = useSpeech();
  const { reading, takes, page } = speech.words;
  const { shown, kept, problem, stage } = heard.now;
  const { take } = heard;
  const sheet = useRef<HTMLDivElement>(null);
  const back = useRef<HTMLButtonElement>(null);
  const [hidden, setHidden] = useState<Hidden>({ layers: new Set(), parts: new Set() });
  const [told, setTold] = useState(1);
  const [chosen, setChosen] = useState<string | null>(null);
  const folded = take?.said?.['shown'] !== 'yes';
  useMusicFont(shown?.screen ?? null);
  useEffect(() => back.current?.focus(), []);
  useEffect(() => heard.spoken(), [speech.language]);
  useLayoutEffect(() => {
    const place = sheet.current;
    if (place === null) return undefined;
    const fit = (): void => heard.fit({ ...optionsFor(place.clientWidth, innerHeight), words: page.inMusic });
    const observer = new ResizeObserver(fit);
    observer.observe(place);
    fit();
    return () => observer.disconnect();
  }, [page]);
  const seen = useMemo(
    () => (shown === null || folded ? null : seenOf(shown, hidden, told)),
    [shown, folded, hidden, told],
  );
  const touched = (mark: ShownMark, slower: boolean): void => {
    setChosen(mark.id);
    const [first] = mark.moments;
    if (first !== undefined) void heard.listen(mark, first, slower);
  };
  const parts = kept?.reading.parts ?? [];
  const named = parts.map(({ id, name }) => ({
    id,
    name: heard.now.names === 'players' ? heard.seating.playerOf(id) || name : name,
  }));
  const clocks = kept === null ? null : clocksWords(kept, speech.words);
  const bars = shown?.screen.systems.flatMap((system) => system.bars) ?? [];
  const barSaid = take?.said?.['bar'] ?? '';
  const bar =
    barSaid === '' ? null : (bars.find(({ barIndex }) => String(barIndex) === barSaid)?.number ?? null);
  const { from = '', to = '' } = take?.asked ?? {};
  return (
    <div class="stand heard" data-stage={stage}>
      <main class="page">
        <header>
          <h1>{reading.title}</h1>
          <p class="players">
            {take === null
              ? ' '
              : `${takeName(take, speech.words)}, ${from === '' && to === '' ? takes.whole : takes.bars(from, to)}`}
          </p>
        </header>
        <p class="ways">
          <button type="button" class="word-button" ref={back} onClick={() => heard.close()}>
            {reading.back}
          </button>
        </p>
        <div ref={sheet} class="sheet" aria-busy={stage !== 'there'}>
          <Waiting heard={heard} />
          {problem !== null && (
            <p class="error" role="alert" data-code={problem.code}>
              {problemText(problem, speech)}
            </p>
          )}
          {problem !== null && <Runs heard={heard} />}
          {shown !== null && (
            <MarkedMusic
              shown={shown}
              seen={seen}
              chosen={chosen}
              onMark={touched}
              bar={barSaid === '' ? null : barSaid}
              onBar={(index) => heard.say({ bar: String(index) })}
            />
          )}
        </div>
      </main>
      {shown !== null && take !== null && (
        <aside class="margin" aria-label={reading.title}>
          {folded ? (
            <Ears heard={heard} parts={parts} bar={bar} />
          ) : (
            <>
              <Said heard={heard} parts={named} bar={bar} />
              <Chosen
                heard={heard}
                mark={shown.marks.find(({ id }) => id === chosen) ?? null}
                onLeave={() => setChosen(null)}
              />
              <Found
                heard={heard}
                shown={shown}
                told={told}
                onTold={setTold}
                onMark={(mark) => touched(mark, false)}
              />
              {after}
              <Rest heard={heard} hidden={hidden} onHide={setHidden} parts={named} />
            </>
          )}
        </aside>
      )}
      {shown !== null && !folded && (
        <section class="below" aria-label={reading.table}>
          <p class="aside">
            {reading.manner} {shown.marks.some(({ kind }) => kind === 'rough') && `${reading.mannerRough} `}
            {shown.left > 0 && reading.left(shown.left)}
          </p>
          <Runs heard={heard} />
          {clocks !== null && <p class="aside">{clocks}</p>}
          <Figures heard={heard} shown={shown} />
          <Table shown={shown} name={(id) => named.find((one) => one.id === id)?.name ?? id} />
          {kept !== null && kept.reading.assumed.length > 0 && (
            <details>
              <summary>{reading.remarks}</summary>
              {kept.reading.assumed.map((one, i) => (
                <p key={i}>{problemText(one, speech)}</p>
              ))}
            </details>
          )}
        </section>
      )}
    </div>
  );
};
