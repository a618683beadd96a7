/** The music of a take with its marks: touched, or gone through by keys. Until the players have said what they heard there are no marks, and bars are touched. */
import type { TargetedKeyboardEvent, TargetedMouseEvent } from 'preact';
import { useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { ShownMark, ShownReading } from '../../desk/index.ts';
import { pictureOf } from '../picture.ts';
import { Signs } from '../Music.tsx';
import { useWords } from '../words/context.ts';
import { markId, marksIn, nearest, placesOf, type Placed } from './places.ts';

type System = ShownReading['screen']['systems'][number];

interface Props {
  readonly shown: ShownReading;
  /** Marks that are to be seen, by id; null: folded. */
  readonly seen: ReadonlyMap<string, ShownMark> | null;
  readonly chosen: string | null;
  readonly onMark: (mark: ShownMark, slower: boolean) => void;
  /** Index in the score of the bar that was touched while it is folded; null: none. */
  readonly bar: string | null;
  readonly onBar: (barIndex: number) => void;
}

/** The next or the one before among what can be reached; null where the key is none of theirs. */
const stepped = (
  stops: readonly HTMLElement[],
  from: EventTarget | null,
  key: string,
): HTMLElement | null => {
  const at = stops.findIndex((one) => one === from);
  if (at < 0) return null;
  switch (key) {
    case 'ArrowRight':
    case 'ArrowDown':
      return stops[Math.min(stops.length - 1, at + 1)] ?? null;
    case 'ArrowLeft':
    case 'ArrowUp':
      return stops[Math.max(0, at - 1)] ?? null;
    case 'Home':
      return stops[0] ?? null;
    case 'End':
      return stops.at(-1) ?? null;
    default:
      return null;
  }
};

const share = (value: number): string => `${(100 * value).toFixed(3)}%`;

interface LineProps extends Props {
  readonly system: System;
  /** Id of the mark, or index of the bar, that Tab comes to. */
  readonly stop: string | null;
  readonly onStop: (stop: string) => void;
}

const Line = ({ system, seen, chosen, onMark, bar, onBar, stop, onStop }: LineProps) => {
  const { reading } = useWords();
  const place = useRef<HTMLDivElement>(null);
  const [places, setPlaces] = useState<readonly Placed[]>([]);
  useLayoutEffect(() => {
    const { current } = place;
    if (current === null) return;
    const picture = pictureOf(system.svg);
    picture?.setAttribute('aria-hidden', 'true');
    current.replaceChildren(...(picture === null ? [] : [picture]));
    if (picture !== null) setPlaces(placesOf(picture));
  }, [system.svg]);
  useLayoutEffect(() => {
    for (const mark of place.current === null ? [] : marksIn(place.current)) {
      const own = seen?.get(markId(mark));
      if (own === undefined) mark.setAttribute('visibility', 'hidden');
      else mark.removeAttribute('visibility');
      mark.classList.toggle('beside', own?.other === true);
      mark.classList.toggle('chosen', markId(mark) === chosen);
    }
  }, [system.svg, seen, chosen]);
  const here = seen === null ? [] : places.filter(({ id }) => seen.has(id));
  const touch = (event: TargetedMouseEvent<HTMLDivElement>): void => {
    // Keys press the mark itself.
    if (seen === null || event.detail === 0) return;
    const box = event.currentTarget.getBoundingClientRect();
    const id = nearest(here, box, event.clientX - box.left, event.clientY - box.top);
    const mark = id === null ? undefined : seen.get(id);
    if (mark === undefined) return;
    onStop(mark.id);
    onMark(mark, event.shiftKey);
  };
  return (
    <div class="line" onClick={touch}>
      <div
        ref={place}
        class="system"
        role="img"
        aria-label={reading.music(system.from, system.to)}
        style={{ aspectRatio: `${system.width} / ${system.height}` }}
      />
      {seen === null
        ? system.bars.map(({ barIndex, number, left, right }) => (
            <button
              key={barIndex}
              type="button"
              class="where"
              tabIndex={stop === String(barIndex) ? 0 : -1}
              aria-label={reading.bar(number)}
              aria-pressed={bar === String(barIndex)}
              style={{ left: share(left / system.width), width: share((right - left) / system.width) }}
              onFocus={() => onStop(String(barIndex))}
              onClick={() => onBar(barIndex)}
            />
          ))
        : here.map(({ id, left, top, width, height }) => {
            const mark = seen.get(id);
            return (
              <button
                key={id}
                type="button"
                class="mark"
                data-mark={id}
                tabIndex={stop === id ? 0 : -1}
                aria-label={`${mark?.title ?? ''}. ${mark?.desc ?? ''}`}
                aria-pressed={chosen === id}
                style={{ left: share(left), top: share(top), width: share(width), height: share(height) }}
                onFocus={() => onStop(id)}
                onKeyDown={(event) => {
                  if (event.key !== 'Enter' || mark === undefined) return;
                  event.preventDefault();
                  onMark(mark, event.shiftKey);
                }}
                onClick={(event) => {
                  if (event.detail === 0 && mark !== undefined) onMark(mark, event.shiftKey);
                }}
              />
            );
          })}
    </div>
  );
};

export const MarkedMusic = (props: Props) => {
  const { reading } = useWords();
  const { shown, seen } = props;
  const [stop, setStop] = useState<string | null>(null);
  const place = useRef<HTMLDivElement>(null);
  const bars = useMemo(() => shown.screen.systems.flatMap((system) => system.bars), [shown]);
  const held = useRef(false);
  // Something can be reached by Tab at all times, and music that was drawn anew takes the focus over from what it replaced.
  useLayoutEffect(() => {
    const stops = [...(place.current?.querySelectorAll<HTMLElement>('.mark, .where') ?? [])];
    if (held.current && document.activeElement === document.body)
      (stops.find(({ tabIndex }) => tabIndex === 0) ?? stops[0])?.focus();
    if (stops.some(({ tabIndex }) => tabIndex === 0)) return;
    const [first] = stops;
    if (first !== undefined) setStop(first.dataset['mark'] ?? String(bars[0]?.barIndex ?? ''));
  });
  const keys = (event: TargetedKeyboardEvent<HTMLDivElement>): void => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const stops = [...event.currentTarget.querySelectorAll<HTMLElement>('.mark, .where')];
    const next = stepped(stops, event.target, event.key);
    if (next === null) return;
    event.preventDefault();
    next.focus();
  };
  return (
    <div
      ref={place}
      class="marked-music"
      role="group"
      aria-label={seen === null ? reading.bars : reading.marks}
      onKeyDown={keys}
      onFocusIn={() => (held.current = true)}
      onFocusOut={({ relatedTarget }) => {
        if (relatedTarget !== null) held.current = false;
      }}
    >
      <Signs signs={shown.screen.signs} />
      {shown.screen.systems.map((system, i) => (
        <Line key={i} {...props} system={system} stop={stop} onStop={setStop} />
      ))}
    </div>
  );
};
