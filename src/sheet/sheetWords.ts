/** What a page says by itself, in the players' language. */
import type { PageWords } from './sheetScore.ts';

/** Texts of the head, which stand as they are or are put together of figures. */
export interface HeadWords {
  /** Where several parts stand. */
  readonly score: string;
  readonly allBars: string;
  /** One bar where both are the same. */
  readonly bars: (from: string, to: string) => string;
  readonly withRepeats: string;
  /** Which time through, from 1. */
  readonly time: (pass: number) => string;
  /** Names of note values, by "1/8"; `range`: "+" and longer, "-" and shorter, "" only these. Null: it has no name. */
  readonly keep: (value: string, triplet: boolean, range: string) => string | null;
  /** A placement that has a name of its own. */
  readonly clicks: Readonly<Record<string, string>>;
  readonly clickInBars: (bars: string) => string;
  readonly hemiola: (bars: string) => string;
  /** Any other placement, as it was written. */
  readonly click: (placement: string) => string;
  /** `each`: at each of several tempi. */
  readonly times: (times: number, each: boolean) => string;
  /** Before the decimals of a figure. */
  readonly point: string;
}

export interface SheetWords {
  /** By its tag (BCP 47): a reader of the PDF aloud goes by it. */
  readonly language: string;
  readonly head: HeadWords;
  /** In front of the names of those who take a line over. */
  readonly takesOver: string;
  /** Count words, and words in the labels of places; English ones that are not here stay. */
  readonly inMusic: PageWords;
}

const ordinals = ['', 'first', 'second', 'third', 'fourth', 'fifth', 'sixth'];

const values: Readonly<Record<string, string>> = {
  '1': 'whole notes',
  '1/2': 'halves',
  '1/4': 'quarters',
  '1/8': 'eighths',
  '1/16': 'sixteenths',
  '1/32': 'thirty-seconds',
};

const keptRange: Readonly<Record<string, string>> = { '+': ' and longer', '-': ' and shorter', '': ' only' };

export const englishSheet: SheetWords = {
  language: 'en',
  head: {
    score: 'Score',
    allBars: 'all bars',
    bars: (from, to) => (from === to ? `bar ${from}` : `bars ${from}–${to}`),
    withRepeats: 'with repeats',
    time: (pass) => `${ordinals[pass] ?? `${pass}th`} time`,
    keep: (value, triplet, range) => {
      const name = values[value];
      return name === undefined ? null : `${triplet ? 'triplet ' : ''}${name}${keptRange[range] ?? ''}`;
    },
    clicks: {
      every: 'click on every beat',
      half: 'click on the half bar',
      weak: 'click on the weak beats',
      after: 'click after the beat',
      bar: 'one click a bar',
      none: 'no click',
    },
    clickInBars: (bars) => `one click in ${bars} bars`,
    hemiola: (bars) => `hemiola clicked in bars ${bars}`,
    click: (placement) => `click ${placement}`,
    times: (times, each) => (each ? `each ${times} times` : `${times} times`),
    point: '.',
  },
  takesOver: 'takes over:',
  inMusic: {},
};
