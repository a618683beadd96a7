/** The ABC reader: ABC 2.1, and what came before it as far as it is met with. See docs/formats/abc.md. */
import type { Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';
import { scoreOf } from './score.ts';

/** How far into a text its kind is looked for. Characters. */
const looked = 100_000;

/**
 * Whether a text is ABC: it begins with "%abc", or has a field X: and a field K:, or begins with a field and has T: or M:, and
 * K: (a tune may lack its X:).
 */
export const looksLikeAbc = (text: string): boolean => {
  const head = text.slice(0, looked).replace(/^\ufeff/, '');
  if (head.startsWith('%abc')) return true;
  if (/^X:[ \t]*\d/m.test(head)) return /^[KMLTV]:/m.test(head);
  return /^(?:%[^\r\n]*[\r\n]+)*[TMLQVI]:/.test(head) && /^[TM]:/m.test(head) && /^K:/m.test(head);
};

/** Reads ABC text. Errors: `no-bars`, `file-too-large`, `divisions-absurd`. */
export const readAbc = (text: string): Result<Score> => scoreOf(text);
