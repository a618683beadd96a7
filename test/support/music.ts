/**
 * Small scores with notes, for tests: `music('4/4 ; 3/4', { P1: 'C4/4 D4/8 E4/8 r/2 | C4/2.' })`. Bars as in scores.ts; in
 * each part bars are parted by "|", a note is pitch/value, "r" a rest, dots as in "/4.". After the value: "~" a tie to the
 * next note, "!" a fermata, "," a breath mark, "t" three in the time of two.
 */
import { assemblePart } from '../../src/score/assemble.ts';
import type { Bar, Mark, Score } from '../../src/score/model.ts';
import { noMarks, type Pitch, type WrittenNote } from '../../src/score/notes.ts';
import { parseValue } from '../../src/rhythm/value.ts';
import { plainValue } from '../../src/drill/rests.ts';
import { beats, F, note, plus } from '../../src/units/index.ts';
import { bars } from './scores.ts';

const steps = ['C', 'D', 'E', 'F', 'G', 'A', 'B'] as const;

const pitchOf = (text: string): Pitch | null => {
  const match = /^([A-G])([#b]?)(\d)$/.exec(text);
  const step = steps.find((candidate) => candidate === match?.[1]);
  if (match === null || step === undefined) return null;
  return { step, alter: match[2] === '#' ? 1 : match[2] === 'b' ? -1 : 0, octave: Number(match[3]) };
};

const written = (part: string, line: string, row: readonly Bar[]): WrittenNote[] => {
  const result: WrittenNote[] = [];
  let tied = false;
  line.split('|').forEach((text, index) => {
    const bar = row[index];
    if (bar === undefined) throw new Error(`no bar ${index} in ${line}`);
    let onset = bar.start;
    text
      .trim()
      .split(/\s+/)
      .filter((token) => token !== '')
      .forEach((token, i) => {
        const [name = '', rest = ''] = token.split('/');
        const [value = '4', flags] = [/^[\d.]+/.exec(rest)?.[0], rest.replace(/^[\d.]+/, '')];
        const drawn = parseValue(`1/${value}`) ?? note(1, 4);
        const triplet = flags.includes('t');
        const duration = triplet ? beats(F.mul(drawn, F.fraction(2, 3))) : drawn;
        const pitch = pitchOf(name);
        const marks = {
          ...noMarks,
          fermata: flags.includes('!') ? 'normal' : null,
          articulations: flags.includes(',') ? ['breath-mark'] : [],
        };
        result.push({
          id: `${part}-m${index}-n${i + 1}`,
          kind: pitch === null ? 'rest' : 'note',
          bar: index,
          onset,
          duration,
          staff: 1,
          voice: '1',
          value: plainValue(drawn),
          tuplet: triplet ? { actual: 3, normal: 2 } : { actual: 1, normal: 1 },
          tupletMarks: [],
          chord: false,
          pitch,
          display: null,
          wholeBar: false,
          tieStart: flags.includes('~'),
          tieStop: tied,
          slash: false,
          cue: false,
          printed: true,
          accidental: '',
          stem: null,
          notehead: '',
          beams: [],
          marks,
          lyrics: [],
        });
        tied = flags.includes('~');
        onset = plus(onset, duration);
      });
  });
  return result;
};

export const music = (
  line: string | readonly Bar[],
  parts: Readonly<Record<string, string>>,
  marks: readonly Mark[] = [],
): Score => {
  const row = typeof line === 'string' ? bars(line) : line;
  return {
    title: 'Test',
    source: 'musicxml',
    bars: row,
    parts: Object.entries(parts).map(([id, text]) => {
      const draft = {
        id,
        name: `Player ${id}`,
        abbreviation: '',
        sound: '',
        program: null,
        staves: 1,
        transpositions: [],
        clefs: [],
        keys: [],
        written: written(id, text, row),
        directions: [],
      };
      return assemblePart(draft, row).part;
    }),
    marks,
  };
};
