/**
 * Note lengths: "4" for a quarter, "8." dotted, "0" for a breve, "12" for the eighth of a triplet. Sources: Humdrum
 * reference, **recip (https://www.humdrum.org/rep/recip) and chapter 6 of the User's Guide; "00", "000" and rational
 * values such as "3%2": https://www.humdrum.org/humextra/rhythm ("Extensions to **recip and **kern rhythms").
 */
import { F, type Fraction } from '../../../units/index.ts';
import { noteTypes, type NoteValue } from '../../notes.ts';
import { longestDuration, valueLength } from '../drafts/values.ts';

export interface Recip {
  /** Whole notes. */
  readonly length: Fraction;
  /** What is drawn; null where no note value has that length. */
  readonly value: NoteValue | null;
  readonly tuplet: { readonly actual: number; readonly normal: number };
}

const plain = { actual: 1, normal: 1 };

/** The exponent where x is a power of two; null where it is none. */
const powerOfTwo = (x: Fraction): number | null => {
  const n = x.n > x.d ? x.n : x.d;
  if (x.n !== 1n && x.d !== 1n) return null;
  const digits = n.toString(2);
  if (!/^10*$/.test(digits)) return null;
  return x.n > x.d ? digits.length - 1 : 1 - digits.length;
};

const typeOf = (length: Fraction): NoteValue['type'] | null => {
  const power = powerOfTwo(length);
  return power === null ? null : (noteTypes[3 - power] ?? null);
};

const oddPart = (value: bigint): bigint => {
  let odd = value;
  while (odd > 1n && odd % 2n === 0n) odd /= 2n;
  return odd;
};

/**
 * The usual way to write a length that is no plain value: `actual` notes in the time of `normal`, the largest power of two
 * (or the odd multiple that the length asks for) below it; for lengths without an odd divisor (16%3) fewer notes in the
 * time of more, as in duplets.
 */
const tupletOf = (base: Fraction): { actual: number; normal: number } | null => {
  const actual = oddPart(base.d);
  let normal = oddPart(base.n);
  if (actual > 9999n || normal > 9999n) return null;
  if (actual === 1n) {
    let below = 1n;
    while (below * 2n < normal) below *= 2n;
    return { actual: Number(below), normal: Number(normal) };
  }
  while (normal * 2n < actual) normal *= 2n;
  return { actual: Number(actual), normal: Number(normal) };
};

const drawn = (base: Fraction, dots: number): Pick<Recip, 'value' | 'tuplet'> => {
  const type = typeOf(base);
  if (type !== null) return { value: { type, dots }, tuplet: plain };
  const tuplet = tupletOf(base);
  if (tuplet === null) return { value: null, tuplet: plain };
  const single = typeOf(F.mul(base, F.fraction(tuplet.actual, tuplet.normal)));
  return single === null ? { value: null, tuplet: plain } : { value: { type: single, dots }, tuplet };
};

/** What dots multiply a length by: two less the last half, quarter, ... */
const dotted = (dots: number): Fraction =>
  F.div(valueLength({ type: 'whole', dots }), valueLength({ type: 'whole', dots: 0 }));

/** How a length with that many dots is drawn. */
export const drawnAs = (length: Fraction, dots: number): Pick<Recip, 'value' | 'tuplet'> =>
  drawn(F.div(length, dotted(dots)), dots);

const parse = (text: string): Recip | null => {
  const match = /^(\d{1,6})(?:%(\d{1,6}))?(\.{0,8})$/.exec(text);
  if (match === null) return null;
  const [, digits = '', below = '1', points = ''] = match;
  const zeros = /^0+$/.test(digits);
  if (zeros && (digits.length > 3 || below !== '1')) return null;
  const divisor = BigInt(below);
  if (divisor === 0n) return null;
  const base = zeros ? F.fraction(1 << digits.length) : F.fraction(divisor, BigInt(digits));
  const dots = points.length;
  const length = F.mul(base, dotted(dots));
  return F.less(longestDuration, length) ? null : { length, ...drawn(base, dots) };
};

/** The notes of a piece share few lengths; a file made to harm has many, which are not all remembered. */
const mostKnown = 5000;

/** Reads lengths and remembers them; null for what is no length, or none of a score. */
export const createRecips = (): ((text: string) => Recip | null) => {
  const known = new Map<string, Recip | null>();
  return (text) => {
    const found = known.get(text);
    if (found !== undefined) return found;
    const recip = parse(text);
    if (known.size >= mostKnown) known.clear();
    known.set(text, recip);
    return recip;
  };
};
