/**
 * Tune books and old files, as public collections have them (O'Neill 1850 tunes, Ryan's Mammoth Collection, Aird's Airs, the
 * Essen folk songs, all read in full). Sections are those of the ABC standard 2.1; where it is silent the rule is named.
 */
import { describe, expect, test } from 'vitest';
import { playingOrder } from '../../src/score/playing.ts';
import { barTexts, codes, course, keys, readText, tune, written, type ReadTune } from './abc-fragments.ts';

const played = ({ score }: ReadTune): number[] =>
  playingOrder(score).order.visits.map(({ barIndex }) => barIndex);

describe('several tunes of unlike parts in one file (10.5)', () => {
  const trio = `X:1
T:Trio
M:2/4
L:1/4
V:RH name="Piano"
V:LH clef=bass
V:Vn name="Violin"
K:C
[V:RH] c d |
[V:LH] C D |
[V:Vn] e f |
`;
  const song = 'X:2\nT:Song\nM:2/4\nL:1/4\nK:C\nG A |\n';

  test('what the file header says of staves is not asked of tunes that have other voices', () => {
    const book = readText(`%abc-2.1\n%%score {RH | LH} Vn\n\n${trio}\n${song}`);
    expect(codes(book)).toEqual(['several-pieces']);
    expect(book.score.parts.map(({ id, name, staves }) => [id, name, staves])).toEqual([
      ['RH', 'Piano', 2],
      ['Vn', 'Violin', 1],
      ['P1', '', 1],
    ]);
    expect(keys(book.score.parts[2])).toBe('67 69');
  });

  test('a single tune still misses the voices that %%score names', () => {
    expect(codes(readText(`%abc-2.1\n%%score RH LH Vn Fl\n\n${trio}`))).toContain('part-without-music');
    expect(codes(readText(`${trio.replace('K:C', '%%score RH LH Vn Fl\nK:C')}\n${song}`))).toContain(
      'part-without-music',
    );
  });

  test('music that names no voice is that of voice 1; a voice that has a name once is the same without it', () => {
    const two = (head: string): string => `M:2/4\nL:1/4\n${head}K:C\n[V:1] c d |\n[V:2] e f |\n`;
    const book = readText(
      `X:1\nT:Named\n${two('V:1 name="Violin I"\nV:2 name="Violin II"\n')}\n${song}\nX:3\nT:Again\n${two('')}`,
    );
    expect(book.score.parts.map(({ id, name }) => [id, name])).toEqual([
      ['P1', 'Violin I'],
      ['P2', 'Violin II'],
    ]);
    expect(keys(book.score.parts[0])).toBe('72 74 67 69 72 74');
    expect(keys(book.score.parts[1])).toBe('76 77 76 77');
  });

  test('voices of one id and different names stay apart, and two voices of one tune are two parts', () => {
    const other = 'X:2\nT:B\nM:2/4\nL:1/4\nV:1 name="Flute"\nK:C\n[V:1] c d |\n';
    const book = readText(`X:1\nT:A\nM:2/4\nL:1/4\nV:1 name="Violin"\nK:C\n[V:1] c d |\n\n${other}`);
    expect(book.score.parts.map(({ name }) => name)).toEqual(['Violin', 'Flute']);
    const both = readText('X:1\nM:2/4\nL:1/4\nK:C\nc d |\nV:1\ne f |\n');
    expect(both.score.parts.map(({ notes }) => notes.length)).toEqual([2, 2]);
  });

  test('a tune that ends without a closing bar line is over where the next begins with its upbeat', () => {
    const essen = (n: number): string => `X:${n}\nT:T${n}\nM:2/4\nL:1/4\nK:C\nG | c d | e\n`;
    const book = readText(`${essen(1)}\n${essen(2)}`);
    expect(codes(book)).toEqual(['several-pieces']);
    expect(book.score.bars.map(({ number, pickup }) => `${number}${pickup ? ' upbeat' : ''}`)).toEqual([
      '0 upbeat',
      '1',
      '2',
      '0 upbeat',
      '1',
      '2',
    ]);
  });

  test('composers, sources and rhythms are not told: no format tells of them', () => {
    expect(
      codes(tune('c4 d4|', 'C:Trad.\nR:reel\nO:Ireland\nS:a book\nZ:someone\nN:a note\nM:4/4\nL:1/8')),
    ).toEqual([]);
  });
});

describe('bar lines (4.8: "be quite liberal in recognising bar lines")', () => {
  test.each(['[|]:|', '|:|', '|]:|', ': |'])('%s ends a repeat', (line) => {
    const read = tune(`c4 d4|e4 f4${line}`);
    expect(course(read)).toBe('1 2:|2');
    expect(codes(read)).toEqual([]);
  });

  test('a da capo goes back to the beginning of its tune over strains that end with "|]" (Kitty O\u2019Neil\u2019s Jig)', () => {
    const read = tune('c8|d8|]\ne8 "^Fine"|f8|]\ng8|"^D.C."a8|]');
    expect(played(read)).toEqual([0, 1, 2, 3, 4, 5, 0, 1, 2]);
    expect(read.score.bars.map(({ barline }) => barline)).toEqual([
      'regular',
      'double',
      'regular',
      'double',
      'regular',
      'final',
    ]);
  });

  test('dots that begin a line behind a double bar begin a repeat (Hector the Hero, in old collections)', () => {
    const read = tune('c8|d8||\n:e8|f8:|');
    expect(course(read)).toBe('1 2 |:3 4:|2');
    expect(codes(read)).toEqual([]);
  });

  test('a line that ends with a full bar ends it (Essen folk songs; common practice, no source)', () => {
    const read = tune('c4d4|e8\nf8|g4a4\nb8|', 'M:4/4\nL:1/8');
    expect(barTexts(read)).toEqual(['1 4/4 1', '2 4/4 1', '3 4/4 1', '4 4/4 1', '5 4/4 1']);
    expect(codes(read)).toEqual(['bar-line-missing']);
    expect(read.problems[0]?.message).toContain('2 times');
  });

  test.each([
    ['the bar line begins the next line', 'c4d4\n|e8|'],
    ['the ending begins the next line', 'c4d4\n[1 e8:|[2 f8|]'],
    ['the bar goes on', 'c4d2\ne2|f8|'],
    ['a backslash joins the lines', 'c4d4\\\ne8|'],
    ['music without metre', '[M:none]c4d4\ne8|'],
  ])('but not where %s', (_, body) => {
    expect(codes(tune(body, 'M:4/4\nL:1/8'))).not.toContain('bar-line-missing');
  });

  test('each voice by itself', () => {
    const read = tune('[V:1]c8\n[V:2]e8|\n[V:1]d8|\n[V:2]f8|', 'M:4/4\nL:1/8');
    expect(read.score.bars).toHaveLength(2);
    expect(codes(read)).toEqual(['bar-line-missing']);
  });
});

describe('notes', () => {
  test('a tie to another pitch is a slur of two notes, told once (4.11 knows ties of one pitch; O’Neill’s files)', () => {
    const read = tune('G2-A2 f2-d2|c2-{e}d2 c4-|c8|');
    const slurs = read.part.written.map(({ marks }) => marks.slurs.map(({ type }) => type).join());
    expect(slurs).toEqual(['start', 'stop', 'start', 'stop', 'start', '', 'stop', '', '']);
    expect(written(read)).toContain('C5 1/2~, C5 1');
    expect(codes(read)).toEqual(['tie-not-ended']);
    expect(read.problems[0]?.message).toContain('3 times');
  });

  test('in chords each tie looks for its own note: nothing is guessed', () => {
    const read = tune('[CE]4-[CF]4|');
    expect(read.part.written.flatMap(({ marks }) => marks.slurs)).toEqual([]);
  });

  test('a letter without meaning is told once with its count (Ryan’s "k")', () => {
    const read = tune('kc2 kd2 ke2 kf2|');
    expect(codes(read)).toEqual(['music-unreadable']);
    expect(read.problems[0]?.message).toContain('"k" is nothing that music is written with (4 times)');
  });

  test('"treble8" is an octave lower than "treble" (written so before 4.6 had "-8"; from memory)', () => {
    expect(tune('c4|', 'M:4/4\nL:1/4\nV:1 clef=treble8').part.clefs[0]).toMatchObject({
      sign: 'G',
      octave: -1,
    });
    expect(keys(tune('c4|', 'M:4/4\nL:1/4\nV:1 clef=treble8').part)).toBe('60');
    expect(keys(tune('c4|', 'M:4/4\nL:1/4\nV:1 clef=treble-8').part)).toBe('60');
  });
});

test('a drum has no key signature, though the tune has one (common practice, no source)', () => {
  const read = tune('[V:1]c8|\n[V:2]B8|', 'M:4/4\nL:1/8\nV:1\nV:2 clef=perc', 'Dm');
  expect(read.score.parts.map(({ keys: all }) => all.length)).toEqual([1, 0]);
});

describe('the order of sections (3.1.9)', () => {
  const aird = 'P:A\n|:c8|d8:|\nP:B\n|:e8|f8:|';

  test('"P:ABA" plays sections with repeats of their own once more without them (Aird: "da capo")', () => {
    const read = tune(aird, 'P:ABA\nM:4/4\nL:1/8');
    expect(played(read)).toEqual([0, 1, 0, 1, 2, 3, 2, 3, 0, 1]);
    expect(codes(read)).toEqual(['order-repeats-once']);
    expect(read.problems[0]?.line).toBe(4);
  });

  test('one that can not be followed is told with the name of its tune and the line', () => {
    const read = tune(aird, 'P:ABACA\nM:4/4\nL:1/8');
    const told = read.problems.find(({ code }) => code === 'order-not-followed');
    expect(told?.message).toContain('The piece "Test" says "P:ABACA"');
    expect(told?.line).toBe(4);
  });
});
