/**
 * Small scores with notes, for tests: `music('4/4 ; 3/4', { P1: 'C4/4 D4/8 E4/8 r/2 | C4/2.' })`. Bars as in scores.ts; in
 * each part bars are parted by "|", voices of a bar by "&", a note is pitch/value, a chord its pitches with "+" between, "r"
 * a rest, dots as in "/4.". After the value: "~" a tie to the next note, "!" a fermata, "," a breath mark, "^" a caesura, "t"
 * three in the time of two, "(" a beam begins, "-" goes on, ")" ends, "c" a cue note, "g" a grace note.
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

const beamWords = { '(': 'begin', '-': 'continue', ')': 'end' } as const;

/** The heads of one stem, or a rest: what a token says, all but its place. */
const headsOf = (
  token: string,
  tied: boolean,
): readonly Omit<WrittenNote, 'id' | 'bar' | 'onset' | 'voice'>[] => {
  const [names = '', rest = ''] = token.split('/');
  const [value = '4', flags] = [/^[\d.]+/.exec(rest)?.[0], rest.replace(/^[\d.]+/, '')];
  const has = (flag: string): boolean => flags.includes(flag);
  const drawn = parseValue(`1/${value}`) ?? note(1, 4);
  const duration = has('g') ? note(0) : has('t') ? beats(F.mul(drawn, F.fraction(2, 3))) : drawn;
  const beam = (['(', '-', ')'] as const).find(has);
  const articulations = [...(has(',') ? ['breath-mark'] : []), ...(has('^') ? ['caesura'] : [])];
  return names.split('+').map((name, i) => {
    const pitch = pitchOf(name);
    return {
      kind: pitch === null ? 'rest' : has('g') ? 'grace' : 'note',
      duration,
      staff: 1,
      value: plainValue(drawn),
      tuplet: has('t') ? { actual: 3, normal: 2 } : { actual: 1, normal: 1 },
      tupletMarks: [],
      chord: i > 0,
      pitch,
      display: null,
      wholeBar: false,
      tieStart: has('~'),
      tieStop: tied,
      slash: false,
      cue: has('c'),
      printed: true,
      accidental: '',
      stem: null,
      notehead: '',
      beams: beam === undefined || i > 0 ? [] : [beamWords[beam]],
      marks: { ...noMarks, fermata: has('!') ? 'normal' : null, articulations },
      lyrics: [],
    };
  });
};

const written = (part: string, line: string, row: readonly Bar[]): WrittenNote[] => {
  const result: WrittenNote[] = [];
  const tied = new Set<string>();
  line.split('|').forEach((text, index) => {
    const bar = row[index];
    if (bar === undefined) throw new Error(`no bar ${index} in ${line}`);
    text.split('&').forEach((voiceText, v) => {
      const voice = String(v + 1);
      const tokens = voiceText.split(/\s+/).filter((token) => token !== '');
      let onset = bar.start;
      tokens.forEach((token, i) => {
        const heads = headsOf(token, tied.has(voice));
        heads.forEach((head, h) => {
          const place = `${v === 0 ? '' : `v${voice}-`}n${i + 1}${h === 0 ? '' : `-h${h + 1}`}`;
          result.push({ ...head, id: `${part}-m${index}-${place}`, bar: index, onset, voice });
        });
        if (heads[0]?.tieStart === true) tied.add(voice);
        else tied.delete(voice);
        onset = plus(onset, heads[0]?.duration ?? note(0));
      });
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
