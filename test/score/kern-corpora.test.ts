/**
 * What files of public kern collections hold that the definition has no example of. The shapes are from files read in full
 * (Beethoven, String Quartet Op. 18 no. 1; Holland, "Der Abend an Elisen", 1777; Palestrina's masses); the notes are new.
 */
import { describe, expect, test } from 'vitest';
import { playingOrder } from '../../src/score/playing.ts';
import { columns, type Read } from './kern-examples.ts';

const played = ({ score }: Read): number[] =>
  playingOrder(score).order.visits.map(({ barIndex }) => barIndex);

/** Bars of one note; each is "label line" where the line is the bar line behind it, such as ":|!". */
const course = (list: string, ...bars: readonly (readonly [label: string, line: string])[]): Read =>
  columns(
    `**kern\n${list}\n*M1/4\n=1\n${bars
      .map(
        ([label, line], index) =>
          `*>${label}\n4c\n${index + 1 < bars.length ? `=${index + 2}` : '=='}${line}`,
      )
      .join('\n')}\n*-`,
  );

describe('repeat signs and a list of sections (User Guide, chapter 20)', () => {
  test('a scherzo is played again after its trio, without repeats: the third movement of Op. 18 no. 1', () => {
    const scherzo = course(
      '*>[A,A,B,B,C,C,D,A,B]\n*>norep[A,B,C,D,A,B]',
      ['A', ':|!'],
      ['B', ':|!'],
      ['C', ':|!'],
      ['D', ''],
    );
    expect(played(scherzo)).toEqual([0, 0, 1, 1, 2, 2, 3, 0, 1]);
    expect(scherzo.codes).toEqual([]);
    expect(scherzo.score.bars.map(({ jumps }) => jumps.map(({ kind }) => kind).join())).toEqual([
      '',
      'fine',
      '',
      'daCapo',
    ]);
  });

  test('with its repeats, where the list has them', () => {
    const minuet = course('*>[A,A,B,B,C,C,A,A,B,B]', ['A', ':|!'], ['B', ':|!'], ['C', ':|!']);
    expect(played(minuet)).toEqual([0, 0, 1, 1, 2, 2, 0, 0, 1, 1]);
    expect(minuet.codes).toEqual([]);
  });

  test('a trio that is repeated to its end, and one that is not', () => {
    const repeated = course('*>[A,A,B,B,A]', ['A', ':|!'], ['B', ':|!']);
    expect(played(repeated)).toEqual([0, 0, 1, 1, 0]);
    const once = course('*>[A,A,B,A]', ['A', ':|!'], ['B', '']);
    expect(played(once)).toEqual([0, 0, 1, 0]);
  });

  test('a repeat of the whole is no da capo; an order that neither gives is told', () => {
    const whole = course('*>[A,B,A,B]', ['A', ''], ['B', ':|!']);
    expect(played(whole)).toEqual([0, 1, 0, 1]);
    expect(whole.score.bars.flatMap(({ jumps }) => jumps)).toEqual([]);
    expect(whole.codes).toEqual([]);
    expect(course('*>[A,A,B,B,B,A]', ['A', ':|!'], ['B', ':|!']).codes).toContain('expansion-differs');
  });

  test('a da capo that is printed is not put twice', () => {
    const printed = columns(
      '**kern\n*>[A,A,B,A]\n*M1/4\n=1\n*>A\n4c\n=2:|!\n*>B\n!LO:TX:t=D.C._~_al_~_Fine\n4d\n==\n*-'.replace(
        '*>A\n4c',
        '*>A\n!LO:TX:t=Fine\n4c',
      ),
    );
    expect(played(printed)).toEqual([0, 0, 1, 0]);
    expect(printed.score.bars.flatMap(({ jumps }) => jumps.map(({ kind }) => kind))).toEqual([
      'fine',
      'daCapo',
    ]);
  });
});

describe('a piano in two spines (Holland 1777)', () => {
  const piano = (decoration: string): Read =>
    columns(`
      !!!COM: Holland, Jan Dawid
      !!!SMS-siglum: D-Hs
      **kern **kern **text **dynam
      *part2 *part1 * *
      *staff2 *staff1 * *
      *I"[Pianoforte] *I"[Pianoforte] * *
      *Ipiano *Ipiano * *
      *ICklav *ICklav * *
      *clefF4 *clefC1 * *
      *M2/4 *M2/4 * *
      *?: *X: * *
      =1 =1 =1 =1
      !LO:TX:t=P:problem:why !LO:TX:a:t=gelinde. ! !LO:DY:b:t=pia.
      4BBn 4a-sSSs . p
      4C (>8gL Mit .
      . 8f<J) den .
      !!LO:LB:g=original
      == == == ==
      *- *- *- *-
      ${decoration}
      !!!RDF**kern: > = above
      !!!RDF**kern: < = below
      !!!ENC: Someone`);

  test('is one part where a brace holds its staves, two where the numbers alone speak', () => {
    const one = piano('!!!system-decoration: {s1,s2}');
    expect(one.score.parts.map(({ name, staves, notes }) => [name, staves, notes.length])).toEqual([
      ['[Pianoforte]', 2, 5],
    ]);
    expect(piano('!!!system-decoration: s1,s2').score.parts).toHaveLength(2);
  });

  test('records, breaks, sides of slurs and unknown keys are not told; an editor’s remark is no word of the music', () => {
    const { score, problems } = piano('!!!system-decoration: {s1,s2}');
    expect(score.parts[0]?.directions.map(({ kind, value }) => `${kind} ${value}`)).toEqual([
      'words gelinde.',
      'dynamics p',
    ]);
    expect(problems.map(({ message }) => message)).toEqual([
      expect.stringContaining("An editor's remark on a doubtful place"),
    ]);
  });

  test('"sSSs" is one turn behind its note and no spiccato', () => {
    const [note] = (piano('').score.parts[0]?.written ?? []).filter(({ pitch }) => pitch?.step === 'A');
    expect(note?.marks.ornaments).toEqual(['delayed-turn']);
    expect(note?.marks.articulations).toEqual([]);
  });
});

test('a slur whose end bears an elision sign that its beginning lacks ends there all the same', () => {
  // Op. 18 no. 1, third movement, bar 11: "(2cc", then "&(4ee-&)".
  const slurs = columns('**kern\n*M3/4\n=1\n(2cc\n4ee-&)\n==\n*-');
  expect(slurs.codes).toEqual([]);
  expect(
    slurs.score.parts[0]?.written.map(({ marks }) => marks.slurs.map(({ type }) => type).join()),
  ).toEqual(['start', 'stop']);
});
