/** Scores by hand in which every field of the model is used at least once. */
import { assemblePart } from '../../src/score/assemble.ts';
import { metre, noMetre, type Metre } from '../../src/score/metre.ts';
import type { Bar, Direction, Mark, Part, Score } from '../../src/score/model.ts';
import { noMarks, type NoteMarks, type WrittenNote } from '../../src/score/notes.ts';
import { bpm, F, note, plus, type Beats } from '../../src/units/index.ts';

const plain: Omit<WrittenNote, 'id' | 'bar' | 'onset' | 'duration'> = {
  kind: 'note',
  staff: 1,
  voice: '1',
  value: { type: 'quarter', dots: 0 },
  tuplet: { actual: 1, normal: 1 },
  tupletMarks: [],
  chord: false,
  pitch: { step: 'C', alter: 0, octave: 4 },
  display: null,
  wholeBar: false,
  tieStart: false,
  tieStop: false,
  slash: false,
  cue: false,
  printed: true,
  accidental: '',
  stem: null,
  notehead: '',
  beams: [],
  marks: noMarks,
  lyrics: [],
};

/** A quarter on middle C in voice 1, but for what `change` says. */
export const written = (
  id: string,
  bar: number,
  onset: Beats,
  duration: Beats,
  change: Partial<WrittenNote> = {},
): WrittenNote => ({ ...plain, id, bar, onset, duration, ...change });

const marks = (change: Partial<NoteMarks>): NoteMarks => ({ ...noMarks, ...change });

const empty: Omit<Bar, 'index' | 'start' | 'length' | 'metre' | 'number'> = {
  pickup: false,
  repeatStart: false,
  repeatEnd: 0,
  repeatAfterJump: false,
  ending: null,
  jumps: [],
  barline: 'regular',
  fermata: false,
};

/** Bars one after the other. */
export const barsOf = (
  plans: readonly (Partial<Bar> & { readonly metre: Metre; readonly length: Beats })[],
): readonly Bar[] => {
  let start = note(0);
  return plans.map((plan, index) => {
    const bar = { ...empty, index, number: String(index), start, ...plan };
    start = plus(start, plan.length);
    return bar;
  });
};

export const part = (id: string, change: Partial<Part> = {}): Part => ({
  id,
  name: id,
  abbreviation: '',
  sound: '',
  program: null,
  staves: 1,
  transpositions: [],
  clefs: [],
  keys: [],
  written: [],
  notes: [],
  directions: [],
  ...change,
});

const bars = barsOf([
  { metre: metre(4, 4, 'common'), length: note(1, 4), pickup: true, number: '0' },
  { metre: metre(4, 4, 'common'), length: note(1), repeatStart: true, jumps: [{ kind: 'segno', name: 'A' }] },
  {
    metre: metre(4, 4, 'common'),
    length: note(1),
    ending: { numbers: [1, 2], text: '1. 2.', begins: true, ends: 'stop' },
    repeatEnd: 3,
    repeatAfterJump: true,
    barline: 'final',
    fermata: true,
  },
  {
    metre: metre(4, 4, 'common'),
    length: note(1),
    ending: { numbers: [3], text: '3', begins: true, ends: 'discontinue' },
    jumps: [{ kind: 'toCoda', name: 'B' }],
  },
  { metre: metre(2, 2, 'cut'), length: note(1), barline: 'double', jumps: [{ kind: 'dalSegno', name: 'A' }] },
  {
    metre: { components: [{ numerators: [3, 2], unit: 8 }], symbol: 'numbers' },
    length: note(5, 8),
    barline: 'dashed',
    jumps: [{ kind: 'coda', name: 'B' }],
  },
  {
    metre: {
      components: [
        { numerators: [2], unit: 4 },
        { numerators: [3], unit: 8 },
      ],
      symbol: 'numbers',
    },
    length: note(7, 8),
    barline: 'dotted',
    fermata: true,
    jumps: [{ kind: 'fine' }],
  },
  { metre: noMetre, length: note(3, 2), number: '', barline: 'none' },
  { metre: metre(3, 4), length: note(3, 4), number: '12a', barline: 'other', jumps: [{ kind: 'daCapo' }] },
  { metre: metre(3, 4), length: note(1, 2), number: 'X1', pickup: true, barline: 'final' },
]);

const at = (bar: number, offset: Beats = note(0)): Beats => plus(bars[bar]?.start ?? note(0), offset);

const rest = (id: string, bar: number, change: Partial<WrittenNote> = {}): WrittenNote =>
  written(id, bar, at(bar), bars[bar]?.length ?? note(1), {
    kind: 'rest',
    pitch: null,
    value: null,
    wholeBar: true,
    ...change,
  });

const triplet = (id: string, place: number, change: Partial<WrittenNote> = {}): WrittenNote =>
  written(id, 1, at(1, note(place, 12)), note(1, 12), {
    value: { type: 'eighth', dots: 0 },
    tuplet: { actual: 3, normal: 2 },
    ...change,
  });

const clarinet = part('P1', {
  name: 'Clarinet & "friends" <in B♭>',
  abbreviation: 'Cl.',
  sound: 'wind.reed.clarinet.bflat',
  program: 72,
  transpositions: [
    { at: note(0), diatonic: -1, chromatic: -2 },
    { at: at(4), diatonic: -8, chromatic: -14 },
    { at: at(5), diatonic: -7, chromatic: -12 },
    { at: at(6), diatonic: 0, chromatic: 0 },
  ],
  clefs: [
    { at: note(0), staff: 1, sign: 'G', line: 2, octave: 0 },
    { at: at(2, note(3, 8)), staff: 1, sign: 'G', line: 2, octave: -1 },
    { at: at(4), staff: 1, sign: 'C', line: 3, octave: 0 },
  ],
  keys: [
    { at: note(0), staff: null, fifths: 2, mode: 'major' },
    { at: at(4), staff: null, fifths: -3, mode: '' },
  ],
  written: [
    written('a1', 0, at(0), note(1, 4), { tieStart: true, stem: 'up' }),
    triplet('a2', 0, {
      tieStop: true,
      beams: ['begin'],
      tupletMarks: [{ type: 'start', number: 1 }],
      marks: marks({ slurs: [{ type: 'start', number: 1 }], dynamics: ['pp'] }),
    }),
    triplet('a3', 1, { beams: ['continue'], pitch: { step: 'F', alter: 1, octave: 4 }, accidental: 'sharp' }),
    triplet('a4', 2, {
      beams: ['end'],
      tupletMarks: [{ type: 'stop', number: 1 }],
      marks: marks({ slurs: [{ type: 'stop', number: 1 }], articulations: ['staccato', 'breath-mark'] }),
    }),
    written('a5', 1, at(1, note(1, 4)), note(0), {
      kind: 'grace',
      slash: true,
      value: { type: 'eighth', dots: 0 },
    }),
    written('a6', 1, at(1, note(1, 4)), note(3, 8), {
      value: { type: 'quarter', dots: 1 },
      marks: marks({
        ornaments: ['trill-mark'],
        fermata: 'normal',
        technical: [{ name: 'fingering', text: '2' }],
      }),
      lyrics: [
        { verse: '1', syllabic: 'begin', text: 'Le', extend: false },
        { verse: '2', syllabic: 'single', text: 'a‿mi', extend: true },
      ],
    }),
    written('a7', 1, at(1, note(5, 8)), note(3, 8), {
      value: { type: 'quarter', dots: 1 },
      pitch: { step: 'B', alter: -0.5, octave: 4 },
      accidental: 'quarter-flat',
      notehead: 'diamond',
      marks: marks({ arpeggio: true, fermata: 'angled' }),
      lyrics: [{ verse: '1', syllabic: 'single', text: '', extend: true }],
    }),
    written('a8', 2, at(2), note(1, 2), { value: { type: 'half', dots: 0 }, cue: true }),
    written('a9', 2, at(2), note(1, 2), {
      value: { type: 'half', dots: 0 },
      cue: true,
      chord: true,
      pitch: { step: 'E', alter: 0, octave: 4 },
    }),
    written('a10', 2, at(2, note(1, 2)), note(1, 2), { value: { type: 'half', dots: 0 }, printed: false }),
    rest('a11', 3),
    rest('a12', 4, { value: { type: 'whole', dots: 0 }, display: { step: 'B', octave: 4 } }),
    written('a13', 5, at(5), note(1, 8), { value: { type: 'eighth', dots: 0 } }),
    // A length that no single value draws.
    written('a14', 6, at(6), note(5, 28), { value: null }),
    written('a15', 7, at(7), note(3, 2), { value: { type: 'whole', dots: 1 } }),
    rest('a16', 8),
    rest('a17', 9),
  ],
});

const line = (
  bar: number,
  offset: Beats,
  kind: Direction['kind'],
  value: string,
  change: Partial<Direction> = {},
): Direction => ({ at: at(bar, offset), bar, staff: 1, kind, value, number: 1, above: false, ...change });

const piano = part('P2', {
  name: 'Piano',
  staves: 2,
  clefs: [
    { at: note(0), staff: 1, sign: 'G', line: 2, octave: 1 },
    { at: note(0), staff: 2, sign: 'F', line: 4, octave: 0 },
  ],
  keys: [
    { at: note(0), staff: 1, fifths: 0, mode: 'major' },
    { at: note(0), staff: 2, fifths: 1, mode: 'minor' },
  ],
  written: [
    rest('b1', 0),
    written('b2', 1, at(1), note(1), { value: { type: 'whole', dots: 0 } }),
    // Second voice: begins late, crosses to the lower staff, with a chord over both staves.
    written('b3', 1, at(1, note(1, 4)), note(1, 4), { voice: '2', stem: 'down' }),
    written('b4', 1, at(1, note(1, 2)), note(1, 4), { voice: '2', staff: 1, chord: true }),
    written('b5', 1, at(1, note(1, 2)), note(1, 4), {
      voice: '2',
      staff: 2,
      pitch: { step: 'C', alter: 0, octave: 3 },
    }),
    written('b6', 1, at(1), note(1, 2), { voice: '5', staff: 2, value: { type: 'half', dots: 0 } }),
    written('b7', 2, at(2), note(1, 4), { voice: '5', staff: 2 }),
  ],
  directions: [
    line(1, note(0), 'dynamics', 'sfz', { staff: 2 }),
    line(1, note(1, 8), 'wedge', 'crescendo', { number: 2 }),
    line(1, note(1, 3), 'words', 'dolce & <molto>', { above: true }),
    line(1, note(1), 'wedge', 'stop', { number: 2 }),
    line(2, note(0), 'octaveShift', 'down 8', { above: true }),
    line(2, note(0), 'pedal', 'start', { staff: 2 }),
    line(2, note(1, 2), 'octaveShift', 'stop', { above: true }),
    line(2, note(3, 4), 'pedal', 'change', { staff: 2 }),
    line(3, note(0), 'dashes', 'start'),
    line(3, note(0), 'bracket', 'start'),
    line(3, note(1, 2), 'dashes', 'stop'),
    line(3, note(1, 2), 'bracket', 'stop'),
    line(4, note(0), 'other', 'as if from afar'),
    line(4, note(1, 4), 'dynamics', 'ppppppp'),
  ],
});

const drums = part('P3', {
  name: 'Drums',
  clefs: [{ at: note(0), staff: 1, sign: 'percussion', line: 3, octave: 0 }],
  written: [
    written('c1', 0, at(0), note(1, 4), { pitch: null, display: { step: 'E', octave: 4 }, notehead: 'x' }),
    written('c2', 1, at(1), note(1), { pitch: null, value: { type: 'whole', dots: 0 }, stem: 'none' }),
  ],
});

const tempo = (bar: number, unit: Beats, perMinute: [number, number], printed: boolean): Mark => ({
  kind: 'tempo',
  at: at(bar),
  bar,
  unit,
  perMinute: bpm(F.fraction(...perMinute)),
  printed,
});

const scoreMarks: readonly Mark[] = [
  { kind: 'rehearsal', at: at(0), bar: 0, text: 'A' },
  { kind: 'tempoWords', at: at(0), bar: 0, text: 'Allegro' },
  tempo(0, note(1, 4), [92, 1], true),
  tempo(1, note(3, 8), [60, 1], true),
  tempo(2, note(1, 4), [13333, 100], false),
  { kind: 'tempoWords', at: at(2, note(1, 2)), bar: 2, text: 'rit.' },
  { kind: 'relation', at: at(4), bar: 4, from: note(1, 4), to: note(3, 8) },
  tempo(5, note(5, 8), [40, 1], true),
  tempo(6, note(1, 2), [26666, 100], true),
];

const draft: Score = {
  title: 'Everything & more',
  source: 'musicxml',
  bars,
  parts: [clarinet, piano, drums],
  marks: scoreMarks,
};

/** Three parts, ten bars, every field of the model. */
export const everything: Score = {
  ...draft,
  parts: draft.parts.map((one) => assemblePart(one, bars).part),
};
