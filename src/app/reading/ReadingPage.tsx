/** The page of a take that was heard: its music with the marks, and in the margin what was found, strongest first. */
import { useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { ShownMark, ShownReading } from '../../desk/index.ts';
import { Pick, Write } from '../Fields.tsx';
import { useMusicFont } from '../Music.tsx';
import { Word } from '../shelf/Fields.tsx';
import { optionsFor } from '../size.ts';
import { useSpeech, useWords } from '../words/context.ts';
import { problemText } from '../words/index.ts';
import { Ears, Said } from './Ears.tsx';
import { momentKey, seatsOf, type HeardTakes } from './heardTakes.ts';
import { MarkedMusic } from './MarkedMusic.tsx';
import { Figures, Table } from './Numbers.tsx';

interface Props {
  readonly heard: HeardTakes;
}

/** What is shown of the marks, by the kinds that a mark can have. */
const kinds = {
  notes: ['apart', 'click'],
  unsure: ['unsure', 'missing'],
  seams: ['seam'],
  pace: ['pace'],
} as const;
type Layer = keyof typeof kinds;
const layers: readonly Layer[] = ['notes', 'unsure', 'seams', 'pace'];

interface Hidden {
  readonly layers: ReadonlySet<Layer>;
  readonly parts: ReadonlySet<string>;
}

const toggled = <T,>(set: ReadonlySet<T>, one: T): ReadonlySet<T> =>
  set.has(one) ? new Set([...set].filter((other) => other !== one)) : new Set([...set, one]);

const layerOf = ({ kind }: ShownMark): Layer | null =>
  layers.find((layer) => kinds[layer].some((one) => one === kind)) ?? null;

const seenOf = (
  { marks, findings }: ShownReading,
  hidden: Hidden,
  told: number,
): ReadonlyMap<string, ShownMark> => {
  const words = new Set(findings.slice(0, told).map(({ mark }) => mark));
  return new Map(
    marks.flatMap((mark): [string, ShownMark][] => {
      const layer = layerOf(mark);
      const seen =
        layer === null
          ? words.has(mark.id)
          : !hidden.layers.has(layer) &&
            (mark.parts.length === 0 || mark.parts.some((part) => !hidden.parts.has(part)));
      return seen ? [[mark.id, mark]] : [];
    }),
  );
};

interface ChosenProps extends Props {
  /** Null: none was touched yet. */
  readonly mark: ShownMark | null;
  readonly onLeave: () => void;
}

const Chosen = ({ heard, mark, onLeave }: ChosenProps) => {
  const { reading } = useWords();
  if (mark === null) return <p class="aside">{reading.touch}</p>;
  const { plays } = heard.now;
  const out = new Set(heard.out);
  const notes = mark.other ? [] : mark.moments.flatMap(({ note }) => note ?? []);
  const isOut = notes.length > 0 && notes.every((note) => out.has(note));
  return (
    <section class="chosen-mark" aria-label={reading.chosen}>
      <p role="status">
        {mark.title}. <span class="desc">{mark.desc}</span>
      </p>
      {mark.moments.map((moment) => {
        const what = `${mark.moments.length > 1 ? reading.time(moment.rep) : ''}${mark.title}`;
        return (
          <p key={moment.rep} class="take-line">
            {mark.moments.length > 1 && <span>{reading.time(moment.rep)}</span>}
            {[false, true].map((slower) => (
              <Word
                key={String(slower)}
                words={
                  plays === momentKey(mark.id, moment, slower)
                    ? reading.stop
                    : slower
                      ? reading.slower
                      : reading.listen
                }
                label={slower ? reading.slowerTo(what) : reading.listenTo(what)}
                onPress={() => void heard.listen(mark, moment, slower)}
              />
            ))}
          </p>
        );
      })}
      <p class="take-line">
        {notes.length > 0 && (
          <Word
            words={isOut ? reading.notSoAfterAll : reading.notSo}
            label={`${isOut ? reading.notSoAfterAll : reading.notSo}: ${mark.title}`}
            onPress={() =>
              heard.takeOut(
                notes.map((note) => `note/${note}`),
                !isOut,
              )
            }
          />
        )}
        <Word words={reading.putAway} onPress={onLeave} />
      </p>
    </section>
  );
};

interface FoundProps extends Props {
  readonly shown: ShownReading;
  readonly told: number;
  readonly onTold: (count: number) => void;
  readonly onMark: (mark: ShownMark) => void;
}

const Found = ({ heard, shown, told, onTold, onMark }: FoundProps) => {
  const { reading } = useWords();
  const list = shown.findings.slice(0, told);
  const rest = shown.findings.length - list.length;
  const out = heard.out;
  return (
    <section class="found" aria-label={reading.found}>
      <h2>{reading.found}</h2>
      {shown.said.map((line) => (
        <p key={line} class="aside">
          {line}
        </p>
      ))}
      <ol>
        {list.map(({ mark, number, texts }) => {
          const own = shown.marks.find(({ id }) => id === mark);
          return (
            <li key={mark} value={Number(number)}>
              {texts.map((line) => (
                <p key={line}>{line}</p>
              ))}
              {own !== undefined && own.moments.length > 0 && (
                <Word
                  words={reading.listen}
                  label={reading.listenTo(own.title)}
                  onPress={() => onMark(own)}
                />
              )}
            </li>
          );
        })}
      </ol>
      {rest > 0 && <Word words={reading.more(rest)} onPress={() => onTold(shown.findings.length)} />}
      {told > 1 && rest === 0 && <Word words={reading.fewer} onPress={() => onTold(1)} />}
      {shown.closing !== '' && <p class="aside">{shown.closing}</p>}
      {out.length > 0 && (
        <p>
          {reading.outCount(out.length)}{' '}
          <Word
            words={reading.allBack}
            onPress={() =>
              heard.takeOut(
                out.map((note) => `note/${note}`),
                false,
              )
            }
          />
        </p>
      )}
    </section>
  );
};

interface ShownProps extends Props {
  readonly hidden: Hidden;
  readonly onHide: (hidden: Hidden) => void;
  readonly parts: readonly { readonly id: string; readonly name: string }[];
}

const Layers = ({ hidden, onHide, parts }: Omit<ShownProps, 'heard'>) => {
  const { reading } = useWords();
  return (
    <fieldset class="choice">
      <legend>{reading.layers}</legend>
      {layers.map((layer) => (
        <label key={layer}>
          <input
            type="checkbox"
            name={`layer-${layer}`}
            checked={!hidden.layers.has(layer)}
            onChange={() => onHide({ ...hidden, layers: toggled(hidden.layers, layer) })}
          />
          <span>{reading.kinds[layer]}</span>
        </label>
      ))}
      {parts.length > 1 &&
        parts.map(({ id, name }) => (
          <label key={id}>
            <input
              type="checkbox"
              name={`layer-of-${id}`}
              checked={!hidden.parts.has(id)}
              onChange={() => onHide({ ...hidden, parts: toggled(hidden.parts, id) })}
            />
            <span>{name || id}</span>
          </label>
        ))}
    </fieldset>
  );
};

const fileNames = ['reading.pdf', 'reading.csv', 'reading.json'] as const;

const Rest = ({ heard, hidden, onHide, parts }: ShownProps) => {
  const { reading, takes } = useWords();
  const { beside, names, making } = heard.now;
  const { take, piece, others } = heard;
  if (take === null) return null;
  const nameOf = (one: typeof take): string =>
    one.name || (one.begun === '' ? takes.noTime : takes.begun(new Date(one.begun)));
  const called = `${take.name || take.begun.slice(0, 10)} ${take.asked['from'] ?? ''}-${take.asked['to'] ?? ''}`;
  const out = take.out?.['take'] === 'yes';
  const seats = piece === null ? {} : seatsOf(piece);
  return (
    <>
      <Layers hidden={hidden} onHide={onHide} parts={parts} />
      {others.length > 0 && (
        <p>
          {reading.beside}{' '}
          <Pick
            name="beside"
            label={reading.besideLabel}
            value={beside ?? ''}
            choices={[
              { value: '', words: reading.alone },
              ...others.map((one) => ({ value: one.id, words: nameOf(one) })),
            ]}
            onPick={(id) => void heard.holdBeside(id === '' ? null : id)}
          />
          {beside !== null && <span class="aside"> {reading.besideHelp}</span>}
        </p>
      )}
      {parts.some(({ id }) => heard.playerOf(id) !== '') && (
        <p>
          {reading.names}{' '}
          <Pick
            name="names"
            label={reading.namesLabel}
            value={names}
            choices={[
              { value: 'parts', words: reading.byParts },
              { value: 'players', words: reading.byNames },
            ]}
            onPick={(value) => heard.callBy(value === 'players' ? 'players' : 'parts')}
          />
        </p>
      )}
      <details>
        <summary>{reading.take}</summary>
        <ul class="files">
          {fileNames.map((name) => (
            <li key={name}>
              <Word
                words={making === name ? reading.making : reading.files[name]}
                onPress={() => void heard.along(name, called)}
              />
            </li>
          ))}
          <li>
            <Word words={reading.wav} onPress={() => void heard.soundAlong(false, called)} />
          </li>
          <li>
            <Word
              words={making === 'flac' ? reading.making : reading.flac}
              onPress={() => void heard.soundAlong(true, called)}
            />
          </li>
        </ul>
      </details>
      <details>
        <summary>{reading.seats}</summary>
        <p class="aside">{reading.seatsHelp}</p>
        {parts.map(({ id, name }) => (
          <p key={id}>
            {name || id}{' '}
            <Write
              name={`seat-${id}`}
              label={reading.seat(name || id)}
              value={seats[id] ?? ''}
              size={3}
              digits
              onWrite={(metres) => heard.sit(id, metres)}
            />{' '}
            m
          </p>
        ))}
      </details>
      <p>{out && reading.takeIsOut}</p>
      <p>
        <Word words={out ? reading.takeIn : reading.takeOut} onPress={() => heard.takeOut(['take'], !out)} />{' '}
        <Word words={reading.anew} onPress={() => void heard.open(take, nameOf(take), true)} />
      </p>
    </>
  );
};

const Waiting = ({ heard }: Props) => {
  const { reading } = useWords();
  const { stage, done } = heard.now;
  if (stage === 'there') return null;
  return (
    <div class="word">
      <p role="status">{stage === 'hearing' ? reading.hearing : reading.drawing}</p>
      {stage === 'hearing' && (
        <>
          <progress max={1} value={done} aria-label={reading.progress} />
          <p>
            <Word words={reading.leave} onPress={() => heard.close()} />
          </p>
        </>
      )}
    </div>
  );
};

export const ReadingPage = ({ heard }: Props) => {
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
    name: heard.now.names === 'players' ? heard.playerOf(id) || name : name,
  }));
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
              : `${take.name || (take.begun === '' ? takes.noTime : takes.begun(new Date(take.begun)))}, ${from === '' && to === '' ? takes.whole : takes.bars(from, to)}`}
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
              {problem.message === '' ? reading.noScore : problemText(problem, speech)}
            </p>
          )}
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
        {shown !== null && !folded && (
          <div class="below">
            <p class="aside">
              {reading.manner} {shown.left > 0 && reading.left(shown.left)}
            </p>
            <Figures shown={shown} />
            <Table shown={shown} name={(id) => named.find((one) => one.id === id)?.name ?? id} />
            {kept !== null && kept.reading.assumed.length > 0 && (
              <details>
                <summary>{reading.remarks}</summary>
                {kept.reading.assumed.map((one, i) => (
                  <p key={i}>{problemText(one, speech)}</p>
                ))}
              </details>
            )}
          </div>
        )}
      </main>
      {shown !== null && take !== null && (
        <aside class="margin" aria-label={reading.title}>
          {folded ? (
            <Ears heard={heard} parts={parts} bar={bar} />
          ) : (
            <>
              <Said heard={heard} parts={parts} bar={bar} />
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
              <Rest heard={heard} hidden={hidden} onHide={setHidden} parts={named} />
            </>
          )}
        </aside>
      )}
    </div>
  );
};
