/** Places as they are pencilled on a page: numbered as in the list in words, with a word for their kind. */
import type { Place, PlaceKind } from '../lines/index.ts';
import type { Score } from '../score/model.ts';
import type { PlaceMark } from '../sheet/index.ts';
import type { ToldPlace } from './find.ts';

/** Kinds of which a score has very many, each of little weight: they have no number, and stand on a page only where asked for. */
export const smallKinds: readonly PlaceKind[] = ['tie-over-bar', 'upbeat-start'];

/** As short as a pencil would have it. */
const words: Readonly<Record<PlaceKind, string>> = {
  'shared-line': 'line',
  canon: 'canon',
  imitation: 'imitation',
  'joint-entry': 'entry',
  'rhythmic-unison': 'unison',
  'after-beats': 'after-beats',
  'weak-beats': 'weak beats',
  syncopation: 'syncopation',
  'cross-rhythm': '3 against 2',
  'dots-against-triplets': 'dots or triplets',
  hemiola: 'hemiola',
  'metre-change': 'metre',
  'tempo-change': 'tempo',
  'tie-over-bar': 'tie',
  'upbeat-start': 'upbeat',
  'long-note-then-run': 'run',
  'last-notes': 'end',
};

/** Abbreviations of the players, where not all are concerned and these are short. */
const playersText = ({ parts }: Place, score: Score): string => {
  if (parts.length === 0 || parts.length >= score.parts.length || parts.length > 3) return '';
  const names = score.parts.filter(({ id }) => parts.includes(id)).map(({ abbreviation }) => abbreviation);
  return names.some((name) => name === '' || name.length > 7) ? '' : ` ${names.join(' ')}`;
};

/** A place with its number in the list; null: it has none there. */
export interface NumberedPlace extends ToldPlace {
  readonly number: number | null;
}

/** Numbers as the list in words has them: all but the small kinds, heaviest first. */
export const numbered = (told: readonly ToldPlace[]): readonly NumberedPlace[] => {
  let number = 0;
  return told.map((one) => ({ ...one, number: smallKinds.includes(one.place.kind) ? null : ++number }));
};

/** A place as a mark; `index` makes its id, unique among those of a page. */
export const markOf = ({ place, number }: NumberedPlace, index: number, score: Score): PlaceMark => ({
  id: `place-${number ?? `small-${index + 1}`}`,
  label: `${number === null ? '' : `${number} `}${words[place.kind]}${playersText(place, score)}`,
  word: words[place.kind],
  parts: place.parts,
  from: place.from,
  to: place.to,
  seams: place.kind === 'shared-line' ? place.seams : [],
  line: 'plain',
});
