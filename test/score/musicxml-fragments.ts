/** Small MusicXML documents for tests: only what a test is about has to be written. */
import type { Score } from '../../src/score/model.ts';
import { readMusicXml } from '../../src/score/read/musicxml/index.ts';
import { F, type Problem } from '../../src/units/index.ts';

/** A document of one part "P1" called `name`, from the content of its measures. */
export const onePart = (measures: string, name = 'Flute'): string =>
  `<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">
<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>${name}</part-name></score-part></part-list>
<part id="P1">${measures}</part></score-partwise>`;

/** A document of two parts, P1 and P2. */
export const twoParts = (first: string, second: string): string =>
  `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>A</part-name></score-part>
<score-part id="P2"><part-name>B</part-name></score-part></part-list>
<part id="P1">${first}</part><part id="P2">${second}</part></score-partwise>`;

/** One measure; the first usually begins with `attributes`. */
export const measure = (number: string, content: string, more = ''): string =>
  `<measure number="${number}"${more === '' ? '' : ` ${more}`}>${content}</measure>`;

export const time = (beats: number | string, unit: number): string =>
  `<time><beats>${beats}</beats><beat-type>${unit}</beat-type></time>`;

export const attributes = (divisions: number | string, content = time(4, 4)): string =>
  `<attributes><divisions>${divisions}</divisions>${content}</attributes>`;

/** A note such as "C4", "F#5", "Bb3" or "r" for a rest; `inside` goes behind the duration. */
export const note = (name: string, duration: number | string, inside = '', before = ''): string => {
  const [, step = 'C', sign = '', octave = '4'] = /^([A-G])([#b]?)(\d)$/.exec(name) ?? [];
  const alter = sign === '' ? '' : `<alter>${sign === '#' ? 1 : -1}</alter>`;
  const what =
    name === 'r' ? '<rest/>' : `<pitch><step>${step}</step>${alter}<octave>${octave}</octave></pitch>`;
  return `<note>${before}${what}<duration>${duration}</duration>${inside}</note>`;
};

/** A bar of 4/4 in quarters with divisions 1. */
export const fullBar = (name = 'C4'): string => note(name, 4, '<type>whole</type>');

export interface Read {
  readonly score: Score;
  readonly problems: readonly Problem[];
  readonly codes: readonly string[];
}

/** Reads, and fails the test where the text is refused. */
export const read = (text: string): Read => {
  const result = readMusicXml(text);
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  return {
    score: result.value,
    problems: result.problems,
    codes: result.problems.map(({ code }) => code),
  };
};

/** Sounding notes as "onset duration midi". */
export const sounding = (score: Score, part = 0): string[] =>
  (score.parts[part]?.notes ?? []).map(
    ({ onset, duration, midi }) => `${F.format(onset)} ${F.format(duration)} ${midi ?? '-'}`,
  );

export const barLengths = (score: Score): string[] => score.bars.map(({ length }) => F.format(length));
