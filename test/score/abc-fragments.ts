/** Small ABC tunes for tests, and what came of them as short texts. */
import type { Part, Score } from '../../src/score/model.ts';
import { metreText } from '../../src/score/metre.ts';
import type { WrittenNote } from '../../src/score/notes.ts';
import { pitchText } from '../../src/score/pitch.ts';
import { readAbc } from '../../src/score/read/abc/index.ts';
import { F, type Problem } from '../../src/units/index.ts';

export interface ReadTune {
  readonly score: Score;
  readonly problems: readonly Problem[];
  /** The first part. */
  readonly part: Part;
}

export const readText = (text: string): ReadTune => {
  const result = readAbc(text);
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  const [part] = result.value.parts;
  if (part === undefined) throw new Error('no part');
  return { score: result.value, problems: result.problems, part };
};

/** A tune with this body; `header`: what stands before "K:", `key` behind it. */
export const tune = (body: string, header = 'M:4/4\nL:1/8', key = 'C'): ReadTune =>
  readText(`%abc-2.1\nX:1\nT:Test\n${header}${header === '' ? '' : '\n'}K:${key}\n${body}\n`);

/** "C4 1/8": pitch and length of a written note; "r" for rests, "~" behind a tied one. */
const noteText = (note: WrittenNote): string => {
  const name = note.kind === 'rest' ? 'r' : note.pitch === null ? 'x' : pitchText(note.pitch);
  const grace = note.kind === 'grace' ? 'g' : '';
  return `${grace}${name} ${F.format(note.duration)}${note.tieStart ? '~' : ''}`;
};

/** Written notes of a part, one after the other. */
export const written = ({ part }: ReadTune): string => part.written.map(noteText).join(', ');

/** Pitches only. */
export const pitches = ({ part }: ReadTune): string =>
  part.written.map(({ pitch }) => (pitch === null ? 'r' : pitchText(pitch))).join(' ');

/** Lengths only, in whole notes. */
export const lengths = ({ part }: ReadTune): string =>
  part.written.map(({ duration }) => F.format(duration)).join(' ');

/** Keys of sounding pitches, by onset. */
export const keys = (part: Part | undefined): string =>
  (part?.notes ?? []).map(({ midi }) => String(midi)).join(' ');

/** Each bar as "1 4/4 1": number, metre, length. */
export const barTexts = ({ score }: ReadTune): readonly string[] =>
  score.bars.map(({ number, metre, length }) => `${number} ${metreText(metre)} ${F.format(length)}`);

/** Where each bar repeats: "|:" before, ":|2" behind a bar number. */
export const course = ({ score }: ReadTune): string =>
  score.bars
    .map(
      ({ number, repeatStart, repeatEnd, ending }) =>
        `${repeatStart ? '|:' : ''}${ending?.begins === true ? `[${ending.numbers.join()} ` : ''}${number}${repeatEnd > 0 ? `:|${repeatEnd}` : ''}`,
    )
    .join(' ');

export const codes = ({ problems }: ReadTune): readonly string[] => problems.map(({ code }) => code);

export const lyrics = ({ part }: ReadTune, verse = '1'): string =>
  part.written
    .filter(({ kind }) => kind === 'note')
    .map(({ lyrics: all }) => {
      const one = all.find((lyric) => lyric.verse === verse);
      if (one === undefined) return '.';
      const before = one.syllabic === 'middle' || one.syllabic === 'end' ? '-' : '';
      const after = one.syllabic === 'middle' || one.syllabic === 'begin' ? '-' : '';
      return `${before}${one.text}${after}${one.extend ? '_' : ''}`;
    })
    .join(' ');
