import { type Place } from '../../../units/index.ts';
import type { Lyric } from '../../notes.ts';
import type { Context } from './context.ts';

/** The sign that joins elided syllables in a Lyric's text: U+203F, the undertie. */
const elision = '\u203f';

/** Writes one verse's syllable under a note. */
export const writeLyric = (context: Context, lyric: Lyric, place: Place): void => {
  const { out } = context;
  const text = context.clean(lyric.text, 'The text under a note', place);
  // The number attribute is an NMTOKEN; a verse called otherwise keeps its name in the attribute for names.
  const verse = context.clean(lyric.verse, 'The name of a verse', place);
  const named = /^[\w.:-]+$/.test(verse) ? { number: verse } : verse.trim() === '' ? {} : { name: verse };
  out.within('lyric', named, () => {
    // A lyric must hold something (MusicXML 4.0, element lyric): an extender may stand alone, else there is a text.
    if (text !== '' || !lyric.extend || lyric.syllabic !== 'single') {
      out.leaf('syllabic', lyric.syllabic);
      text.split(elision).forEach((syllable, index) => {
        if (index > 0) out.leaf('elision', elision);
        out.leaf('text', syllable);
      });
    }
    if (lyric.extend) out.empty('extend');
  });
};
