/** The MusicXML reader: MusicXML 2.0 to 4.0, partwise and timewise, plain or compressed. See docs/formats/musicxml.md. */
import { fail, type Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';
import { parseXml } from '../xml.ts';
import { unpackMxl } from './container.ts';
import { scoreOf } from './score.ts';

/**
 * Reads MusicXML text. Errors: `xml-broken`, `xml-entities`, `xml-too-deep`, `file-too-large`, `not-a-score`, `no-bars`.
 */
export const readMusicXml = (text: string): Result<Score> => {
  const parsed = parseXml(text);
  if (!parsed.ok) return parsed;
  const root = parsed.value;
  if (root.name === 'score-partwise' || root.name === 'score-timewise') return scoreOf(root);
  if (root.name === 'opus')
    return fail(
      'not-a-score',
      'The file is a MusicXML opus: a list of scores, not a score. Open one of the scores.',
    );
  return fail('not-a-score', `The file is XML, but not a score: its outermost element is "${root.name}".`);
};

/** Reads a compressed MusicXML file (.mxl); adds the archive's errors, `file-truncated` and the like. */
export const readMxl = (bytes: Uint8Array): Result<Score> => {
  const decoded = unpackMxl(bytes);
  if (!decoded.ok) return decoded;
  const score = readMusicXml(decoded.value);
  return score.ok ? { ...score, problems: [...decoded.problems, ...score.problems] } : score;
};
