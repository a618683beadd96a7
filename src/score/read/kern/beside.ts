/**
 * Columns beside the notes: dynamics and sung words. Sources: Humdrum User's Guide, table 28.1 (**dynam: "<" begins a crescendo,
 * "(" goes on, "[" ends it; ">", ")" and "]" for a diminuendo); example 2.5 for words with hyphens. From later practice, from
 * memory: "_" at the end of a syllable extends it.
 */
import { beats, F, lookUp } from '../../../units/index.ts';
import type { Lyric } from '../../notes.ts';
import { notKept } from '../drafts/log.ts';
import { putWords, type Spot } from './words.ts';
import type { Desk } from './types.ts';

/** One syllable as a lyric of the verse. */
export const readSyllable = (token: string, verse: string): Lyric => {
  let text = token.trim();
  const extend = /(?:^|[^_])_+$/.test(text) || text === '|';
  text = text.replace(/_+$/, '').replace(/^\|$/, '');
  const before = text.length > 1 && text.startsWith('-');
  const after = text.length > 1 && text.endsWith('-');
  const plain = text.slice(before ? 1 : 0, after ? -1 : undefined);
  const syllabic = before ? (after ? 'middle' : 'end') : after ? 'begin' : 'single';
  return { verse, syllabic, text: plain.replaceAll('&nbsp;', '\u00a0'), extend };
};

const wedges: Readonly<Record<string, string>> = {
  '<': 'crescendo',
  '>': 'diminuendo',
  '[': 'stop',
  ']': 'stop',
};

/** Puts what a token of dynamics says at its place. */
export const putDynamics = (desk: Desk, token: string, spot: Spot): void => {
  const put = (kind: 'dynamics' | 'wedge', value: string): void => {
    const { staff } = spot;
    // A hairpin that ends with the first note of a bar ends at the bar line: it belongs to the bar before.
    const back = value === 'stop' && spot.bar > 0 && F.isZero(spot.at);
    const bar = back ? spot.bar - 1 : spot.bar;
    const at = back ? (desk.lengths[bar] ?? F.zero) : spot.at;
    desk
      .draft(spot.part, bar)
      .directions.push({ at: beats(at), bar, staff, kind, value, number: 1, above: false });
  };
  for (const piece of token.split(' ')) {
    if (/[a-z]{2}/i.test(piece) && !/^[XxYyv<>()[\]]*[pmfszrn]+[XxYyv<>()[\]]*$/.test(piece)) {
      putWords(desk, piece, false, spot);
      continue;
    }
    for (const [part] of piece.matchAll(/[pmfszrn]+|./gs)) {
      const wedge = lookUp(wedges, part);
      if (wedge !== undefined) put('wedge', wedge);
      else if (/^[pmfszrn]+$/.test(part) && part !== 'r') put('dynamics', part === 'z' ? 'sfz' : part);
      else if (/[xXyYv]/.test(part))
        notKept(
          desk.log,
          `dynam/${part}`,
          part === 'v' ? 'An accent among the dynamics (v)' : "An editor's mark on dynamics",
          desk.place(spot.part, spot.line),
        );
      else if (!/[()r]/.test(part))
        notKept(desk.log, 'dynam', `The sign "${part}" among the dynamics`, desk.place(spot.part, spot.line));
    }
  }
};
