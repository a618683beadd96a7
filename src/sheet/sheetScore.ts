/**
 * The score that the page of a drill shows: the click line, the count-in bars, then the passage. Everything on it is
 * known by id, so that what is engraved can be found again: ticks by the timeline's clicks, notes by the score's notes.
 */
import { extractScore } from '../drill/extract.ts';
import { sharedOnce, withTimes } from '../drill/ownMarks.ts';
import { takenBars } from '../drill/taken.ts';
import type { DrillBar } from '../drill/model.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import type { Bar, Direction, Part, Score } from '../score/model.ts';
import type { WrittenNote } from '../score/notes.ts';
import { F, minus, note, plus, problem, type Beats, type Problem } from '../units/index.ts';
import { barRest, clickPart, tickId, type SheetClick } from './clickLine.ts';

/** A written note on the page. */
export interface SheetNote {
  /** Id of its element in the pages. */
  readonly element: string;
  readonly part: string;
  /** Id of the score's written note. */
  readonly written: string;
  /** Id of the score's sounding note; null for rests and grace notes. */
  readonly note: string | null;
  /** Printed number of its bar. */
  readonly bar: string;
  readonly pass: number;
  /** Whether the line filter keeps it; true for rests. */
  readonly kept: boolean;
}

/** A click on the page. */
export interface SheetTick {
  /** Id of its element in the pages. A bar counted again after a fermata is one sign for all its clicks. */
  readonly element: string;
  /** Index in the timeline's `clicks`. */
  readonly click: number;
  /** On the first beat of a bar: drawn taller. */
  readonly first: boolean;
}

export interface SheetScore {
  readonly score: Score;
  /** Id of the part that carries the clicks; it is the score's first. */
  readonly clickPart: string;
  /** Number of count-in bars, which are the score's first bars. */
  readonly countBars: number;
  /** Number of the first sign for a bar counted again (`recountId`). */
  readonly firstRecount: number;
  readonly notes: readonly SheetNote[];
  readonly ticks: readonly SheetTick[];
  readonly problems: readonly Problem[];
}

/** Words of a page in the players' language, by the English one. */
export type PageWords = Readonly<Record<string, string>>;

const wordIn = (words: PageWords, word: string): string =>
  Object.hasOwn(words, word) ? (words[word] ?? word) : word;

export interface SheetScoreOptions {
  /** Part ids to show; null: all of the drill's. */
  readonly parts: readonly string[] | null;
  /** How notes that the line filter leaves out are shown. */
  readonly others: 'rests' | 'grey';
  /** Count words as they are to be written; those that are not here stand as the timeline has them. */
  readonly words?: PageWords;
  /** Number of the first sign for a bar counted again; 0 where it is left out. */
  readonly firstRecount?: number;
  /** Whether the tempo of the beginning stands over the music; else the page's head says it. */
  readonly openingTempo?: boolean;
}

/** The count-in bars of the first repetition, and then its bars; what is counted again after a fermata among them. */
const firstRound = (bars: readonly DrillBar[]): readonly DrillBar[] => {
  const next = bars.findIndex(({ rep }) => rep > 1);
  return next < 0 ? bars : bars.slice(0, next);
};

const countBarOf = (bar: DrillBar, index: number, last: boolean, upbeat: boolean): Bar => ({
  index,
  number: '',
  start: bar.start,
  length: bar.length,
  metre: bar.metre,
  pickup: false,
  repeatStart: false,
  repeatEnd: 0,
  repeatAfterJump: false,
  ending: null,
  jumps: [],
  // The upbeat completes the last counted bar: no bar line of its own there, as that would be a beat of the count.
  barline: last ? (upbeat ? 'dashed' : 'double') : 'regular',
  fermata: false,
});

/** Clicks of the first repetition on the sheet's axis, on which bars counted again take no room. */
const placedClicks = (
  worked: WorkedDrill,
  words: PageWords,
): { readonly clicks: readonly SheetClick[]; readonly again: readonly { at: Beats; clicks: number[] }[] } => {
  const clicks: SheetClick[] = [];
  const again: { at: Beats; clicks: number[] }[] = [];
  const events = worked.timeline.clicks;
  let sheet: Beats = note(0);
  // Of a stretch of a drill's page the clicks before it are not its own.
  const begin = worked.timeline.bars[0]?.start ?? note(0);
  let next = events.findIndex(({ at }) => F.atMost(begin, at));
  if (next < 0) next = events.length;
  for (const bar of firstRound(worked.timeline.bars)) {
    const end = F.add(bar.start, bar.length);
    const counted: number[] = [];
    for (let event = events[next]; event !== undefined && F.less(event.at, end); event = events[++next]) {
      const at = plus(sheet, minus(event.at, bar.start));
      if (bar.kind === 'hold') counted.push(next);
      else clicks.push({ click: next, at, word: wordIn(words, event.word ?? ''), first: event.first });
    }
    if (bar.kind === 'hold') again.push({ at: sheet, clicks: counted });
    else sheet = plus(sheet, bar.length);
  }
  return { clicks, again };
};

/** Everything of a part put later by `lead`, except what holds from the very beginning. */
const shiftedPart = (part: Part, lead: Beats, count: number, bars: readonly Bar[]): Part => {
  const later = <T extends { readonly at: Beats }>(entry: T): T =>
    F.isZero(entry.at) ? entry : { ...entry, at: plus(entry.at, lead) };
  const rests = bars
    .slice(0, count)
    .flatMap((bar) =>
      Array.from({ length: part.staves }, (_, i) =>
        barRest(bar, `count-${part.id}-${bar.index}-${i + 1}`, i + 1),
      ),
    );
  const moved = (piece: WrittenNote): WrittenNote => ({
    ...piece,
    bar: piece.bar + count,
    onset: plus(piece.onset, lead),
  });
  return {
    ...part,
    transpositions: part.transpositions.map(later),
    clefs: part.clefs.map(later),
    keys: part.keys.map(later),
    written: [...rests, ...part.written.map(moved)],
    notes: [],
    directions: part.directions.map((entry): Direction => ({
      ...entry,
      at: plus(entry.at, lead),
      bar: entry.bar + count,
    })),
  };
};

/** A part for a score that has bars only: nothing is known of what is played in them. */
const barsOnly = (bars: readonly Bar[]): Part => ({
  ...clickPart('bars', bars, [], () => undefined),
  written: bars.map((bar) => barRest(bar, `bars-${bar.index}`)),
});

/** Notes that the filter leaves out, small: whole chords and the grace notes that lean on them. */
const smallOthers = (written: readonly WrittenNote[], isKept: (id: string) => boolean): WrittenNote[] => {
  const place = (piece: WrittenNote) => `${piece.voice} ${F.format(piece.onset)}`;
  const keptPlaces = new Set(
    written.filter(({ kind, id }) => kind === 'note' && isKept(id)).map((piece) => place(piece)),
  );
  return written.map((piece) =>
    piece.kind === 'rest' || piece.cue || keptPlaces.has(place(piece)) ? piece : { ...piece, cue: true },
  );
};

/**
 * Stands in front of words that the players wrote, for as long as they are engraved: words have no ids by which to find
 * them. U+2060, word joiner: no width, no ink.
 */
export const ownSign = '\u2060';

/** Stands there twice in front of dynamics that the players wrote, which are letters and no words. */
export const ownLetters = `${ownSign}${ownSign}`;

/** As words, all of them, which are drawn in pencil. */
const withOwnWords = (part: Part): Part => ({
  ...part,
  directions: withTimes(part).directions.map((one): Direction => {
    if (one.own !== true) return one;
    const sign = one.kind === 'dynamics' ? ownLetters : ownSign;
    return { ...one, kind: 'words', value: `${sign}${one.value}` };
  }),
});

/** An id that no part has yet. */
const freeId = (wanted: string, parts: readonly Part[]): string =>
  parts.some(({ id }) => id === wanted) ? freeId(`${wanted}-`, parts) : wanted;

/** The sheet's score of a worked drill. */
export const sheetScore = (worked: WorkedDrill, options: SheetScoreOptions): SheetScore => {
  const sources = new Map<string, string>();
  const filtered = options.others === 'grey' ? 'kept' : 'rests';
  const whole = extractScore(worked, { filtered, named: (id, source) => void sources.set(id, source) });
  const shown = whole.parts.filter(({ id }) => options.parts?.includes(id) ?? true);
  const taken = takenBars(worked.round);
  const counts = firstRound(worked.timeline.bars).filter(({ kind }) => kind === 'count-in');
  const lead = counts.reduce<Beats>((sum, { length }) => plus(sum, length), note(0));
  const upbeat = F.isPositive(worked.round.upbeat);
  const bars: readonly Bar[] = [
    ...counts.map((bar, i) => countBarOf(bar, i, i === counts.length - 1, upbeat)),
    ...whole.bars.map((bar) => ({
      ...bar,
      index: bar.index + counts.length,
      start: plus(bar.start, lead),
    })),
  ];

  const sounding = new Map<string, string>();
  const keptWritten = new Set<string>();
  for (const part of worked.parts)
    for (const { id, written } of part.notes)
      for (const piece of written) {
        sounding.set(piece, id);
        if (worked.kept.has(id)) keptWritten.add(piece);
      }
  const isKept = (id: string): boolean => keptWritten.has(sources.get(id) ?? '');

  const leftOut = new Set<string>();
  const parts = shown.map((part) => {
    const moved = shiftedPart(part, lead, counts.length, bars);
    const named = shown.length === 1 ? { ...moved, name: '', abbreviation: '' } : moved;
    if (options.others === 'rests') return named;
    const written = smallOthers(named.written, isKept);
    // The score's own cue notes are small too, but no filter left them out.
    written.forEach(({ id, cue }, i) => {
      if (cue && named.written[i]?.cue === false) leftOut.add(id);
    });
    return { ...named, written };
  });

  const { firstRecount = 0, openingTempo = false } = options;
  const problems: Problem[] = [];
  const { clicks, again } = placedClicks(worked, options.words ?? {});
  const clickId = freeId('clicks', whole.parts);
  const line = clickPart(clickId, bars, clicks, ({ at }) => {
    const bar = bars.findLast(({ start }) => F.atMost(start, at));
    problems.push(
      problem(
        'note',
        'click-not-drawn',
        'A click falls on a fraction of the beat that no usual note value reaches: it sounds, but stands on no page.',
        { bar: bar?.number ?? '' },
      ),
    );
  });
  const onLine = new Set(line.written.map(({ id }) => id));
  const recounts = again.map(({ at, clicks: counted }): Direction => ({
    at: plus(at, note(0)),
    bar: Math.max(
      0,
      bars.findLastIndex(({ start }) => F.atMost(start, at)),
    ),
    staff: 1,
    kind: 'words',
    value: `(${counted.map((i) => worked.timeline.clicks[i]?.beat ?? '').join(' ')})`,
    number: 1,
    above: true,
  }));
  const ticks = [
    ...clicks.map(({ click, first }) => ({ element: tickId(click), click, first })),
    ...again.flatMap(({ clicks: counted }, i) =>
      counted.map((click) => ({ element: recountId(firstRecount + i), click, first: false })),
    ),
  ].filter(({ element }) => element.startsWith('recount') || onLine.has(element));

  const notes = parts.flatMap((part) =>
    part.written.flatMap((piece): readonly SheetNote[] => {
      const source = sources.get(piece.id);
      const bar = bars[piece.bar];
      if (source === undefined || bar === undefined) return [];
      return [
        {
          element: piece.id,
          part: part.id,
          written: source,
          note: piece.kind === 'note' ? (sounding.get(source) ?? null) : null,
          bar: bar.number,
          pass: taken[piece.bar - counts.length]?.pass ?? 1,
          kept: !leftOut.has(piece.id),
        },
      ];
    }),
  );
  const scaled = worked.drill.tempo.some((step) => step !== '100%');
  return {
    score: {
      title: '',
      source: whole.source,
      bars,
      parts: [
        { ...line, directions: recounts },
        ...(parts.length === 0 ? [barsOnly(bars)] : sharedOnce(parts).map(withOwnWords)),
      ],
      // The page's head says the tempo that the drill begins with, with all its steps.
      marks: whole.marks.flatMap((mark) => {
        if (mark.kind === 'tempo' && F.isZero(mark.at) && !openingTempo) return [];
        const moved = { ...mark, at: plus(mark.at, lead), bar: mark.bar + counts.length };
        if (moved.kind === 'tempoWords' && moved.own === true)
          return [{ ...moved, text: `${ownSign}${moved.text}` }];
        return moved.kind === 'tempo' && scaled ? [{ ...moved, printed: false }] : [moved];
      }),
    },
    clickPart: clickId,
    countBars: counts.length,
    firstRecount,
    notes,
    ticks,
    problems,
  };
};

/** Element id of the sign for the n-th bar counted again, from 0. */
export const recountId = (n: number): string => `recount-${n}`;
