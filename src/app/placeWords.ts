/** Places in words, for the margin and for those who do not see the page. */
import type { ListedPlace } from '../desk/index.ts';
import { listed } from './wording.ts';

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

const kindWords = ({ kind, values }: ListedPlace): string =>
  values === null ? kinds[kind] : `${kinds[kind]} of ${values}`;

const barsWords = ({ from, to }: ListedPlace): string =>
  from.bar === to.bar ? `bar ${from.bar}` : `bars ${from.bar} to ${to.bar}`;

/** "bar 10 beat 3 Clarinet, beat 4 Flute"; bars named once. */
const seamWords = ({ seams }: ListedPlace, first: string, last: string, bars: readonly string[]): string => {
  const [from, to] = [bars.indexOf(first), bars.lastIndexOf(last)];
  const here = new Set(from < 0 ? [] : bars.slice(from, to + 1));
  let bar = '';
  return seams
    .filter((seam) => here.has(seam.bar))
    .map((seam) => {
      const place = seam.bar === bar ? `beat ${seam.beat}` : `bar ${seam.bar} beat ${seam.beat}`;
      bar = seam.bar;
      return `${place} ${seam.to}`;
    })
    .join(', ');
};

/** What is pencilled on a system, one sentence for each place; `from`, `to`: its bars, `bars`: those of the drill. */
export const systemPlaces = (
  places: readonly ListedPlace[],
  ids: readonly string[],
  { from, to, bars }: { readonly from: string; readonly to: string; readonly bars: readonly string[] },
): string =>
  ids
    .flatMap((id) => places.filter((place) => place.id === id))
    .map((place) => {
      const taken = place.kind === 'shared-line' ? seamWords(place, from, to, bars) : '';
      return ` Place ${place.number}, ${barsWords(place)}: ${kindWords(place)}${taken === '' ? '' : `; takes over: ${taken}`}.`;
    })
    .join('');

export const placeWords = {
  all: 'Places where you depend on each other',
  here: 'Where you depend on each other here:',
  none: 'No place marked in these bars.',
  others: (count: number): string => (count === 1 ? 'One more in the piece' : `${count} more in the piece`),
  row: (place: ListedPlace): string => `${barsWords(place)}: ${kindWords(place)}, ${listed(place.players)}`,
  crowded: (numbers: readonly number[]): string => `No room on the page for ${listed(numbers.map(String))}.`,
} as const;
