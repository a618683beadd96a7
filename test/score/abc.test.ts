/**
 * The worked examples of the published ABC standard 2.1 (December 2011, abcnotation.com/wiki/abc:standard:v2.1), section by
 * section, read from its text; then what it says in words. "Own" marks tunes that are not from it.
 */
import { describe, expect, test } from 'vitest';
import { metreText } from '../../src/score/metre.ts';
import { F } from '../../src/units/index.ts';
import { canzonetta, english, reels, strathspeys, zocharti } from './abc-examples.ts';
import {
  barTexts,
  codes,
  course,
  keys,
  lengths,
  lyrics,
  pitches,
  readText,
  tune,
  written,
} from './abc-fragments.ts';

/** Letters in braces: grace notes, as the text itself shows them. */
const inBraces = (text: string): number =>
  [...text.matchAll(/\{([^}]*)\}/g)].reduce(
    (sum, [, inner = '']) => sum + inner.replace(/[^A-Ga-g]/g, '').length,
    0,
  );

describe('2 files', () => {
  test('2.2.4: comments and remarks say nothing', () => {
    const plain = '|:DEF FED|\nDEF FED:|';
    const commented =
      '|:DEF FED| % this is an end of line comment\n% this is a comment line\nDEF [r:and this is a remark] FED:|';
    expect(written(tune(commented, 'M:6/8'))).toBe(written(tune(plain, 'M:6/8')));
  });

  test('13.1: a file header, three tunes as three movements, whose titles are told', () => {
    const read = readText(english);
    expect(read.score.title).toBe('Dusty Miller, The; Old Sir Simon the King; William and Nancy');
    const told = read.problems.find(({ code }) => code === 'several-pieces');
    expect(told?.message).toContain('"Dusty Miller, The", "Old Sir Simon the King", "William and Nancy"');
    // Dusty Miller has 12 bars of three; Old Sir Simon an upbeat and 4, the same again with two endings of two bars.
    expect(read.score.bars.slice(0, 12).every(({ length }) => F.equal(length, F.fraction(3, 4)))).toBe(true);
    expect(read.score.bars[12]?.number).toBe('0');
  });

  test('2.2.3: text between tunes is told and not read', () => {
    const read = readText('X:1\nT:A\nK:C\nCDEF|\n\nSome words: CDEF.\nMore.\n\nX:2\nT:B\nK:C\nGABc|\n');
    expect(pitches(read)).toBe('C4 D4 E4 F4 G4 A4 B4 C5');
    expect(read.problems.find(({ message }) => message.startsWith('Text'))?.message).toContain('2 lines');
  });

  test.each(['\n', '\r\n', '\r'])('8: line ends %j', (end) => {
    expect(written(readText(`X:1\nT:A\nM:4/4\nK:C\nCDEF|\\\nGABc|\n`.replaceAll('\n', end)))).toBe(
      'C4 1/8, D4 1/8, E4 1/8, F4 1/8, G4 1/8, A4 1/8, B4 1/8, C5 1/8',
    );
  });

  test('10.5.1: a single tune without X: is read', () => {
    expect(pitches(readText('T:A\nM:4/4\nK:G\nF|\n'))).toBe('F#4');
  });
});

describe('3 information fields', () => {
  test.each([
    ['4/4', '4/4', 'numbers', '1/8'],
    ['C', '4/4', 'common', '1/8'],
    ['C|', '2/2', 'cut', '1/8'],
    ['2/4', '2/4', 'numbers', '1/16'],
    ['6/8', '6/8', 'numbers', '1/8'],
    ['3/4', '3/4', 'numbers', '1/8'],
    ['none', 'free', 'numbers', '1/8'],
    ['(2+3+2)/8', '2+3+2/8', 'numbers', '1/8'],
    ['2+3+2/8', '2+3+2/8', 'numbers', '1/8'],
    ['(2+3)/8', '2+3/8', 'numbers', '1/16'],
  ])(
    '3.1.6 and 3.1.7: M:%s is %s, and without L: a letter lasts as the standard says',
    (field, text, symbol, unit) => {
      const read = tune('A|', `M:${field}`);
      expect(metreText(read.score.bars[0]?.metre ?? { components: [], symbol: 'cut' })).toBe(text);
      expect(read.score.bars[0]?.metre.symbol).toBe(symbol);
      expect(lengths(read)).toBe(unit);
    },
  );

  test('3.1.6: without M: the metre is free; 3.1.7: a metre within the tune leaves the unit length', () => {
    expect(barTexts(tune('ABc|', ''))).toEqual(['1 free 3/8']);
    expect(lengths(tune('AB|[M:2/4]cd|', 'M:6/8'))).toBe('1/8 1/8 1/8 1/8');
  });

  test.each([
    ['Q:1/2=120', '1/2', '120', ''],
    ['Q:1/4 3/8 1/4 3/8=40', '5/4', '40', ''],
    ['Q: "Allegro" 1/4=120', '1/4', '120', 'Allegro'],
    ['Q: 3/8=50 "Slowly"', '3/8', '50', 'Slowly'],
    ['Q:"Andante"', '', '', 'Andante'],
    // 10.1: 120 unit lengths a minute.
    ['Q:C=120', '1/8', '120', ''],
    ['Q:120', '1/8', '120', ''],
    // Own.
    ['Q:C3=40', '3/8', '40', ''],
    ['Q:1/4=92.5', '1/4', '185/2', ''],
  ])('3.1.8: %s', (field, unit, perMinute, words) => {
    const { marks } = tune('C|', `M:4/4\nL:1/8\n${field}`).score;
    const tempo = marks.find(({ kind }) => kind === 'tempo');
    expect(tempo?.kind === 'tempo' ? [F.format(tempo.unit), F.format(tempo.perMinute)] : ['', '']).toEqual([
      unit,
      perMinute,
    ]);
    const text = marks.find(({ kind }) => kind === 'tempoWords');
    expect(text?.kind === 'tempoWords' ? text.text : '').toBe(words);
  });

  const table: readonly (readonly [number, string])[] = [
    [7, 'C# A#m G#Mix D#Dor E#Phr F#Lyd B#Loc'],
    [6, 'F# D#m C#Mix G#Dor A#Phr BLyd E#Loc'],
    [5, 'B G#m F#Mix C#Dor D#Phr ELyd A#Loc'],
    [4, 'E C#m BMix F#Dor G#Phr ALyd D#Loc'],
    [3, 'A F#m EMix BDor C#Phr DLyd G#Loc'],
    [2, 'D Bm AMix EDor F#Phr GLyd C#Loc'],
    [1, 'G Em DMix ADor BPhr CLyd F#Loc'],
    [0, 'C Am GMix DDor EPhr FLyd BLoc'],
    [-1, 'F Dm CMix GDor APhr BbLyd ELoc'],
    [-2, 'Bb Gm FMix CDor DPhr EbLyd ALoc'],
    [-3, 'Eb Cm BbMix FDor GPhr AbLyd DLoc'],
    [-4, 'Ab Fm EbMix BbDor CPhr DbLyd GLoc'],
    [-5, 'Db Bbm AbMix EbDor FPhr GbLyd CLoc'],
    [-6, 'Gb Ebm DbMix AbDor BbPhr CbLyd FLoc'],
    [-7, 'Cb Abm GbMix DbDor EbPhr FbLyd BbLoc'],
  ];
  test.each(table.flatMap(([fifths, row]) => row.split(' ').map((key) => [key, fifths] as const)))(
    '3.1.14: K:%s has %i sharps or flats, and its notes too',
    (key, fifths) => {
      const read = tune('FCGDAEB|', undefined, key);
      expect(read.part.keys.map((one) => one.fifths)).toEqual([fifths]);
      expect(read.part.written.reduce((sum, { pitch }) => sum + (pitch?.alter ?? 0), 0)).toBe(fifths);
    },
  );

  test.each([
    'C major',
    'A minor',
    'C ionian',
    'A aeolian',
    'G mixolydian',
    'D dorian',
    'E phrygian',
    'F lydian',
    'B locrian',
  ])('3.1.14: K:%s has no sharps or flats', (key) => {
    const read = tune('FB|', undefined, key);
    expect(read.part.keys[0]?.fifths).toBe(0);
    expect(codes(read)).not.toContain('key-unreadable');
  });

  test('3.1.14: F# mixolydian is F#Mix is F#MIX', () => {
    const fifths = ['F# mixolydian', 'F#Mix', 'F#MIX'].map(
      (key) => tune('F|', undefined, key).part.keys[0]?.fifths,
    );
    expect(fifths).toEqual([5, 5, 5]);
  });

  test('3.1.14: added and explicit accidentals', () => {
    // Two flats and one sharp.
    expect(pitches(tune('DEFGABc|', undefined, 'D Phr ^f'))).toBe('D4 Eb4 F#4 G4 A4 Bb4 C5');
    expect(pitches(tune('DEFGABc|', undefined, 'D exp _b _e ^f'))).toBe('D4 Eb4 F#4 G4 A4 Bb4 C5');
    expect(
      tune('D|', undefined, 'D Phr ^f')
        .problems.map(({ message }) => message)
        .join(),
    ).toContain('key signature');
    // F sharp and C natural: one sharp.
    for (const key of ['D maj =c', 'D =c']) {
      expect(pitches(tune('Fc|', undefined, key))).toBe('F#4 C5');
      expect(tune('Fc|', undefined, key).part.keys[0]?.fifths).toBe(1);
    }
    expect(pitches(tune('FC|', undefined, ''))).toBe('F4 C4');
    expect(tune('FC|', undefined, 'none').part.keys[0]).toMatchObject({ fifths: 0, mode: 'none' });
  });

  test('3.1.14: highland pipes play G A B ^c d e ^f g a; HP shows no signature, Hp shows two sharps', () => {
    for (const [key, fifths] of [
      ['HP', 0],
      ['Hp', 2],
    ] as const) {
      const read = tune('GABcdefga|', 'M:none', key);
      expect(pitches(read)).toBe('G4 A4 B4 C#5 D5 E5 F#5 G5 A5');
      expect(read.part.keys[0]?.fifths).toBe(fifths);
      expect(codes(read)).toContain('pipe-scale-assumed');
    }
  });

  test('3.2: a metre inline or on its own line is the same', () => {
    const inline = tune('E2E EFE|E2E EFG|[M:9/8] A2G F2E D2|]', 'M:6/8');
    const lines = tune('E2E EFE|E2E EFG|\\\nM:9/8\nA2G F2E D2|]', 'M:6/8');
    expect(barTexts(inline)).toEqual(['1 6/8 3/4', '2 6/8 3/4', '3 9/8 1']);
    expect(barTexts(lines)).toEqual(barTexts(inline));
    expect(written(lines)).toBe(written(inline));
  });

  test('3.3: a field goes on behind "+:"', () => {
    const music = 'gf|e2dc B2A2|B2G2 E2D2|.G2.G2 GABc|d4 B2';
    const one = tune(
      `${music}\nw:Sa-ys my au-l' wan to your aul' wan, will~ye come to the Wa-x-ies dar-gle?`,
    );
    const two = tune(
      `${music}\nw:Sa-ys my au-l' wan to your aul' wan,\n+:will~ye come to the Wa-x-ies dar-gle?`,
    );
    expect(lyrics(two)).toBe(lyrics(one));
    expect(lyrics(two)).toBe(
      "Sa- -ys my au- -l' wan to your aul' wan, will ye come to the Wa- -x- -ies dar- -gle?",
    );
  });
});

describe('4 the tune body', () => {
  test('4.1: octaves, and "C,\',", which is "C,"', () => {
    expect(pitches(tune("C,, C, C c c' c''|C,', C' c|"))).toBe('C2 C3 C4 C5 C6 C7 C3 C5 C5');
  });

  test('4.2: accidentals; 11.3: they hold to the end of the bar, in all octaves unless the file says otherwise', () => {
    expect(pitches(tune('^C _D =E ^^F __G|'))).toBe('C#4 Db4 E4 F##4 Gbb4');
    expect(pitches(tune('^C c C|C|'))).toBe('C#4 C#5 C#4 C4');
    expect(codes(tune('^C c C|C|'))).toContain('accidental-octaves');
    expect(pitches(tune('^C c C|C|', 'M:4/4\nL:1/8\n%%propagate-accidentals octave'))).toBe('C#4 C5 C#4 C4');
    expect(pitches(tune('^C c C|C|', 'M:4/4\nL:1/8\nI:propagate-accidentals not'))).toBe('C#4 C5 C4 C4');
    // Own: the accidentals that the page shows.
    expect(tune('^C C =C|').part.written.map(({ accidental }) => accidental)).toEqual([
      'sharp',
      '',
      'natural',
    ]);
  });

  test('4.3: lengths', () => {
    expect(lengths(tune('A A1 A2 A3 A4 A6 A7 A8 A12 A14 A15', 'M:none\nL:1/16'))).toBe(
      '1/16 1/16 1/8 3/16 1/4 3/8 7/16 1/2 3/4 7/8 15/16',
    );
    expect(lengths(tune('A A2 A3 A4 A/2 A3/2 A/4 A/ A//', 'M:none\nL:1/8'))).toBe(
      '1/8 1/4 3/8 1/2 1/16 3/16 1/32 1/16 1/32',
    );
    const values = tune('A3 A7 A15', 'M:none\nL:1/16').part.written.map(({ value }) => value);
    expect(values).toEqual([
      { type: 'eighth', dots: 1 },
      { type: 'quarter', dots: 2 },
      { type: 'half', dots: 3 },
    ]);
  });

  test('4.4: broken rhythm, three ways of writing one thing', () => {
    const expected = '3/16 1/16 1/16 3/16 1/8 1/8 1/8 1/8';
    expect(lengths(tune('a3b cd3 a2b2c2d2', 'M:4/4\nL:1/16'))).toBe(expected);
    expect(lengths(tune('a3/2b/2 c/2d3/2 abcd', 'M:4/4\nL:1/8'))).toBe(expected);
    expect(lengths(tune('a>b c<d abcd', 'M:4/4\nL:1/8'))).toBe(expected);
    expect(lengths(tune('a>>b c<<<d', 'M:none\nL:1/8'))).toBe('7/32 1/32 1/64 15/64');
  });

  test('4.5: rests; Z4 is four bars of rest', () => {
    const short = tune('Z4|CD EF|GA Bc', 'M:4/4\nL:1/4');
    const long = tune('z4|z4|z4|z4|CD EF|GA Bc', 'M:4/4\nL:1/4');
    expect(barTexts(short)).toEqual(barTexts(long));
    expect(written(short)).toBe(written(long));
    expect(short.part.written.slice(0, 4).map(({ wholeBar }) => wholeBar)).toEqual([true, true, true, true]);
    expect(tune('x8|X|').part.written.map(({ printed }) => printed)).toEqual([false, false]);
  });

  test.each([
    ['treble', 'G', 2],
    ['bass', 'F', 4],
    ['bass3', 'F', 3],
    ['tenor', 'C', 4],
    ['alto', 'C', 3],
    ['alto2', 'C', 2],
    ['alto1', 'C', 1],
    ['perc stafflines=1', 'percussion', 3],
  ])('4.6: the clef %s, and by "clef="', (name, sign, line) => {
    for (const key of [name, `clef=${name}`]) {
      const read = tune('C|', undefined, key);
      expect(read.part.clefs).toMatchObject([{ sign, line, octave: 0, staff: 1 }]);
    }
  });

  test('4.6: transpose is for sound only; octave moves what is written', () => {
    const clarinet = tune('C|', undefined, 'C transpose=-2');
    expect(pitches(clarinet)).toBe('C4');
    expect(keys(clarinet.part)).toBe('58');
    expect(clarinet.part.transpositions).toMatchObject([{ diatonic: -1, chromatic: -2 }]);
    expect(pitches(tune('C|', undefined, 'C octave=-1'))).toBe('C3');
    expect(keys(tune('C|', undefined, 'Am t=-12').part)).toBe('48');
  });

  test('4.6: "bass middle=d transpose=-24" saves commas: the notes stand and sound two octaves lower', () => {
    const read = tune('d D|', undefined, 'bass middle=d transpose=-24');
    expect(keys(read.part)).toBe('50 38');
    expect(pitches(read)).toBe('D3 D2');
    expect(read.part.clefs).toMatchObject([{ sign: 'F', line: 4 }]);
    // "middle" alone "does not affect the playback".
    expect(keys(tune('d|', undefined, 'bass middle=d').part)).toBe('74');
    // "V:B middle=d bass", and a line number said by it: d in the middle of a G clef puts its g on the fourth... own.
    expect(tune('c|', undefined, 'treble middle=d').part.clefs).toMatchObject([{ sign: 'G', line: 1 }]);
  });

  test('4.6: an unknown clef is told', () => {
    expect(codes(tune('C|', undefined, 'C clef=banjo'))).toContain('clef-unknown');
  });

  test('4.7: beams', () => {
    const beams = (body: string, unit: string): string =>
      tune(body, `M:2/4\nL:${unit}`)
        .part.written.map(({ beams: all }) => all.join('+') || '.')
        .join(' ');
    expect(beams('A2BC', '1/16')).toBe('begin continue+begin end+end');
    expect(beams('A2 B C', '1/16')).toBe('. . .');
    expect(beams('ABC2DE', '1/8')).toBe('begin end . begin end');
    expect(beams('A2``B``C', '1/16')).toBe(beams('A2BC', '1/16'));
    // Own: dotted figures have short beams.
    expect(beams('A>B c<d', '1/8')).toBe('begin end+backward hook begin+forward hook end');
  });

  test.each([
    ['CDEF|GABc|', 'regular'],
    ['CDEF||GABc|', 'double'],
    ['CDEF|]GABc|', 'final'],
    ['CDEF[|GABc|', 'other'],
    ['CDEF.|GABc|', 'dotted'],
    ['CDEF[|]GABc|', 'none'],
  ])('4.8: the bar line in %s is %s', (body, barline) => {
    expect(tune(body, 'M:4/4\nL:1/4').score.bars[0]?.barline).toBe(barline);
  });

  test('4.8: repeats, and the forms of a double one', () => {
    expect(course(tune('|:CDEF|GABc:|', 'M:4/4\nL:1/4'))).toBe('|:1 2:|2');
    for (const form of ['::', ':|:', ':||:', ':| |:'])
      expect(course(tune(`|:CDEF${form}GABc:|`, 'M:4/4\nL:1/4'))).toBe('|:1:|2 |:2:|2');
    expect(course(tune('|::CDEF|GABc::|', 'M:4/4\nL:1/4'))).toBe('|:1 2:|3');
    expect(course(tune('|::CDEF|GABc:|', 'M:4/4\nL:1/4'))).toBe('|:1 2:|3');
    // "|[|" and "[|:::" are met with in the wild.
    expect(course(tune('CDEF|[|GABc[|:::C4::::|', 'M:4/4\nL:1/4'))).toBe('1 2 |:3:|5');
  });

  test('4.8: a repeat without beginning goes back to the latest double bar line or repeat', () => {
    expect(course(tune('CDEF||GABc|C4:|', 'M:4/4\nL:1/4'))).toBe('1 |:2 3:|2');
    expect(course(tune('CDEF|C4:|GABc|C4:|', 'M:4/4\nL:1/4'))).toBe('1 2:|2 3 4:|2');
  });

  test('4.9: first and second repeats', () => {
    const body = 'faf gfe|[1 dfe dBA:|[2 d2e dcB|]';
    expect(course(tune(body, 'M:6/8'))).toBe('1 [1 2:|2 [2 3');
    for (const form of ['faf gfe|1 dfe dBA:|2 d2e dcB|]', 'faf gfe| [1 dfe dBA :| [2 d2e dcB |]'])
      expect(course(tune(form, 'M:6/8'))).toBe(course(tune(body, 'M:6/8')));
  });

  test('4.10: variant endings', () => {
    expect(course(tune('C4 | [1  D4  :| [2 E4 :| [3 F4 :| [4 G4 |]', 'M:2/4\nL:1/8'))).toBe(
      '1 [1 2:|2 [2 3:|3 [3 4:|4 [4 5',
    );
    const numbers = (list: string): readonly number[] | undefined =>
      tune(`C4|[${list} D4:|`, 'M:2/4\nL:1/8').score.bars[1]?.ending?.numbers;
    expect(numbers('1,3')).toEqual([1, 3]);
    expect(numbers('1-3')).toEqual([1, 2, 3]);
    expect(numbers('1,3,5-7')).toEqual([1, 3, 5, 6, 7]);
    expect(numbers('2,4,8')).toEqual([2, 4, 8]);
  });

  test('4.11: ties, within and between bars, and what they carry over the bar line', () => {
    expect(tune('abc-|cba').part.notes.length).toBe(5);
    expect(tune('c4-c4').part.notes.map(({ duration }) => F.format(duration))).toEqual(['1']);
    // Own, as on paper: the tied note keeps the sharp, the next one has none.
    expect(pitches(tune('^c4-|c2 c2'))).toBe('C#5 C#5 C5');
    // Own: of a tied chord those notes are joined that come again.
    const chords = tune('[CEG]4-[CEA]4|');
    expect(chords.part.notes.map(({ midi, duration }) => `${midi ?? ''} ${F.format(duration)}`)).toEqual([
      '60 1',
      '64 1',
      '67 1/2',
      '69 1/2',
    ]);
    expect(codes(chords)).toEqual([]);
    expect(codes(tune('c4-d4|'))).toEqual(['tie-not-ended']);
  });

  const slurs = (body: string): string =>
    tune(body, 'M:none')
      .part.written.map(
        ({ marks }) => marks.slurs.map(({ type, number }) => `${type}${number}`).join('+') || '.',
      )
      .join(' ');
  test('4.11: slurs, nested, and two that meet on a note', () => {
    expect(slurs('(DEFG)')).toBe('start1 . . stop1');
    expect(slurs('  ( D E F G )  ')).toBe('start1 . . stop1');
    expect(slurs('(c (d e f) g a)')).toBe('start1 start2 . stop2 . stop1');
    expect(slurs('(c d (e) f g a)')).toBe('start1 . stop1+start1 . . stop1');
    expect(slurs('.(cde)')).toBe('start1 . stop1');
  });

  test('4.12: grace notes take no time; they are transparent to broken rhythm', () => {
    expect(written(tune('{GdGe}A2', 'M:none'))).toBe('gG4 0, gD5 0, gG4 0, gE5 0, A4 1/4');
    const broken = ['A<{g}A', 'A{g}<A', 'A/2{g}A3/2'].map((body) => written(tune(body, 'M:none')));
    expect(new Set(broken).size).toBe(1);
    const slashed = tune('{/gagab}C{g}C', 'M:none').part.written.filter(({ kind }) => kind === 'grace');
    expect(slashed.map(({ slash }) => slash)).toEqual([true, true, true, true, true, false]);
  });

  test.each([
    ['(2ab', '4/4', '3/16 3/16'],
    ['(3abc', '4/4', '1/12 1/12 1/12'],
    ['(4abcd', '4/4', '3/32 3/32 3/32 3/32'],
    ['(5abcde', '4/4', '1/20 1/20 1/20 1/20 1/20'],
    ['(5abcde', '6/8', '3/40 3/40 3/40 3/40 3/40'],
    ['(6abcdef', '4/4', '1/24 1/24 1/24 1/24 1/24 1/24'],
    ['(7abcdefg', '9/8', '3/56 3/56 3/56 3/56 3/56 3/56 3/56'],
    ['(8abcdefga', '4/4', '3/64 3/64 3/64 3/64 3/64 3/64 3/64 3/64'],
    ['(9abcdefgab', '4/4', '1/36 1/36 1/36 1/36 1/36 1/36 1/36 1/36 1/36'],
    ['(3:: abc', '4/4', '1/12 1/12 1/12'],
    ['(3:2 abc', '4/4', '1/12 1/12 1/12'],
    ['(3:2:3abc', '4/4', '1/12 1/12 1/12'],
    ['(3::2abc', '4/4', '1/12 1/12 1/8'],
    ['(3:2:2 G4c2', '4/4', '1/3 1/6'],
    ['(3:2:4 G2A2Bc', '4/4', '1/6 1/6 1/12 1/12'],
    ['(3 D2E2F2', '4/4', '1/6 1/6 1/6'],
    ['(3 D3EF2', '4/4', '1/4 1/12 1/6'],
  ])('4.13: %s in %s', (body, metre, expected) => {
    expect(lengths(tune(body, `M:${metre}\nL:1/8`))).toBe(expected);
  });

  test('4.13: brackets of tuplets', () => {
    const marks = tune('(3abc d').part.written.map(({ tupletMarks }) =>
      tupletMarks.map(({ type }) => type).join(),
    );
    expect(marks).toEqual(['start', '', 'stop', '']);
    expect(tune('(3abc d').part.written.map(({ tuplet }) => `${tuplet.actual}:${tuplet.normal}`)).toEqual([
      '3:2',
      '3:2',
      '3:2',
      '1:1',
    ]);
  });
});

describe('4.14 to 4.20 decorations, chords, words', () => {
  const marksOf = (body: string) => tune(body, 'M:none').part.written[0]?.marks;

  test('4.14: a staccato triplet, bowing marks', () => {
    expect(tune('(3.a.b.c').part.written.map(({ marks }) => marks.articulations)).toEqual([
      ['staccato'],
      ['staccato'],
      ['staccato'],
    ]);
    expect(tune('vAuBvA').part.written.map(({ marks }) => marks.technical[0]?.name)).toEqual([
      'down-bow',
      'up-bow',
      'down-bow',
    ]);
  });

  test.each([
    ['~', 'ornaments', ['roll']],
    ['L', 'articulations', ['accent']],
    ['M', 'ornaments', ['mordent']],
    ['P', 'ornaments', ['inverted-mordent']],
    ['T', 'ornaments', ['trill-mark']],
    ['!trill!', 'ornaments', ['trill-mark']],
    ['!mordent!', 'ornaments', ['mordent']],
    ['!pralltriller!', 'ornaments', ['inverted-mordent']],
    ['!turn!', 'ornaments', ['turn']],
    ['!invertedturn!', 'ornaments', ['inverted-turn']],
    ['!>!', 'articulations', ['accent']],
    ['!emphasis!', 'articulations', ['accent']],
    ['!tenuto!', 'articulations', ['tenuto']],
    ['!wedge!', 'articulations', ['staccatissimo']],
    ['!breath!', 'articulations', ['breath-mark']],
    ['!slide!', 'articulations', ['scoop']],
  ] as const)('4.14: %s', (sign, kind, names) => {
    expect(marksOf(`${sign}A`)?.[kind]).toEqual(names);
  });

  test('4.14: fingerings, plucking, fermata, arpeggio', () => {
    expect(tune('[!1!C!3!E!5!G]').part.written.map(({ marks }) => marks.technical)).toEqual([
      [{ name: 'fingering', text: '1' }],
      [{ name: 'fingering', text: '3' }],
      [{ name: 'fingering', text: '5' }],
    ]);
    expect(marksOf('!+!A')?.technical).toEqual([{ name: 'stopped', text: '' }]);
    expect(marksOf('!snap!!thumb!!open!A')?.technical.map(({ name }) => name)).toEqual([
      'snap-pizzicato',
      'thumb-position',
      'open-string',
    ]);
    expect(marksOf('HA')?.fermata).toBe('normal');
    expect(marksOf('!invertedfermata!A')?.fermata).toBe('normal');
    expect(marksOf('!arpeggio![CEG]')?.arpeggio).toBe(true);
  });

  test('4.14: dynamics and hairpins hold where they stand; a fermata may stand on a bar line', () => {
    const read = tune('!p!C !crescendo(!D E !crescendo)! !ff!F !fermata!|!>(!G A !>)!|', 'M:none');
    expect(read.part.directions.map(({ kind, value, at }) => `${kind} ${value} ${F.format(at)}`)).toEqual([
      'dynamics p 0',
      'wedge crescendo 1/8',
      'wedge stop 3/8',
      'dynamics ff 3/8',
      'wedge diminuendo 1/2',
      'wedge stop 3/4',
    ]);
    expect(read.score.bars[0]?.fermata).toBe(true);
  });

  test('4.14: segno, coda, da capo and their kin are followed as printed, and this is told', () => {
    const read = tune('!segno!C4|D4!dacoda!|E4!D.S.!||!coda!F4|G4!fine!|]', 'M:2/4\nL:1/8');
    expect(read.score.bars.map(({ jumps }) => jumps.map(({ kind }) => kind).join())).toEqual([
      'segno',
      'toCoda',
      'dalSegno',
      'coda',
      'fine',
    ]);
    expect(codes(read)).toContain('jump-from-print');
  });

  test('4.14: an unknown symbol is ignored, and told', () => {
    expect(codes(tune('!wiggle!A'))).toEqual(['not-kept']);
  });

  test('4.15: symbol lines', () => {
    const read = tune('CDEF    | G``AB`c\ns: "^slow" | !f! ** !fff!');
    expect(read.part.directions.map(({ value }) => value)).toEqual(['f', 'fff']);
    expect(read.score.marks.map((mark) => ('text' in mark ? mark.text : ''))).toEqual(['slow']);
    expect(read.part.directions.map(({ at }) => F.format(at))).toEqual(['1/2', '7/8']);
    const stacked = tune('C2  C2 Ez   A2|\ns: "C" *  "Am" * |\ns: *   *  !>!  * |');
    expect(stacked.part.written.map(({ marks }) => marks.articulations.join())).toEqual([
      '',
      '',
      'accent',
      '',
      '',
    ]);
    expect(stacked.problems.find(({ message }) => message.includes('chord symbol'))?.message).toContain(
      '2 times',
    );
  });

  test('4.16: letters are redefined, and taken away', () => {
    const read = tune('TA pB', 'M:none\nU: T = !fermata!\nU: p = "^+"');
    expect(read.part.written[0]?.marks.fermata).toBe('normal');
    expect(read.part.directions.map(({ value }) => value)).toEqual(['+']);
    expect(tune('TA', 'M:none\nU: T = !nil!').part.written[0]?.marks.ornaments).toEqual([]);
  });

  test('4.17: chords; lengths inside and outside multiply; a unison', () => {
    expect(pitches(tune('[CEGc]'))).toBe('C4 E4 G4 C5');
    expect(lengths(tune('[C2E2G2]3', 'M:none'))).toBe('3/4 3/4 3/4');
    expect(lengths(tune('[CEG]6', 'M:none'))).toBe('3/4 3/4 3/4');
    expect(pitches(tune('[DD]'))).toBe('D4 D4');
    expect(codes(tune('[C2E]', 'M:none'))).toContain('chord-lengths-differ');
    const read = tune('( "^I" !f! [CEG]- > [CEG] "^IV" [F=AC]3/2"^V"[GBD]/  H[CEG]2 )', 'M:none');
    expect(
      read.part.written
        .filter(({ chord }) => !chord)
        .map(({ duration }) => F.format(duration))
        .join(' '),
    ).toBe('3/16 1/16 3/16 1/16 1/4');
    expect(
      read.part.notes.filter(({ midi }) => midi === 60).map(({ duration }) => F.format(duration)),
    ).toEqual(['1/4', '3/16', '1/4']);
  });

  test('4.18: chord symbols are told, and not kept', () => {
    expect(tune('"Am7"A2D2').problems.map(({ code, message }) => `${code}: ${message}`)).toEqual([
      'not-kept: A chord symbol is not kept (found once).',
    ]);
  });

  test('4.19 and 4.20: annotations; the order of signs', () => {
    expect(tune('"<(" ">)" C').part.directions.map(({ value }) => value)).toEqual(['(', ')']);
    const read = tune('"Gm7"v.=G,2 (v.=G,2~^c\'2)', 'M:none');
    expect(pitches(read)).toBe('G3 G3 C#6');
    expect(read.part.written[0]?.marks).toMatchObject({
      articulations: ['staccato'],
      technical: [{ name: 'down-bow' }],
    });
    expect(pitches(tune("~^c'3"))).toBe('C#6');
  });
});

describe('5 lyrics', () => {
  test('5.1: two lines, or one at the end', () => {
    const two = tune('C D E F|\nw: doh re mi fa\nG A B c|\nw: sol la ti doh');
    const one = tune('C D E F|\nG A B c|\nw: doh re mi fa sol la ti doh');
    expect(lyrics(two)).toBe('doh re mi fa sol la ti doh');
    expect(lyrics(one)).toBe(lyrics(two));
  });

  test('5.1: an empty line is for notes without words', () => {
    expect(lyrics(tune('C D E F|\nw: doh re mi fa\nG G G G|\nw:\nF E F C|\nw: fa mi re doh'))).toBe(
      'doh re mi fa . . . . fa mi re doh',
    );
  });

  test.each([
    ['syll-a-ble', 'syll- -a- -ble .'],
    ['syll-a--ble', 'syll- -a- . -ble'],
    ['syll-a -ble', 'syll- -a- . -ble'],
    ['time__ x', 'time_ . . x'],
    ['of~the~day x', 'of the day x . .'],
    ['a * b', 'a . b .'],
    ['dou\\-ble x', 'dou-ble x . .'],
  ])('5.1: %s', (words, expected) => {
    expect(lyrics(tune(`CDEF|\nw: ${words}`))).toBe(expected);
  });

  test('5.1: a bar line in the words goes on to the next bar; too many syllables are told', () => {
    expect(lyrics(tune('CDEF|GABc|\nw: a b | c d e f | g'))).toBe('a b . . c d e f');
    expect(codes(tune('CDEF|GABc|\nw: a b | c d e f g'))).toContain('lyrics-extra');
  });

  test('5.2 and 5.3: verses, and their numbers', () => {
    const read = tune(
      'CDEF FEDC|\nw: these are the lyr-ics for verse one\nw: these are the lyr-ics\n+:  for verse two',
    );
    expect(lyrics(read, '1')).toBe('these are the lyr- -ics for verse one');
    expect(lyrics(read, '2')).toBe('these are the lyr- -ics for verse two');
    expect(lyrics(tune('CDE|\nw: 1.~Three blind mice'))).toBe('1. Three blind mice');
  });

  test('10.6: in files of old, words belong to the line of music before them', () => {
    const body = 'X:1\nT:A\nM:4/4\nL:1/8\nK:C\nCDEF|\nFEDC|\ncdef|]\nw:these are lyr-ics\n';
    expect(lyrics(readText(body))).toBe('. . . . . . . . these are lyr- -ics');
    expect(lyrics(readText(`%abc-2.1\n${body}`))).toBe('these are lyr- -ics . . . . . . . .');
    expect(lyrics(readText(`%abc-2.1\n${body.replace('FEDC|', 'FEDC|\nw:')}`))).toBe(
      '. . . . . . . . these are lyr- -ics',
    );
  });
});

describe('6 to 8', () => {
  test('6.1.1: "$", and "!" where the file says so, break lines and say nothing else', () => {
    expect(pitches(readText('X:1\nI:linebreak $\nM:6/8\nK:G\n|:abc def|$fed cba:|\n'))).toBe(
      'A5 B5 C5 D5 E5 F#5 F#5 E5 D5 C5 B5 A5',
    );
    const bang = readText('X:1\nI:linebreak !\nM:6/8\nK:G\nABC DEF|!FED ABC|]\n');
    expect(bang.score.bars.length).toBe(2);
    expect(bang.part.written.length).toBe(12);
  });

  test('6.1.1: a directive between two halves of a line; setbarnb', () => {
    const read = tune('abc cab|\\\n%%setbarnb 10\nM:9/8\n%comment\nabc cba abc|', 'M:6/8');
    const inline = tune('abc cab|[I:setbarnb 10][M:9/8][r:comment]abc cba abc|', 'M:6/8');
    expect(barTexts(read)).toEqual(['1 6/8 3/4', '10 9/8 9/8']);
    expect(barTexts(inline)).toEqual(barTexts(read));
  });

  test('7: Zocharti Loch: two voices on each of two staves; tenors an octave lower, basses two', () => {
    const read = readText(zocharti);
    expect(
      read.score.parts.map(({ id, name, abbreviation, staves }) => [id, name, abbreviation, staves]),
    ).toEqual([
      ['T1', 'Tenore I, Tenore II', 'T.I, T.II', 1],
      ['B1', 'Basso I, Basso II', 'B.I, B.II', 1],
    ]);
    const [tenors, basses] = read.score.parts;
    const onsets = (part: typeof tenors, voice: string): string =>
      (part?.notes ?? [])
        .filter((note) => note.voice === voice)
        .slice(0, 4)
        .map(({ midi }) => String(midi))
        .join(' ');
    // B2c2 d2g2 in a clef with an 8 below: B flat 3, C4, D4, G4.
    expect(onsets(tenors, '1')).toBe('58 60 62 67');
    expect(onsets(tenors, '2')).toBe('55 57 58 63');
    // f2 g2 a2 b2, two octaves lower: F3 G3 A3 B flat 3.
    expect(onsets(basses, '1')).toBe('53 55 57 58');
    expect(basses?.written.find(({ pitch }) => pitch !== null)?.pitch).toEqual({
      step: 'F',
      alter: 0,
      octave: 3,
    });
    expect(basses?.written.filter(({ printed }) => !printed).length).toBe(5);
  });

  test('7: the same voices one after the other are the same music', () => {
    const lines = zocharti.split('\n');
    const header = lines.filter((line) => !line.startsWith('[V:'));
    const voices = ['T1', 'T2', 'B1', 'B2'].map((id) => {
      const own = lines
        .filter((line) => line.startsWith(`[V:${id}]`))
        .map((line) => line.slice(`[V:${id}]`.length));
      return `V:${id}\n${own.join('\n')}`;
    });
    const read = readText([...header.filter((line) => line !== ''), ...voices].join('\n'));
    const original = readText(zocharti);
    expect(read.score.parts.map(keys)).toEqual(original.score.parts.map(keys));
    expect(read.score.bars.length).toBe(8);
  });

  test('7.3: a metre repeated in every voice', () => {
    const read = tune('[V:1] C4|[M:3/4]CEG|Gce|\n[V:2] E4|[M:3/4]G3 |E3 |', 'M:4/4\nL:1/4');
    expect(barTexts(read)).toEqual(['1 4/4 1', '2 3/4 3/4', '3 3/4 3/4']);
    expect(codes(read)).toEqual([]);
  });

  test('7.4: overlays of one bar', () => {
    const read = tune('A2 | c d e f g  a  &\\\n     A A A A A  A  &\\\n     F E D C B, A, |]', 'M:6/8');
    expect(read.score.bars.length).toBe(2);
    const byVoice = ['1', '2', '3'].map((voice) =>
      read.part.notes
        .filter((note) => note.voice === voice && note.bar === 1)
        .map(({ midi }) => midi)
        .join(' '),
    );
    expect(byVoice).toEqual(['72 74 76 77 79 81', '69 69 69 69 69 69', '65 64 62 60 59 57']);
  });

  test('7.4: "&&" goes back two bars, and words follow the text', () => {
    const read = tune('g4 f4 | e6 e2 |\n&& (d8    | c6) c2|\nw: ha-la-| lu-yoh\n+: lu-   |   -yoh');
    expect(read.score.bars.length).toBe(2);
    const overlay = read.part.written.filter(({ voice }) => voice === '2');
    expect(overlay.map(({ bar, pitch }) => `${bar} ${pitch?.step ?? ''}`)).toEqual(['0 D', '1 C', '1 C']);
    expect(overlay.map(({ lyrics: all }) => all[0]?.text ?? '.')).toEqual(['lu', '.', 'yoh']);
  });

  test('8.1: reserved signs are passed over', () => {
    const odd = tune('@a !pp! #bc2/3* [K:C#] de?f "@this $2was difficult to parse?" y |**', 'M:none');
    const plain = tune('a !pp! bc2/3 [K:C#] def "@this $2was difficult to parse?" y |', 'M:none');
    expect(written(odd)).toBe(written(plain));
    expect(odd.part.directions).toEqual(plain.part.directions);
    expect(codes(odd)).toContain('music-unreadable');
  });

  test.each([
    ["\\`A \\`e \\'A \\'o", 'À è Á ó'],
    ['\\^A \\^o \\~n \\~o', 'Â ô ñ õ'],
    ['\\"A \\"o \\cC \\cc', 'Ä ö Ç ç'],
    ['\\AA \\aa \\/O \\/o', 'Å å Ø ø'],
    ['\\uA \\ue \\vS \\vz', 'Ă ĕ Š ž'],
    ['\\HO \\Hu \\ss \\AE \\oe', 'Ő ű ß Æ œ'],
    ['&eacute; &Agrave; &szlig; &copy;', 'é À ß ©'],
    ['\\u00e9 \\u266d \\U0001d11e', 'é ♭ 𝄞'],
    ['\\\\ 5\\% G\\&T gin & tonic', '\\ 5% G&T gin & tonic'],
  ])('8.2: the title %s', (text, expected) => {
    expect(readText(`X:1\nT:${text}\nK:C\nC|\n`).score.title).toBe(expected);
  });
});

describe('9 to 13', () => {
  test('9.1: static macros', () => {
    const header = 'M:6/8\nL:1/8\nm: ~g2 = {a}g{f}g\nm: ~D2 = {E}D{C}D';
    expect(written(tune('~D2D FDF|def ~g2 e|', header, 'D'))).toBe(
      written(tune('{E}D{C}DD FDF|def {a}g{f}g e|', header, 'D')),
    );
  });

  test('9.2: transposing macros', () => {
    const header = 'M:C|\nL:1/8\nm: ~n2 = (3o/n/m/ n';
    expect(written(tune('EAAG~A2 Bd|eg~g2 egdc|', header, 'ADor'))).toBe(
      written(tune('EAAG(3B/A/G/ A Bd|eg(3a/g/f/ g egdc|', header, 'ADor')),
    );
  });

  test('10.2: files of old: "!" at the end of a line, "+" around decorations and chords', () => {
    const read = readText('X:1\nT:A\nM:4/4\nL:1/4\nK:C\n+CEG+ D2 !\nE4|+trill+F4|\n');
    expect(read.part.written.map(({ pitch }) => pitch?.step).join('')).toBe('CEGDEF');
    expect(read.part.written.at(-1)?.marks.ornaments).toEqual(['trill-mark']);
    expect(codes(read)).toContain('syntax-outdated');
  });

  test('11.1: brackets, braces and stars of %%score', () => {
    const voices = ['Solo', 'S', 'A', 'T', 'B', 'RH', 'LH1', 'LH2'];
    const body = voices.map((id) => `[V:${id}] C4|`).join('\n');
    const read = tune(body, 'M:4/4\nL:1/4\n%%score Solo  [(S A) (T B)]  {RH | (LH1 LH2)}');
    expect(read.score.parts.map(({ id, staves }) => `${id} ${staves}`)).toEqual([
      'Solo 1',
      'S 1',
      'T 1',
      'RH 2',
    ]);
    const piano = read.score.parts[3];
    expect(piano?.written.map(({ staff, voice }) => `${staff}/${voice}`)).toEqual(['1/1', '2/2', '2/3']);
    const strings = tune(
      ['Vln1', 'Vln2', 'Vla'].map((id) => `[V:${id} name="${id}"] C4|`).join('\n'),
      'M:4/4\nL:1/4\n%%score [{Vln1 | Vln2} | Vla]',
    );
    expect(strings.score.parts.map(({ name }) => name)).toEqual(['Vln1', 'Vln2', 'Vla']);
    const floating = tune('[V:RH] C4|\n[V:M] D4|\n[V:LH] E4|', 'M:4/4\nL:1/4\n%%staves {RH *M| LH}');
    expect(floating.score.parts[0]?.written.map(({ staff, voice }) => `${staff}/${voice}`)).toEqual([
      '1/1',
      '1/2',
      '2/3',
    ]);
  });

  test('11.2: the sound of a voice, counted from 1 in "%%MIDI voice"', () => {
    const read = tune('[V:Tb] C4|', 'M:4/4\nL:1/4\n%%MIDI voice Tb instrument=59');
    expect(read.part.program).toBe(59);
    expect(tune('V:Organo\n%%MIDI voice instrument=73 bank=2\nC4|', 'M:4/4').part.program).toBe(73);
    // Own: what "%%MIDI program" counts from 0.
    expect(tune('C4|', 'M:4/4\n%%MIDI program 73').part.program).toBe(74);
  });

  test('3.1.9: the order of parts, where repeats and a da capo can say it; else it is told', () => {
    const body = 'P:A\nC4|D4|\nP:B\nE4|F4|';
    const ordered = (order: string, text = body) => tune(text, `M:4/4\nL:1/4\nP:${order}`);
    expect(course(ordered('AB'))).toBe('1 2 3 4');
    expect(course(ordered('A2B3'))).toBe('|:1 2:|2 |:3 4:|3');
    expect(course(ordered('AABB'))).toBe('|:1 2:|2 |:3 4:|2');
    expect(course(ordered('(AB)3'))).toBe('|:1 2 3 4:|3');
    const daCapo = ordered('ABA');
    expect(daCapo.score.bars.map(({ jumps }) => jumps.map(({ kind }) => kind).join())).toEqual([
      '',
      'fine',
      '',
      'daCapo',
    ]);
    expect(codes(ordered('((AB)3.(BA)3)2'))).toEqual(['order-not-followed']);
    expect(ordered('AB').score.marks.map((mark) => ('text' in mark ? mark.text : ''))).toEqual(['A', 'B']);
    // 4.10: the endings say already how often each is played.
    const endings = 'P:A\nC4|[1 D4:|[2 E4:|[3 F4:|[4 G4|]';
    expect(course(ordered('A4', endings))).toBe('1 [1 2:|2 [2 3:|3 [3 4:|4 [4 5');
    expect(codes(ordered('A4', endings))).toEqual([]);
    expect(codes(readText(english))).toContain('order-not-followed');
  });

  test('13.2: strathspeys: every bar of the first is full, and grace notes count for nothing in the second', () => {
    const read = readText(strathspeys);
    expect(read.score.bars.every(({ length }) => F.equal(length, F.one))).toBe(true);
    expect(read.score.bars.length).toBe(20);
    expect(read.part.written.filter(({ kind }) => kind === 'grace').length).toBe(inBraces(strathspeys));
  });

  test('13.3: reels: upbeats, keys that change, a chord', () => {
    const read = readText(reels);
    expect(read.part.keys.map(({ fifths }) => fifths)).toEqual([2, 1, 2, 1]);
    expect(read.part.written.filter(({ chord }) => chord).length).toBe(2);
    expect(read.score.bars.slice(0, 6).map(({ number }) => number)).toEqual(['0', '1', '2', '3', '4', 'X1']);
  });

  test('13.4: Canzonetta: three voices, two sections, two endings, two verses', () => {
    const read = readText(canzonetta);
    expect(read.score.parts.map(({ id, name, abbreviation }) => `${id} ${name} ${abbreviation}`)).toEqual([
      'P1 Soprano A',
      'P2 Alto T',
      'P3 Tenor B',
    ]);
    expect(course(read)).toBe('|:1 2 3 4 5 6 7 8:|2 |:9 10 11 12 13 [1 14:|2 [2 15');
    expect(lyrics(read).startsWith('Son que- -sti i cre- -spi cri- -ni e que- -sto il vi- -so')).toBe(true);
    expect(lyrics(read).endsWith('sol de- -si- -o._ .')).toBe(true);
    // "middle=d" moves no sound: the tenor's first f sounds as written in the text, an F5.
    expect(read.score.parts[2]?.notes[0]?.midi).toBe(77);
    expect(read.score.bars.slice(0, 14).every(({ length }) => F.equal(length, F.one))).toBe(true);
  });
});
