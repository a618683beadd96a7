/** The kern reader against worked examples of its definition, each named; see kern-examples.ts. */
import { describe, expect, test } from 'vitest';
import { playingOrder } from '../../src/score/playing.ts';
import { metreText } from '../../src/score/metre.ts';
import { F } from '../../src/units/index.ts';
import * as ex from './kern-examples.ts';
import { columns, notes, read, type Read } from './kern-examples.ts';

const played = ({ score }: Read): number[] =>
  playingOrder(score).order.visits.map(({ barIndex }) => barIndex);
const written = ({ score }: Read, part = 0) => score.parts[part]?.written ?? [];

describe("examples of the Humdrum User's Guide", () => {
  test('2.1: reciprocal values, pitch letters and an invisible first bar line', () => {
    const art = columns(ex.artOfFugue);
    expect(notes(art)).toEqual([
      '1 0 1/2 62',
      '1 1/2 1/2 69',
      '2 0 1/2 65',
      '2 1/2 1/2 62',
      '3 0 1/2 61',
      '3 1/2 1/4 62',
      '3 3/4 1/4 64',
      '4 0 1/2 65',
    ]);
    expect(art.score.bars.map(({ pickup }) => pickup)).toEqual([false, false, false, false]);
    expect(written(art).map(({ stem }) => stem)).toEqual([...Array<string>(8).fill('up'), null]);
    expect(art.codes).toEqual(['bars-counted']);
  });

  test('2.2: the upper part stands in the right-most column; null tokens hold', () => {
    const bach = columns(ex.praeambulum);
    expect(bach.score.parts.map(({ id, clefs }) => [id, clefs[0]?.sign])).toEqual([
      ['P1', 'G'],
      ['P2', 'F'],
    ]);
    expect(notes(bach, 0).slice(0, 6)).toEqual([
      '1 1/8 1/8 62',
      '1 1/4 1/8 67',
      '1 3/8 1/8 70',
      '1 1/2 1/8 67',
      '1 5/8 1/8 62',
      '2 0 1/4 74',
    ]);
    // "2.rr": a dotted half, drawn as a whole rest.
    expect(written(bach, 1)[0]).toMatchObject({ kind: 'rest', wholeBar: true, value: null });
    expect(written(bach, 1).find(({ marks }) => marks.ornaments.length > 0)?.marks.ornaments).toEqual([
      'inverted-mordent',
    ]);
    expect(
      written(bach, 0)
        .slice(1, 6)
        .map(({ beams }) => beams.join()),
    ).toEqual(['begin', 'continue', 'continue', 'continue', 'end']);
    expect(bach.codes).toEqual([]);
  });

  test('2.3: two parts share each staff; upbeat, pauses, a tie over the bar line, a repeat sign', () => {
    const nun = columns(ex.chorale);
    expect(nun.score.parts.map(({ staves, notes: all }) => [staves, all.length])).toEqual([
      // Soprano 14 and alto 14; tenor 16 and bass 19, counted by hand.
      [1, 28],
      [1, 35],
    ]);
    expect([...new Set(written(nun, 0).map(({ voice }) => voice))].sort()).toEqual(['1', '2']);
    expect(nun.score.bars.map(({ number, pickup }) => [number, pickup])).toEqual([
      ['0', true],
      ['1', false],
      ['2', false],
      ['3', false],
      ['4', false],
    ]);
    // The alto's tied a: a quarter and an eighth.
    expect(nun.score.parts[0]?.notes.find(({ written: pieces }) => pieces.length === 2)).toMatchObject({
      duration: { n: 3n, d: 8n },
      midi: 69,
    });
    expect(written(nun, 0).filter(({ marks }) => marks.fermata !== null)).toHaveLength(4);
    expect(nun.score.bars.at(-1)).toMatchObject({ repeatEnd: 2, barline: 'final' });
    // The soprano is the upper voice.
    expect(written(nun, 0).filter(({ voice }) => voice === '1')[0]?.pitch).toMatchObject({
      step: 'E',
      octave: 5,
    });
  });

  test('2.4: partial beams, slurs, ties with slurs', () => {
    const haydn = columns(ex.sonata);
    const top = written(haydn, 0);
    expect(top.slice(1, 3).map(({ beams }) => beams)).toEqual([['begin'], ['end', 'backward hook']]);
    expect(
      top.filter(({ bar }) => bar === 1).map(({ marks }) => marks.slurs.map(({ type }) => type).join()),
    ).toEqual(['start', 'stop', 'start', 'stop', 'start', 'stop']);
    const slurs = written(haydn, 1).flatMap(({ marks, voice }) =>
      marks.slurs.map(({ type, number }) => `${voice} ${type} ${number}`),
    );
    // Both voices of the lower staff have a slur at once: two numbers, given from left to right.
    expect(slurs).toEqual(['1 start 2', '2 start 1', '1 stop 2', '2 stop 1']);
    // Bar 2 of the example is left out here: the bar numbers stay.
    expect(haydn.score.bars.map(({ number }) => number)).toEqual(['1', '3', '4']);
  });

  test('6.1: "nine notes in the time of a quarter", "20th notes", "40th notes"', () => {
    const karg = columns(ex.caprice);
    const tuplets = written(karg).map(
      ({ value, tuplet }) => `${value?.type ?? ''} ${tuplet.actual}:${tuplet.normal}`,
    );
    expect(tuplets.filter((one) => one === '32nd 9:8')).toHaveLength(9);
    expect(tuplets.filter((one) => one === '16th 5:4')).toHaveLength(5);
    expect(tuplets.filter((one) => one === '32nd 5:4')).toHaveLength(10);
    const brackets = written(karg).flatMap(({ tupletMarks }) => tupletMarks.map(({ type }) => type));
    expect(brackets).toEqual(Array.from({ length: 4 }, () => ['start', 'stop']).flat());
    expect(karg.score.bars.map(({ length }) => F.format(length))).toEqual(['3/4', '3/4', '9/16']);
  });

  test('6.3: a chord has the signs of its notes once; ties and stems belong to each', () => {
    const stops = columns(ex.doubleStops);
    const first = written(stops).filter(({ chord }) => !chord);
    expect(first.map(({ marks }) => marks.articulations.join())).toEqual([
      '',
      '',
      '',
      'staccato',
      'staccato',
      '',
      '',
      '',
      '',
    ]);
    expect(
      written(stops)
        .filter(({ chord }) => chord)
        .every(({ marks }) => marks.articulations.length === 0),
    ).toBe(true);
    expect(first.map(({ marks }) => marks.slurs.length)).toEqual([0, 0, 0, 1, 1, 0, 0, 0, 0]);
    expect(notes(stops).slice(-2)).toEqual(['1 1 1/2 72', '1 1 1/2 76']);
    expect(stops.problems.filter(({ code }) => code === 'not-kept').map(({ message }) => message)).toEqual([
      'A phrase mark is not kept (found 2 times).',
    ]);
  });

  test('28.1: a crescendo from before the second chord to before the last', () => {
    const dynam = columns(ex.dynamics);
    // Lines on which no note begins lie evenly between their neighbours.
    expect(
      dynam.score.parts[0]?.directions.map(({ at, kind, value }) => `${F.format(at)} ${kind} ${value}`),
    ).toEqual(['0 dynamics p', '1/4 wedge crescendo', '5/4 wedge stop', '3/2 dynamics pp']);
  });
});

describe('the Humdrum reference', () => {
  test('**recip: 12 is a twelfth of a whole note, 4 a quarter', () => {
    const five = columns(ex.holst);
    expect(notes(five).map((note) => note.split(' ').slice(1, 3).join())).toEqual([
      '0,1/12',
      '1/12,1/12',
      '1/6,1/12',
      '1/4,1/4',
      '1/2,1/4',
      '3/4,1/8',
      '7/8,1/8',
      '1,1/4',
    ]);
    expect(metreText(five.score.bars[0]?.metre ?? { components: [], symbol: 'numbers' })).toBe('5/4');
  });

  test.each([
    // **recip: "0" breve, "8.." doubly dotted eighth, "92.." 23 notes in the time of a doubly dotted quarter, "10", "7".
    ['0', '2', 'breve', 0, '1:1'],
    ['8..', '7/32', 'eighth', 2, '1:1'],
    ['92..', '7/368', '64th', 2, '23:16'],
    ['10', '1/10', 'eighth', 0, '5:4'],
    ['7', '1/7', 'quarter', 0, '7:4'],
    // humextra/rhythm: "40%3" is an eighth of a 5:3 tuplet, "3%2" a whole note of a triplet; "00" long, "000" maxima.
    ['40%3', '3/40', 'eighth', 0, '5:3'],
    ['3%2', '2/3', 'whole', 0, '3:2'],
    ['00', '4', 'long', 0, '1:1'],
    ['000', '8', 'maxima', 0, '1:1'],
  ])('a length %s', (text, length, type, dots, ratio) => {
    const one = read(`**kern\n${text}c\n*-\n`);
    const [note] = written(one);
    expect(F.format(note?.duration ?? F.zero)).toBe(length);
    expect(note?.value).toEqual({ type, dots });
    expect(`${note?.tuplet.actual ?? 0}:${note?.tuplet.normal ?? 0}`).toBe(ratio);
  });

  test('trans: *ITrd1c2 is a trumpet in B flat, written a tone above what sounds, key and all', () => {
    const bflat = columns(ex.trumpet);
    expect(notes(bflat).map((note) => note.split(' ')[3])).toEqual(['70', '72']);
    expect(written(bflat).map(({ pitch }) => `${pitch?.step ?? ''}${pitch?.octave ?? ''}`)).toEqual([
      'C5',
      'D5',
    ]);
    expect(bflat.score.parts[0]).toMatchObject({
      name: 'Trumpet',
      transpositions: [{ diatonic: -1, chromatic: -2 }],
      keys: [{ fifths: 0 }],
    });
    expect(written(bflat).map(({ accidental }) => accidental)).toEqual(['', '']);
  });

  test('**kern: signs may stand in any order', () => {
    const signs = (text: string) => ({
      ...written(read(`**kern\n*M1/8\n4r\n=1\n(8a\n=2\n${text}\n=3\n8b)\n*-\n`))[2],
      id: '',
    });
    // "the data tokens {(16ff#/'` and /ff#16'({` are equivalent"; here without the stroke that ends the quotation.
    expect(signs("/ff#16'({")).toEqual(signs("{(16ff#/'"));
  });

  test('**kern: elided and nested slurs end with their own number', () => {
    const slurs = (text: string): string =>
      written(columns(`**kern\n${text.split(' ').join('\n')}\n*-`))
        .map(({ marks }) => marks.slurs.map(({ type, number }) => `${type}${number}`).join('+'))
        .join(' ');
    expect(slurs('(4c (4d 4e) 4f)')).toBe('start1 start2 stop2 stop1');
    expect(slurs('(4c &(4d 4e) 4f&)')).toBe('start1 start2 stop1 stop2');
    expect(slurs('(4c &(4d &&(4e 4f) 4g&&) 4a&)')).toBe('start1 start2 start3 stop1 stop3 stop2');
  });

  test.each([
    // barlines, "Several examples": number of the bar that begins, look of the line before it, fermata, repeats.
    ['=29', '29', 'regular', false, 0, false],
    ['=29;', '29', 'regular', true, 0, false],
    ['=29a', '29a', 'regular', false, 0, false],
    ['=29c;', '29c', 'regular', true, 0, false],
    ['==', '', 'double', false, 0, false],
    ['====;', '', 'double', true, 0, false],
    ['==|!', '', 'final', false, 0, false],
    ['=:|:', '', 'regular', false, 2, true],
    ['=:||:', '', 'double', false, 2, true],
    ['=29-', '29', 'none', false, 0, false],
    ['==:|!', '', 'final', false, 2, false],
    ['==|', '', 'regular', false, 0, false],
    ['=29"', '29', 'dotted', false, 0, false],
  ])('a bar line %s', (token, number, barline, fermata, repeatEnd, repeatStart) => {
    const { score } = read(`**kern\n*M4/4\n=28\n1c\n${token}\n1d\n=\n1e\n==\n*-\n`);
    expect(score.bars[0]).toMatchObject({ number: '28', barline, fermata, repeatEnd });
    expect(score.bars[1]).toMatchObject({ number: number === '' ? '29' : number, repeatStart });
    expect(score.bars[2]).toMatchObject({ barline: 'final' });
  });
});

describe('spine paths (guide, chapter 5)', () => {
  test('a split is a second voice, joined again; a join of neighbours only', () => {
    const split = columns(`
      **kern **kern
      *M4/4 *M4/4
      =1 =1
      2C 2c
      *^ *
      4E 2E 2d
      4F . .
      *v *v *
      =2 =2
      1C 1c
      == ==
      *- *-`);
    expect(notes(split, 1)).toEqual([
      '1 0 1/2 48',
      '1 1/2 1/4 52',
      '1 1/2 1/2 52',
      '1 3/4 1/4 53',
      '2 0 1 48',
    ]);
    expect(written(split, 1).map(({ voice }) => voice)).toEqual(['1', '1', '2', '1', '1']);
    expect(split.codes).toEqual([]);
  });

  test('columns that change places keep their music', () => {
    const swapped = columns(`
      **kern **kern
      *Icello *Ivioln
      *M2/4 *M2/4
      =1 =1
      2C 2cc
      *x *x
      =2 =2
      2dd 2D
      == ==
      *- *-`);
    expect(notes(swapped, 0)).toEqual(['1 0 1/2 72', '2 0 1/2 74']);
    expect(notes(swapped, 1)).toEqual(['1 0 1/2 48', '2 0 1/2 50']);
  });

  test('a column that is added later is a part that enters late; one may end before the others', () => {
    const late = columns(`
      **kern
      *Icello
      *M2/4
      =1
      2C
      *+
      * **kern
      * *Ivioln
      =2 =2
      2D 2dd
      * *-
      =3
      2E
      ==
      *-`);
    expect(late.score.parts.map(({ name }) => name)).toEqual(['Violin', 'Cello']);
    expect(notes(late, 0)).toEqual(['2 0 1/2 74']);
    expect(notes(late, 1)).toEqual(['1 0 1/2 48', '2 0 1/2 50', '3 0 1/2 52']);
    expect(late.codes).toEqual([]);
  });

  test('a column that begins where no other tells the time ends where one does', () => {
    const late = columns(`
      **kern
      *M5/4
      =1
      2c
      *+
      * **kern
      . 16cc
      2d 4dd
      . 4ee
      4e 4ff
      == ==
      *- *-`);
    // The added sixteenth leads to the second half note.
    expect(notes(late, 0)).toEqual(['1 7/16 1/16 72', '1 1/2 1/4 74', '1 3/4 1/4 76', '1 1 1/4 77']);
    expect(late.codes).toEqual([]);
  });

  test('joins and exchanges that can not be are told and passed over', () => {
    const broken = columns(`
      **kern **kern **kern
      *v * *v
      4C 4c 4cc
      *x * *
      4D 4d 4dd
      *- *- *-`);
    expect(broken.codes.filter((code) => code === 'kern-path-broken')).toHaveLength(3);
    expect(broken.score.parts.map(({ notes: all }) => all.length)).toEqual([2, 2, 2]);
  });
});

describe('the course of the piece', () => {
  const piece = (lists: string, ...labels: readonly string[]): Read =>
    columns(
      `**kern\n${lists}\n*M1/4\n${labels.map((label, index) => `=${index + 1}\n*>${label}\n4c`).join('\n')}\n==\n*-`,
    );

  test('a list of sections becomes repeats, endings and a da capo (guide, chapter 20)', () => {
    expect(played(piece('*>[A,A,B,B]', 'A', 'B'))).toEqual([0, 0, 1, 1]);
    expect(played(piece('*>[A,A1,A,A2,B]', 'A', 'A1', 'A2', 'B'))).toEqual([0, 1, 0, 2, 3]);
    expect(played(piece('*>[A,A,B,B,C,A,B]', 'A', 'B', 'C'))).toEqual([0, 0, 1, 1, 2, 0, 1]);
    expect(piece('*>[A,A,B,B,C,A,B]', 'A', 'B', 'C').codes).toEqual([]);
    const ends = piece('*>[A,A1,A,A2,B]', 'A', 'A1', 'A2', 'B').score.bars.map(
      ({ ending }) => ending?.text ?? '',
    );
    expect(ends).toEqual(['', '1.', '2.', '']);
  });

  test('what can not be told by signs is told in words; other versions are named', () => {
    const weird = piece('*>[A,B,A,C]\n*>weird[C,A,C]', 'A', 'B', 'C');
    expect(weird.codes).toContain('expansion-differs');
    expect(weird.problems.find(({ code }) => code === 'not-kept')?.message).toContain('*>weird');
    expect(piece('*>[A,X]', 'A', 'B').codes).toEqual(['expansion-differs']);
  });

  test('repeat signs are followed where the file has them', () => {
    const signs = columns('**kern\n*M1/4\n=1\n4c\n=2!|:\n4d\n=3:|!|:\n4e\n==:|!\n*-');
    expect(played(signs)).toEqual([0, 1, 1, 2, 2]);
  });

  test('movements follow each other, upbeats and all', () => {
    const two = read(
      '**kern\t**kern\n*M2/4\t*M2/4\n4G\t4g\n=1\t=1\n2C\t2c\n==\t==\n*-\t*-\n!!!OMV: 2\n**kern\t**kern\n*M3/4\t*M3/4\n4A\t4a\n=1\t=1\n2.D\t2.d\n==\t==\n*-\t*-\n',
    );
    expect(
      two.score.bars.map(({ number, pickup, barline }) => `${number} ${String(pickup)} ${barline}`),
    ).toEqual(['0 true regular', '1 false final', '0 true regular', '1 false final']);
    expect(two.score.parts).toHaveLength(2);
    expect(notes(two, 0)).toEqual(['0 0 1/4 67', '1 0 1/2 60', '0 0 1/4 69', '1 0 3/4 62']);
    expect(two.codes).toEqual([]);
  });

  test('a dotted stroke inside a bar does not split it', () => {
    const one = columns('**kern\n*M4/4\n=1\n2c\n="\n2d\n=2\n1e\n==\n*-');
    expect(one.score.bars.map(({ number }) => number)).toEqual(['1', '2']);
    expect(one.codes).toEqual(['not-kept']);
  });
});

describe('what stands beside and above the notes', () => {
  test('syllables by verse, with hyphens and extenders (guide, example 2.5)', () => {
    const song = columns(`
      **kern **text **text
      *M3/4 * *
      =1 =1 =1
      4c Ma- One
      4d -gi- two_
      4e -ja .
      == == ==
      *- *- *-`);
    expect(
      written(song).map(({ lyrics }) =>
        lyrics.map((one) => `${one.verse}${one.syllabic}:${one.text}${one.extend ? '_' : ''}`).join(),
      ),
    ).toEqual(['1begin:Ma,2single:One', '1middle:gi,2single:two_', '1end:ja']);
  });

  test('columns that are no notes are named with their count', () => {
    const harm = columns('**kern **harm **fb\n4c I 6\n4d V .\n*- *- *-');
    expect(harm.problems.filter(({ code }) => code === 'not-kept').map(({ message }) => message)).toEqual([
      'What a column **harm says is not kept (found 2 times).',
      'What a column **fb says is not kept (found once).',
    ]);
  });

  test('tempi: *MM in quarters a minute (guide, chapter 6), marks and words', () => {
    const { score } = read(
      '!!!OMD: Allegro [half-dot] = 60\n**kern\n*M6/4\n*MM180\n=1\n1.c\n=2\n!LO:TX:a:t=[quarter] = [quarter-dot]\n1.d\n==\n*-\n',
    );
    expect(score.marks.map((mark) => ({ ...mark, at: F.format(mark.at) }))).toMatchObject([
      { kind: 'tempoWords', text: 'Allegro', at: '0' },
      { kind: 'tempo', unit: { n: 3n, d: 4n }, perMinute: { n: 60n, d: 1n }, printed: true },
      { kind: 'relation', from: { n: 1n, d: 4n }, to: { n: 3n, d: 8n }, at: '3/2' },
    ]);
  });

  test('small notes sound; beside a rest they are a cue', () => {
    const cue = columns(`
      **kern
      *M2/4
      =1
      *cue
      4c
      4d
      *Xcue
      =2
      *^
      2r 4e
      . 4f
      *v *v
      ==
      *-`);
    expect(notes(cue).map((note) => note.split(' ')[3])).toEqual(['60', '62', '64', '65']);
    const beside = columns('**kern\n*M2/4\n=1\n*^\n* *cue\n2r 4e\n. 4f\n*v *v\n==\n*-');
    expect(notes(beside)).toEqual([]);
    expect(written(beside).filter((note) => note.cue)).toHaveLength(2);
  });

  test('drums have no pitch; ossias and strophes are not played twice', () => {
    const drum = columns('**kern\n*clefX\n*M2/4\n=1\n4e\n4r\n==\n*-');
    expect(drum.score.parts[0]?.notes).toMatchObject([{ pitch: null, midi: null }]);
    expect(written(drum)[0]?.display).toEqual({ step: 'E', octave: 4 });
    const ossia = columns('**kern\n*M2/4\n=1\n*^\n* *ossia\n2c 2e\n*v *v\n==\n*-');
    expect(notes(ossia)).toEqual(['1 0 1/2 60']);
    expect(ossia.codes).toEqual(['not-kept']);
    const strophe = columns(
      '**kern\n*M2/4\n=1\n*strophe\n*^\n*S/1 *S/2\n2c 2e\n*S/fin *S/fin\n*v *v\n*S-\n==\n*-',
    );
    expect(notes(strophe)).toEqual(['1 0 1/2 60']);
  });

  test('octave lines, clefs and keys in the middle of a bar stand at the next note', () => {
    const { score } = columns(
      '**kern\n*clefG2\n*k[f#]\n*G:\n*M2/4\n=1\n4c\n*8va\n*clefF4\n4d\n*X8va\n=2\n*k[]\n2c\n==\n*-',
    );
    expect(score.parts[0]?.clefs.map(({ at, sign }) => `${F.format(at)} ${sign}`)).toEqual(['0 G', '1/4 F']);
    expect(score.parts[0]?.keys.map(({ at, fifths, mode }) => `${F.format(at)} ${fifths} ${mode}`)).toEqual([
      '0 1 major',
      '1/2 0 ',
    ]);
    expect(score.parts[0]?.directions.map(({ at, value }) => `${F.format(at)} ${value}`)).toEqual([
      '1/4 down 8',
      '1/2 stop',
    ]);
  });

  test('two staves of a piano are one part; a quartet by numbers in any order', () => {
    const piano = columns('**kern **kern\n*Ipiano *Ipiano\n4C 4c\n*- *-');
    expect(piano.score.parts).toMatchObject([{ name: 'Piano', staves: 2, program: 1 }]);
    expect(written(piano).map(({ staff, voice }) => `${staff} ${voice}`)).toEqual(['1 1', '2 5']);
    const turned = columns('**kern **kern\n*part1 *part2\n*Ivioln *Icello\n4cc 4C\n*- *-');
    expect(turned.score.parts.map(({ name }) => name)).toEqual(['Violin', 'Cello']);
  });

  test('grace notes lean on the next note; q has a stroke, qq has none', () => {
    const grace = columns('**kern\n*M2/4\n=1\n4c\n16dq\n8eqq\n4f\n==\n*-');
    expect(
      written(grace).map(({ kind, onset, slash }) => `${kind} ${F.format(onset)} ${String(slash)}`),
    ).toEqual(['note 0 false', 'grace 1/4 true', 'grace 1/4 false', 'note 1/4 false']);
  });

  test('accidentals as printed: by key and bar, not at the end of a tie', () => {
    const keys = columns('**kern\n*k[f#]\n*M4/4\n=1\n4f#\n4fn\n4f#\n[4b-\n=2\n4b-]\n4b-\n4f#\n4c\n==\n*-');
    expect(written(keys).map(({ accidental }) => accidental)).toEqual([
      '',
      'natural',
      'sharp',
      'flat',
      '',
      'flat',
      '',
      '',
    ]);
  });
});
