/** The MEI reader: MEI 3.0 to 5.1, common music notation. See docs/formats/mei.md. */
import { fail, type Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';
import { parseXml } from '../xml.ts';
import { scoreOf } from './score.ts';

/**
 * Reads MEI text. Errors: `xml-broken`, `xml-entities`, `xml-too-deep`, `file-too-large`, `not-a-score`, `no-bars`,
 * `divisions-absurd`.
 */
export const readMei = (text: string): Result<Score> => {
  const parsed = parseXml(text);
  if (!parsed.ok) return parsed;
  const root = parsed.value;
  if (/^([\w.-]+:)?mei(Corpus)?$/.test(root.name)) return scoreOf(root);
  return fail('not-a-score', `The file is XML, but not MEI: its outermost element is "${root.name}".`);
};
