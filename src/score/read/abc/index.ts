/** The ABC reader: ABC 2.1, and what came before it as far as it is met with. See docs/formats/abc.md. */
import type { Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';
import { scoreOf } from './score.ts';

/** How far into a text its kind is looked for. Characters. */
const looked = 100_000;

/** A field K: that names a key (ABC 2.1, 3.1.14, and the words that may follow it), or is empty. */
const key =
  /^K:[ \t]*(?:$|%|none|HP|clef|treble|bass|alto|tenor|perc|[A-G][#b]?[ \t]*(?:$|[^A-Za-z0-9,.;\s]|m|ion|dor|phr|lyd|aeo|loc|exp|clef|treble|bass|alto|tenor|perc|oct|transp|staff|style|shift))/im;

/**
 * Whether a text is ABC: it begins with "%abc", or has a field X: with a number alone and another field, or a field K: with
 * a key, or begins with a field and has T: or M:, and K: (a tune may lack its X:).
 */
export const looksLikeAbc = (text: string): boolean => {
  const head = text.slice(0, looked).replace(/^\ufeff/, '');
  if (head.startsWith('%abc')) return true;
  if (/^X:[ \t]*\d/m.test(head)) {
    const numbered = /^X:[ \t]*\d+[ \t]*(?:%|$)/m.test(head);
    return (numbered && /^[MLTV]:/m.test(head)) || key.test(head);
  }
  return /^(?:%[^\r\n]*[\r\n]+)*[TMLQVI]:/.test(head) && /^[TM]:/m.test(head) && /^K:/m.test(head);
};

/** Reads ABC text. Errors: `no-bars`, `file-too-large`, `divisions-absurd`. */
export const readAbc = (text: string): Result<Score> => scoreOf(text);
