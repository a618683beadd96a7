/**
 * Words that send players elsewhere, for files that print them without saying so for playback. Common practice, no
 * source.
 */
import type { Jump } from '../../model.ts';

const patterns: readonly (readonly [RegExp, Jump['kind']])[] = [
  [/^(d\. ?c\.?|dc|da capo)( |$)/, 'daCapo'],
  [/^(d\. ?s\.?|ds|dal segno|d\.? ?s\.? ?\ue047)( |$)/, 'dalSegno'],
  [/^(al |to |alla )coda\b/, 'toCoda'],
  [/^fine$/, 'fine'],
  [/^coda$/, 'coda'],
];

/** Longer texts are prose about the piece, not an order to jump. */
const longest = 80;

/** What the words order, or null. "D.C. al Fine" is a da capo: the Fine stands where it ends. */
export const jumpOfWords = (text: string): Jump['kind'] | null => {
  if (text.length > longest) return null;
  const words = text
    .toLowerCase()
    .replace(/[\s\u00a0]+/g, ' ')
    .replace(/^[([]+|[)\]]+$/g, '')
    .trim()
    .replace(/^(fine|coda)[.:]$/, '$1');
  return patterns.find(([pattern]) => pattern.test(words))?.[1] ?? null;
};
