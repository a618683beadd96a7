/**
 * Lines and columns of a Humdrum file. Source: Humdrum User's Guide, chapter 5 (https://www.humdrum.org/guide/ch05):
 * lines are comments, interpretations or data; tabs separate their columns; empty lines are forbidden.
 */
import { countText, Refusal } from '../../../units/index.ts';
import type { Log } from '../drafts/log.ts';

/** Characters; as much as any other score may hold. */
const longestFile = 64 * 1024 * 1024;
const mostLines = 4_000_000;

/** Kinds of exclusive interpretation that hold notes of a score. */
export const isKern = (kind: string): boolean => kind === 'kern';

/** The lines of the file, the first at index 0. Errors, as a Refusal: `file-too-large`. */
export const linesOf = (text: string, log: Log): readonly string[] => {
  if (text.length > longestFile)
    throw new Refusal(
      'file-too-large',
      'The file holds more than 64 million characters, more than any score.',
    );
  let plain = text.startsWith('\ufeff') ? text.slice(1) : text;
  if (plain.includes('\0')) {
    const before = plain.length;
    plain = plain.replaceAll('\0', '');
    log.say(
      'repair',
      'not-text',
      `The file holds ${countText(before - plain.length, 'byte', 'bytes')} of value zero, which no text has; they are passed over.`,
    );
  }
  const lines = plain.split(/\r\n|\n|\r/);
  if (lines.length > mostLines)
    throw new Refusal('file-too-large', 'The file has more than 4 million lines, more than any score.');
  return lines;
};

/** Whether a line begins columns anew: every column names what it holds by two asterisks. */
export const isHeader = (line: string): boolean =>
  line.startsWith('**') && line.split('\t').every((token) => token.startsWith('**') || token.trim() === '');

/** Whether the text is Humdrum with at least one column of notes; only its beginning is looked at. */
export const looksLikeKern = (text: string): boolean => {
  for (const line of text.slice(0, 100_000).split(/[\r\n]+/)) {
    if (line.startsWith('!') || line.trim() === '') continue;
    if (!line.startsWith('**')) return false;
    if (isHeader(line)) return line.split('\t').some((token) => token.trim() === '**kern');
    return /^\*\*kern\b/.test(line);
  }
  return false;
};

/**
 * The columns of a line where `count` are expected; 0 where any number may begin. Where they do not fit, tabs set twice or at the end, by which some
 * editors line columns up, count as one.
 */
export const columnsOf = (line: string, count: number): readonly string[] => {
  const exact = line.split('\t');
  if (count === 0) return exact.filter((token) => token.trim() !== '');
  if (exact.length === count) return exact;
  const loose = line.split('\t').filter((token) => token !== '');
  return loose.length === count ? loose : exact.at(-1) === '' ? exact.slice(0, -1) : exact;
};
