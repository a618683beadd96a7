/** Tempi. Source: ABC 2.1, sections 3.1.8 and 10.1. */
import { F, type Fraction } from '../../../units/index.ts';
import { decodeString } from './text.ts';

export interface TempoRead {
  readonly words: readonly string[];
  readonly figure: {
    /** Whole notes. */
    readonly unit: Fraction;
    readonly perMinute: Fraction;
    /** The figure as written, where it is one of about. */
    readonly vague: string | null;
  } | null;
  /** Counts unit lengths a minute, as ABC did once. */
  readonly outdated: boolean;
  /** A part of the field that can not be read. */
  readonly unreadable: string | null;
}

/** "1/4 3/8" in whole notes, or "C3" in unit lengths; null where it is neither. */
const unitOf = (text: string, unit: Fraction): { length: Fraction; inUnits: boolean } | null => {
  const words = text.trim() === '' ? [] : text.trim().split(/\s+/);
  const note = /^C(\d{0,3})(?:\/(\d{1,3}))?$/.exec(words.join(''));
  if (words.length === 0 || note !== null) {
    const [n, d] = [Number(note?.[1] === '' ? 1 : (note?.[1] ?? 1)), Number(note?.[2] ?? 1)];
    return n === 0 || d === 0 ? null : { length: F.mul(unit, F.fraction(n, d)), inUnits: true };
  }
  let sum = F.zero;
  for (const word of words) {
    const match = /^(\d{1,4})(?:\/(\d{1,4}))?$/.exec(word);
    const [n, d] = [Number(match?.[1] ?? 0), Number(match?.[2] ?? 1)];
    if (n === 0 || d === 0) return null;
    sum = F.add(sum, F.fraction(n, d));
  }
  return { length: sum, inUnits: false };
};

const slowest = F.fraction(1);
const fastest = F.fraction(10_000);

/** What a Q: field says. `unit`: the unit length that holds there, in whole notes. */
export const readTempo = (text: string, unit: Fraction): TempoRead => {
  const words: string[] = [];
  const pieces = text.split(/(?<!\\)"/);
  let plain = '';
  pieces.forEach((piece, index) => {
    if (index % 2 === 0) plain += ` ${piece}`;
    else if (piece.trim() !== '') words.push(decodeString(piece));
  });
  plain = plain.trim();
  const unreadable = (): TempoRead => ({
    words,
    figure: null,
    outdated: false,
    unreadable: plain.slice(0, 60),
  });
  if (plain === '') return { words, figure: null, outdated: false, unreadable: null };
  const sides = plain.split('=');
  const right = (sides.length === 1 ? plain : (sides[1] ?? '')).trim();
  const figure = /^(ca\.?|c\.|~|\u2248)?\s*(\d{1,9}(?:\.\d{1,9})?)$/.exec(right);
  const perMinute = F.parse(figure?.[2] ?? '');
  const left = unitOf(sides.length === 1 ? '' : (sides[0] ?? ''), unit);
  if (sides.length > 2 || figure === null || perMinute === null || left === null) return unreadable();
  if (F.less(perMinute, slowest) || F.less(fastest, perMinute)) return unreadable();
  return {
    words,
    figure: { unit: left.length, perMinute, vague: figure[1] === undefined ? null : right },
    outdated: left.inUnits,
    unreadable: null,
  };
};
