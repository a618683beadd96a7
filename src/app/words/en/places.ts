/** The music and its places in words, for the margin and for those who do not see the page; in English. */
import type { ListedPlace } from '../../../desk/index.ts';
import { page } from './page.ts';

const kinds: Readonly<Record<ListedPlace['kind'], string>> = {
  'shared-line': 'one line',
  canon: 'canon',
  imitation: 'imitation',
  'joint-entry': 'entry together',
  'rhythmic-unison': 'the same rhythm',
  'after-beats': 'after-beats',
  'weak-beats': 'weak beats only',
  syncopation: 'syncopations',
  'cross-rhythm': 'three against two',
  'dots-against-triplets': 'dots against triplets',
  hemiola: 'hemiola',
  'metre-change': 'change of metre',
  'tempo-change': 'change of tempo',
  'tie-over-bar': 'tie over the bar line',
  'upbeat-start': 'upbeat of one player',
  'long-note-then-run': 'long note, then a run',
  'last-notes': 'last notes',
};

const kindText = ({ kind, values }: ListedPlace): string =>
  values === null ? kinds[kind] : `${kinds[kind]} of ${values}`;

const barsText = ({ from, to }: ListedPlace): string =>
  from.bar === to.bar ? `bar ${from.bar}` : `bars ${from.bar} to ${to.bar}`;

export const places = {
  kinds,
  all: 'Places where you depend on each other',
  here: 'Where you depend on each other here:',
  numbered: (place: ListedPlace): string => `place ${place.number}, ${places.row(place)}`,
  choose: (count: number): string =>
    count === 1 ? 'a place where you depend on each other' : `${count} places where you depend on each other`,
  none: 'No place marked in these bars.',
  others: (count: number): string => (count === 1 ? 'One more in the piece' : `${count} more in the piece`),
  row: (place: ListedPlace): string =>
    `${barsText(place)}: ${kindText(place)}, ${page.listed(place.players)}`,
  crowded: (numbers: readonly number[]): string =>
    `No room on the page for ${page.listed(numbers.map(String))}.`,
  why: ({ why }: ListedPlace): string => why,
  /** The key to the lines of the players. */
  key: 'Ticks between the staves lean to who takes over:',
  lines: [
    'unbroken line',
    'long dashes',
    'short dashes',
    'dashes and dots',
    'very long dashes',
    'dots far apart',
  ],
};

/** A system and what is on it. */
export const system = {
  countIn: 'The count-in',
  bars: (from: string, to: string): string => (from === to ? `Bar ${from}` : `Bars ${from} to ${to}`),
  noClicks: 'No clicks',
  clicks: (bars: readonly string[]): string => `Clicks: ${bars.join('; ')}`,
  /** "bar 10 beats 2 and 4". */
  clicked: (bar: string, beats: readonly string[]): string =>
    `bar ${bar} ${beats.length === 1 ? 'beat' : 'beats'} ${page.listed(beats)}`,
  /** `bar`: null where it was named before. */
  taken: (bar: string | null, beat: string, player: string): string =>
    `${bar === null ? '' : `bar ${bar} `}beat ${beat} ${player}`,
  place: (place: ListedPlace, taken: string): string =>
    `Place ${place.number}, ${barsText(place)}: ${kindText(place)}${taken === '' ? '' : `; takes over: ${taken}`}.`,
};
