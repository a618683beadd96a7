/** Hands on the music: bars are touched, drawn over or gone through by keys; beats are touched. */
import type {
  ComponentChildren,
  TargetedKeyboardEvent,
  TargetedMouseEvent,
  TargetedPointerEvent,
} from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { BarRange } from './barNames.ts';
import { barKey, type Marked } from './Lines.tsx';
import { neighbour } from './neighbour.ts';
import type { TouchedNote } from './touches.ts';
import { useWords } from './words/context.ts';

/** What hands can do. */
export interface Doings {
  /** One bar was touched; with Shift held, or not. */
  readonly touched: (bar: number, shift: boolean) => void;
  /** Bars were drawn over, or taken together by keys. */
  readonly drawn: (range: BarRange) => void;
  /** Null: beats cannot be touched. */
  readonly beat: ((bar: number, beat: string) => void) | null;
  /** A note was touched; null: notes cannot be touched. */
  readonly note: ((touched: TouchedNote) => void) | null;
  /** What a part is called, by its id. */
  readonly partName: (id: string) => string;
}

interface Props {
  readonly passage: BarRange | null;
  readonly doings: Doings;
  /** Told of bars that are taken together by keys and wait for Enter; null: none. */
  readonly onChosen: (range: BarRange | null) => void;
  readonly children: (marked: Marked) => ComponentChildren;
}

/** Two bars in either order. */
const between = (a: number, b: number): BarRange => ({ first: Math.min(a, b), last: Math.max(a, b) });

interface Meant {
  readonly bar: number;
  readonly beat: string | null;
  readonly key: string;
  /** Null where it is no note. */
  readonly note: TouchedNote | null;
}

/** What a place on the page stands for. */
const meant = (target: EventTarget | null): Meant | null => {
  const place = target instanceof Element ? target.closest<HTMLElement>('[data-key]') : null;
  if (place === null) return null;
  const { bar, beat, key, part, note } = place.dataset;
  const touched =
    beat === undefined || part === undefined || note === undefined
      ? null
      : { part, barIndex: Number(bar), beat, note };
  return { bar: Number(bar), beat: beat ?? null, key: key ?? '', note: touched };
};

/** The note that is nearest to a touch among those of a system. */
const nearestNote = (target: EventTarget | null, x: number, y: number): Element | null => {
  const layer = target instanceof Element ? target.closest('.note-places') : null;
  const away = (one: Element): number => {
    const { left, top, width, height } = one.getBoundingClientRect();
    return Math.hypot(left + width / 2 - x, top + height / 2 - y);
  };
  return [...(layer?.children ?? [])].reduce<Element | null>(
    (best, one) => (best === null || away(one) < away(best) ? one : best),
    null,
  );
};

export const Hands = ({ passage, doings, onChosen, children }: Props) => {
  const { hand, marking } = useWords();
  const place = useRef<HTMLDivElement>(null);
  const [at, setAt] = useState<string | null>(null);
  const [range, setRange] = useState<{ from: number; to: number; byKeys: boolean } | null>(null);
  const down = useRef<number | null>(null);
  const drew = useRef(false);
  const held = useRef(false);
  const take = (next: typeof range): void => {
    setRange(next);
    onChosen(next?.byKeys === true ? between(next.from, next.to) : null);
  };
  // Music that was written anew takes the focus over from what it replaced.
  useLayoutEffect(() => {
    const music = place.current;
    if (music === null) return;
    const stops = music.querySelectorAll<HTMLElement>('[data-key]');
    const wanted = [...stops].find(({ dataset }) => dataset['key'] === at);
    if (held.current && document.activeElement === document.body) (wanted ?? stops[0])?.focus();
    if (wanted === undefined && music.querySelector('[data-key][tabindex="0"]') === null) {
      const first = stops[0]?.dataset['key'];
      if (first !== undefined) setAt(first);
    }
  });
  const pointerDown = (event: TargetedPointerEvent<HTMLDivElement>): void => {
    drew.current = false;
    const found = meant(event.target);
    down.current = event.isPrimary && event.button === 0 && found?.beat === null ? found.bar : null;
    if (range !== null) take(null);
  };
  const pointerMove = ({
    clientX,
    clientY,
    currentTarget,
    pointerId,
  }: TargetedPointerEvent<HTMLDivElement>) => {
    if (down.current === null) return;
    const over = meant(document.elementFromPoint(clientX, clientY));
    if (over === null || (over.bar === down.current && !drew.current)) return;
    if (!drew.current) currentTarget.setPointerCapture(pointerId);
    drew.current = true;
    setRange({ from: down.current, to: over.bar, byKeys: false });
  };
  const pointerUp = (): void => {
    if (drew.current && range !== null) doings.drawn(between(range.from, range.to));
    down.current = null;
    if (range !== null) take(null);
  };
  const click = (event: TargetedMouseEvent<HTMLDivElement>): void => {
    const found = meant(event.target) ?? meant(nearestNote(event.target, event.clientX, event.clientY));
    if (found === null || drew.current) return;
    if (found.note !== null) doings.note?.(found.note);
    else if (found.beat !== null) doings.beat?.(found.bar, found.beat);
    else if (range?.byKeys === true && range.from !== range.to) doings.drawn(between(range.from, range.to));
    else doings.touched(found.bar, event.shiftKey);
    take(null);
  };
  const keyDown = (event: TargetedKeyboardEvent<HTMLDivElement>): void => {
    const found = meant(event.target);
    if (found === null || event.ctrlKey || event.altKey || event.metaKey) return;
    if (event.key === 'Escape' && range !== null) {
      event.preventDefault();
      event.stopPropagation();
      take(null);
      return;
    }
    const next = neighbour(event.currentTarget, event.target, event.key);
    if (next === null) return;
    event.preventDefault();
    const to = meant(next)?.bar ?? found.bar;
    if (event.shiftKey && found.beat === null && next.dataset['beat'] === undefined)
      take({ from: range?.from ?? found.bar, to, byKeys: true });
    else if (range !== null) take(null);
    next.focus();
  };
  return (
    <div
      ref={place}
      class="hands"
      role="group"
      aria-label={doings.note === null ? hand.barsHelp : marking.notesHelp}
      onPointerDown={pointerDown}
      onPointerMove={pointerMove}
      onPointerUp={pointerUp}
      onPointerCancel={() => {
        down.current = null;
        if (range !== null) take(null);
      }}
      onClick={click}
      onKeyDown={keyDown}
      onFocusIn={({ target }) => {
        held.current = true;
        const key = meant(target)?.key;
        if (key !== undefined) setAt(key);
      }}
      onFocusOut={({ relatedTarget }) => {
        // Gone elsewhere by will; what is taken off the page loses it to nobody.
        if (relatedTarget !== null) held.current = false;
      }}
    >
      {children({
        passage,
        drawn: range === null ? null : between(range.from, range.to),
        at: at ?? barKey(passage?.first ?? 0),
        beats: doings.beat !== null,
        notes: doings.note !== null,
        partName: doings.partName,
      })}
    </div>
  );
};
