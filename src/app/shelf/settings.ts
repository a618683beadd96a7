/** A piece's record as what the desk is told of it, and as what the margin shows. */
import {
  markingsOf,
  markingText,
  type Ensemble,
  type Overview,
  type Piece,
  type PieceSettings,
  type ShelfRecord,
} from '../../desk/index.ts';
import { nothingAsked, type Asked } from '../asked.ts';
import type { Words } from '../words/index.ts';

export const settingsOf = (
  { id, title, barShift, octaves, transpositions }: Piece,
  records: ReadonlyMap<string, ShelfRecord>,
): PieceSettings => ({
  title,
  barShift,
  octaves,
  transpositions,
  markings: markingsOf(records, id).map(markingText),
});

/** What was last asked of a piece; undefined where nothing was. */
export const askedIn = (words: Readonly<Record<string, string>>): Asked | undefined => {
  if (Object.keys(words).length === 0) return undefined;
  const all = { ...nothingAsked, ...words };
  const { from, to, keep, click, ownClick, tempo, times, countIn, tacet, hemiola, upbeat, count } = all;
  return { from, to, keep, click, ownClick, tempo, times, countIn, tacet, hemiola, upbeat, count };
};

/** Like `askedIn`, from JSON; undefined where it is none. */
export const askedFrom = (json: unknown): Asked | undefined =>
  typeof json === 'object' && json !== null
    ? askedIn(
        Object.fromEntries(
          Object.entries(json).filter((entry): entry is [string, string] => typeof entry[1] === 'string'),
        ),
      )
    : undefined;

const partName = ({ name, id }: Overview['look']['parts'][number]): string => (name === '' ? id : name);

/** "Anna (Flute) and Clarinet in B♭": players where they are known. Null where none is. */
export const playersWords = (
  look: Overview['look'],
  piece: Piece,
  ensemble: Ensemble,
  { page }: Words,
): string | null => {
  const playerOf = ({ id }: Overview['look']['parts'][number]): string =>
    ensemble.players[piece.players[id] ?? '']?.name ?? '';
  if (look.parts.every((part) => playerOf(part) === '')) return null;
  return page.listed(
    look.parts.map((part) =>
      playerOf(part) === '' ? partName(part) : `${playerOf(part)} (${partName(part)})`,
    ),
  );
};

/** The bar whose number the edition is asked for: the first that is no upbeat and has a plain number. */
export const firstFullBar = ({ bars }: Overview['look']): string | null =>
  bars.find(({ pickup, number }) => !pickup && /^\d+$/.test(number))?.number ?? null;

/** What is added to the bar numbers that are shown: a shift that would lead below nought is not made. */
export const shiftShown = ({ look }: Overview, { barShift }: Piece): number =>
  look.problems.some(({ code }) => code === 'bar-shift-below-zero') ? 0 : barShift;
