/** Metres, unit lengths and note lengths as ABC writes them. Source: ABC 2.1, sections 3.1.6, 3.1.7 and 4.3. */
import { F, type Fraction } from '../../../units/index.ts';
import { metre, metreLength, noMetre, parseMetre, type Metre } from '../../metre.ts';
import { noteTypes, type NoteValue } from '../../notes.ts';
import { valueLength } from '../drafts/values.ts';

/** What an M: field says; null where it can not be read. */
export const readMetre = (text: string): Metre | null => {
  const plain = text.replace(/[\s()]+/g, '');
  if (plain === '' || /^none$/i.test(plain)) return noMetre;
  if (plain === 'C') return metre(4, 4, 'common');
  if (plain === 'C|') return metre(2, 2, 'cut');
  return /^[\d+/]+$/.test(plain) ? parseMetre(plain) : null;
};

/** The unit length where no L: field tells it: a sixteenth below three quarters, else an eighth; an eighth without metre. */
export const defaultUnit = (value: Metre): Fraction => {
  const full = metreLength(value);
  return full !== null && F.less(full, F.fraction(3, 4)) ? F.fraction(1, 16) : F.fraction(1, 8);
};

/** 6/8, 9/8, 12/8 and their like: the beat has three parts. */
export const isCompound = ({ components }: Metre): boolean => {
  const [one] = components;
  const [numerator, more] = one?.numerators ?? [];
  return (
    components.length === 1 &&
    more === undefined &&
    numerator !== undefined &&
    numerator > 3 &&
    numerator % 3 === 0
  );
};

/** What an L: field says; null where it can not be read. Whole notes. */
export const readUnit = (text: string): Fraction | null => {
  const match = /^\s*(\d{1,4})(?:\s*\/\s*(\d{1,4}))?\s*$/.exec(text);
  if (match === null) return null;
  const [n, d] = [Number(match[1]), Number(match[2] ?? '1')];
  if (n === 0 || d === 0 || n > 8 * d) return null;
  return F.fraction(n, d);
};

const factors = new Map<string, Fraction | null>();

const factorOf = (text: string): Fraction | null => {
  const match = /^(\d{0,9})(\/*)(\d{0,9})$/.exec(text);
  if (match === null) return null;
  const [, above = '', strokes = '', below = ''] = match;
  // "A/" is "A/2", "A//" is "A/4".
  const halvings = below === '' ? strokes.length : strokes.length - 1;
  if (halvings > 12) return null;
  const d = (below === '' ? 1 : Number(below)) * 2 ** Math.max(0, halvings);
  const n = above === '' ? 1 : Number(above);
  return n === 0 || d === 0 ? null : F.fraction(n, d);
};

/** The factor behind a note, "3/2" or "//"; 1 where there is none, null where it makes no sense. */
export const readFactor = (text: string): Fraction | null => {
  if (text === '') return F.one;
  const known = factors.get(text);
  if (known !== undefined) return known;
  const factor = factorOf(text);
  // A score uses a handful of lengths; a file made to harm must not fill the memory.
  if (factors.size < 1000) factors.set(text, factor);
  return factor;
};

const drawn = new Map<string, NoteValue>();
for (const type of noteTypes)
  for (const dots of [0, 1, 2, 3, 4]) drawn.set(F.format(valueLength({ type, dots })), { type, dots });

/** The note value that lasts so long; null where no single note does, as for five eighths. */
export const valueOf = (length: Fraction): NoteValue | null => drawn.get(F.format(length)) ?? null;
