/** Verses and syllables. Source: MEI Guidelines 5, 8.1 "Lyrics": verse, syl, con, wordpos, the syl attribute. */
import type { Lyric } from '../../notes.ts';
import { attribute, childrenOf, type XmlElement } from '../xml.ts';
import { deepText } from './tree.ts';

interface Syllable {
  readonly text: string;
  /** How it is joined to the next: "d" by a hyphen, "u" by a line, "t" elided, "s" or nothing by a space. */
  readonly joint: string;
  readonly position: string;
}

/** The undertie, by which elided syllables are joined. */
const elision = '\u203f';

/** A verse number; `n` may be missing. */
const verseOf = (element: XmlElement, index: number): string => attribute(element, 'n') || String(index + 1);

const syllablesOf = (verse: XmlElement): Syllable[] =>
  childrenOf(verse, 'syl').map((syl) => ({
    text: deepText(syl, ''),
    joint: attribute(syl, 'con'),
    position: attribute(syl, 'wordpos'),
  }));

/** The attribute: verses parted by "//", the sign behind a syllable tells how it goes on. */
const fromAttribute = (text: string): readonly (readonly [string, Syllable[]])[] =>
  text.split('//').map((piece, index) => {
    const trimmed = piece.trim();
    const mark = /[-_]$/.exec(trimmed)?.[0] ?? '';
    const joint = mark === '-' ? 'd' : mark === '_' ? 'u' : '';
    return [String(index + 1), [{ text: mark === '' ? trimmed : trimmed.slice(0, -1), joint, position: '' }]];
  });

const syllabic = (before: boolean, after: boolean): Lyric['syllabic'] =>
  before ? (after ? 'middle' : 'end') : after ? 'begin' : 'single';

const lyricOf = (
  verse: string,
  syllables: readonly Syllable[],
  joined: Map<string, boolean>,
  layer: string,
): Lyric | null => {
  const [first] = syllables;
  const last = syllables.at(-1);
  if (first === undefined || last === undefined) return null;
  const key = `${layer}\n${verse}`;
  const before =
    first.position === '' ? (joined.get(key) ?? false) : first.position === 'm' || first.position === 't';
  const after = last.position === '' ? last.joint === 'd' : last.position === 'i' || last.position === 'm';
  joined.set(key, after);
  const text = syllables
    .map((one) => one.text)
    .filter((one) => one !== '')
    .join(elision);
  if (text === '' && last.joint !== 'u') return null;
  return { verse, syllabic: syllabic(before, after), text, extend: last.joint === 'u' };
};

/** The lyrics of a note or chord; `joined` remembers from note to note which words go on. */
export const readLyrics = (
  element: XmlElement,
  joined: Map<string, boolean>,
  layer: string,
): readonly Lyric[] => {
  const verses = childrenOf(element, 'verse').map((verse, index): readonly [string, Syllable[]] => [
    verseOf(verse, index),
    syllablesOf(verse),
  ]);
  const loose = childrenOf(element, 'syl').length > 0 ? [['1', syllablesOf(element)] as const] : [];
  const attributes = attribute(element, 'syl') === '' ? [] : fromAttribute(attribute(element, 'syl'));
  const all = verses.length > 0 ? verses : loose.length > 0 ? loose : attributes;
  return all.flatMap(([verse, syllables]) => lyricOf(verse, syllables, joined, layer) ?? []);
};
