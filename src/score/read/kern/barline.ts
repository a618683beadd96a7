/**
 * Bar lines. Source: Humdrum reference, barlines (https://www.humdrum.org/rep/barlines): equals signs, number, letter, pause,
 * then how the line looks; ":" repeats. "." for a dashed line: later practice, from memory.
 */
import type { Bar } from '../../model.ts';

export interface Barline {
  /** Of the bar that begins here; empty without one. */
  readonly number: string;
  /** Two equals signs: a section or the piece ends. */
  readonly double: boolean;
  /** As it looks; null where the file does not say. */
  readonly style: Bar['barline'] | null;
  readonly repeatEnd: boolean;
  readonly repeatStart: boolean;
  readonly fermata: boolean;
  /** A stroke that may stand inside a bar: invisible, dotted, dashed or partial. */
  readonly slight: boolean;
}

const lookOf = (strokes: string): Bar['barline'] | null => {
  if (strokes.includes('-')) return 'none';
  if (strokes.includes('||')) return 'double';
  if (strokes.includes('|!')) return 'final';
  if (strokes.includes('!')) return 'other';
  if (strokes.includes('"')) return 'dotted';
  if (strokes.includes('.')) return 'dashed';
  if (/['`]/.test(strokes)) return 'other';
  return strokes.includes('|') ? 'regular' : null;
};

export const readBarline = (token: string): Barline => {
  const match = /^(=+)(\d{0,9}[a-z]?)(.*)$/s.exec(token);
  const strokes = (match?.[3] ?? '').slice(0, 40);
  const number = match?.[2] ?? '';
  const first = strokes.search(/[|!]/);
  const colons = Array.from(strokes.matchAll(/:/g), ({ index }) => index);
  const repeatStart = colons.some((at) => first >= 0 && at > first);
  const repeatEnd = colons.some((at) => first < 0 || at < first);
  const style = lookOf(strokes);
  return {
    number: /\d/.test(number) ? number : '',
    double: (match?.[1] ?? '').length > 1,
    // The thick line before a repeat belongs to what begins there.
    style: repeatStart && !repeatEnd && style === 'other' ? null : style,
    repeatEnd,
    repeatStart,
    fermata: strokes.includes(';'),
    slight: !repeatEnd && !repeatStart && number === '' && /["'`.-]/.test(strokes) && !/[|!;]/.test(strokes),
  };
};
