import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { metreText } from '../../src/score/metre.ts';
import type { Score } from '../../src/score/model.ts';
import { looksLikeBarPlan, readBarPlan } from '../../src/score/read/barplan.ts';
import { writeBarPlan } from '../../src/score/write/barplan.ts';
import { F } from '../../src/units/index.ts';
import { barStructures } from './barplan-arbitrary.ts';
import { fuzzBarPlans } from './barplan-fuzz.ts';

const read = (text: string): Score => {
  const result = readBarPlan(text);
  if (!result.ok)
    throw new Error(`${result.error.message} (${String(result.error.line)}:${String(result.error.column)})`);
  return result.value;
};
const codes = (text: string): string[] => {
  const result = readBarPlan(text);
  return result.ok ? result.problems.map(({ code }) => code) : [result.error.code];
};
const numbers = (score: Score): string[] => score.bars.map(({ number }) => number);
const refusal = (text: string) => {
  const result = readBarPlan(text);
  if (result.ok) throw new Error('It was read.');
  return result.error;
};

// The plan and what it means are given in the description of the job.
const example = 'pickup 1/4; 1-16 4/4 twice; 17-24 3/4; tempo 1/4=92';

describe('a bar plan', () => {
  it('reads the example of the job', () => {
    const score = read(example);
    expect(score.source).toBe('barplan');
    expect(numbers(score)).toEqual(Array.from({ length: 25 }, (_, k) => String(k)));
    expect(score.bars.filter(({ pickup }) => pickup).map(({ index }) => index)).toEqual([0]);
    expect(score.bars.map(({ metre }) => metreText(metre))).toEqual([
      ...Array.from({ length: 17 }, () => '4/4'),
      ...Array.from({ length: 8 }, () => '3/4'),
    ]);
    // 1/4 + 16 x 4/4 = 65/4; then 8 x 3/4.
    expect(F.format(score.bars[17]?.start ?? F.zero)).toBe('65/4');
    expect(score.bars.filter(({ repeatStart }) => repeatStart).map(({ number }) => number)).toEqual(['1']);
    expect(
      score.bars.filter(({ repeatEnd }) => repeatEnd > 0).map(({ number, repeatEnd }) => [number, repeatEnd]),
    ).toEqual([['16', 2]]);
    expect(score.marks).toMatchObject([{ kind: 'tempo', bar: 0, printed: true }]);
    expect(score.parts).toEqual([]);
  });

  it('takes any case, order, dash, blank and line end', () => {
    const wild = '\ufeffTEMPO 1/4 = 92\r\nPickup\t1/4\r\n1–16  4/4 TWICE # the first half\r17 — 24 in 3/4';
    expect(read(wild)).toEqual(read(example));
  });

  it('reads signs, endings, jumps, words and marks', () => {
    const score = read(
      'title Sonata in G; 1-32 6/8; 1-8 3 times; ending 1, 2 at 7-8; ending 3 at 9; segno at 10; to coda at 20\n' +
        'D.S. al coda at 30; coda at 31; fine at 32; tempo 1/4.=60 at 17; rit. at 20+3/8; mark A at 17; old 1/8 = new 1/4 at 9',
    );
    expect(score.title).toBe('Sonata in G');
    expect(score.bars[0]?.repeatStart).toBe(true);
    expect(score.bars[7]).toMatchObject({
      repeatEnd: 3,
      ending: { numbers: [1, 2], begins: false, ends: 'stop' },
    });
    expect(score.bars[8]?.ending).toEqual({ numbers: [3], text: '3.', begins: true, ends: 'stop' });
    expect(score.bars.flatMap(({ number, jumps }) => jumps.map(({ kind }) => [number, kind]))).toEqual([
      ['10', 'segno'],
      ['20', 'toCoda'],
      ['30', 'dalSegno'],
      ['31', 'coda'],
      ['32', 'fine'],
    ]);
    expect(score.marks.map((mark) => [mark.kind, mark.bar, F.format(mark.at)])).toEqual([
      ['relation', 8, '6'],
      ['tempo', 16, '12'],
      ['rehearsal', 16, '12'],
      ['tempoWords', 19, '117/8'],
    ]);
    expect(F.format(score.marks[1]?.kind === 'tempo' ? score.marks[1].unit : F.zero)).toBe('3/8');
  });

  it('reads and writes a fermata over a bar line', () => {
    const score = read('1-8 4/4; Fermata after bar 4');
    expect(score.bars.filter(({ fermata }) => fermata).map(({ number }) => number)).toEqual(['4']);
    expect(writeBarPlan(score).text).toBe('1-8 4/4\nfermata after 4\n');
  });

  it('counts on, and lays bars without numbers, odd numbers and numbers that begin anew', () => {
    expect(
      numbers(
        read('pickup 1/8; 2 bars 3/8; 3a 3/8; X1 3/8; 2 unnumbered bars; 4-5; "9-10" 3/8; 1-2 renumbered'),
      ),
    ).toEqual(['0', '1', '2', '3a', 'X1', '', '', '4', '5', '9-10', '1', '2']);
  });

  it('takes the beat of the metre where a tempo names no value', () => {
    // Beats of metres: section 6 of the plan of the house; common practice.
    for (const [metre, beat] of [
      ['4/4', '1/4'],
      ['6/8', '3/8'],
      ['2/2', '1/2'],
      ['cut', '1/2'],
      ['3/8', '1/8'],
    ] as const) {
      const [mark] = read(`1 ${metre}; tempo 60`).marks;
      expect(mark?.kind === 'tempo' ? F.format(mark.unit) : '').toBe(beat);
    }
    expect(codes('1 6/8; tempo 60')).toEqual(['tempo-unit-assumed']);
  });

  it('keeps decimal and fractional tempi exactly', () => {
    const [mark] = read('1 4/4; tempo quarter = 133.33').marks;
    expect(mark?.kind === 'tempo' ? F.format(mark.perMinute) : '').toBe('13333/100');
  });

  it.each([
    ['', 'file-empty', 1, 1],
    ['tempo 1/4=92', 'no-bars', undefined, undefined],
    ['1-16 4/4\n 16-20 3/4', 'bar-numbers-overlap', 2, 2],
    ['16-1 4/4', 'bars-reversed', 1, 1],
    ['1-1000000000 4/4', 'too-many-bars', 1, 1],
    ['1-8 4/4; 99999999999999999999 bars', 'too-many-bars', 1, 10],
    ['1-8 0/4', 'metre-unreadable', 1, 5],
    ['1-8 4/0', 'metre-unreadable', 1, 5],
    ['1-8 4000/4', 'metre-unreadable', 1, 5],
    ['1-8', 'metre-missing', 1, 1],
    ['1-8 4/4; tempo 1/4=0', 'tempo-zero', 1, 16],
    ['1-8 4/4; tempo 1/4=-5', 'tempo-zero', 1, 16],
    ['1-8 4/4; tempo', 'tempo-missing', 1, 15],
    ['1-8 4/4; mark A at 12', 'bar-unknown', 1, 20],
    ['1-8 4/4; rit. at 3+5/4', 'position-outside-bar', 1, 18],
    ['1-8 4/4; pickup 4/4', 'pickup-too-long', 1, 17],
    ['pickup 1/4; 1-8 4/4; pickup 1/8', 'pickup-twice', 1, 29],
    ['1-8 free', 'length-missing', 1, 1],
    ['1-8 4/4 twcie', 'word-unknown', 1, 9],
    ['1-8 4/4; title "open', 'quotation-open', 1, 16],
    ['1-8 4/4; ending 1 at 7-8; ending 2 at 8', 'ending-overlap', 1, 39],
    ['1-8 4/4 0 times', 'repeat-times-absurd', 1, 9],
    ['1-8 4/4; ending 0 at 8', 'ending-number-absurd', 1, 19],
    ['3/4 17-24', 'metre-without-bars', 1, 1],
    ['1-8\u0000 4/4', 'not-text', 1, 4],
    ['1-8 4/4; fermata at 4', 'word-unknown', 1, 18],
    ['1-8 4/4; fermata after', 'bar-number-missing', 1, 23],
    // What stands at bar lines stands nowhere inside a bar.
    ['1-8 4/4; fermata after 4+1/4', 'word-unknown', 1, 25],
    ['1-8 4/4; double line at 4+1/4', 'word-unknown', 1, 26],
    ['1-8 4/4; D.C. at 4+1/4', 'word-unknown', 1, 19],
    ['1-8 4/4; repeat 1-4+1/4', 'word-unknown', 1, 20],
  ])('refuses %j by %s at its place', (text, code, line, column) => {
    const error = refusal(text);
    expect({ code: error.code, line: error.line, column: error.column }).toEqual({ code, line, column });
  });

  it('suggests the word that was meant', () => {
    expect(refusal('1-8 4/4; fermta after 4').message).toContain('"fermata"');
    expect(refusal('pickpu 1/4').message).toContain('"pickup"');
    expect(refusal('1-8 4/4 twcie').message).toContain('"twice"');
    expect(refusal('1-8 4/4 tiwce').message).toContain('"twice"');
    expect(refusal('1-8 4/4; rpeeat 1-4').message).toContain('"repeat"');
  });

  it('asks about what it takes as it stands', () => {
    expect(codes('1-8 4/4; 12-16')).toEqual(['bar-numbers-gap']);
    expect(codes('1-8 5/7')).toEqual(['metre-unusual']);
    expect(codes('1 4/4; tempo 1/4=4000')).toEqual(['tempo-absurd']);
    expect(codes('1 4/4; D.C. al fine at 1')).toEqual(['fine-missing']);
    expect(codes('1 4/4; 1 4/4 renumbered; mark A at 1')).toEqual(['bar-number-ambiguous']);
  });

  it('is known by its content', () => {
    for (const text of [
      example,
      '# our trio\ntitle X\n16 bars C',
      '1-16 0/4',
      '1-8 4/4; nonsense',
      '1–1000000000 4/4',
      // A slip is told with its place, and not taken for prose.
      '1-16 4/4 twise',
      'tempo 1/4=90\n1-16 4/4 twcie',
      '1-16 4/4 tiwce; tempo 1/4=92',
      'pickpu 1/4; bars 1 to 16 in 3+2/8 twcie',
      '16 bars 3/4 tiwce',
      'our trio\n1–16\t4/4 repeated',
      'tempo 1/4=92',
      'pickup quarter nicely',
    ])
      expect(looksLikeBarPlan(text), text).toBe(true);
    for (const text of [
      '',
      '<?xml version="1.0"?><score-partwise/>',
      'X:1\nM:4/4\n1-8 4/4',
      '**kern\n*M4/4',
      'MThd\u0000\u0000\u0000\u0006',
      '12 bars of soap and 3/4 of a pound',
      'The upbeat music of the day; 1-2 weeks',
      // Prose, tables, settings and code with ranges, fractions and words of a plan in them
      'Pancakes\n2-3 1/2 cups of flour\nMix well\nLeave for 1-2 hours',
      'In bars 1-16 4/4 is written, and played twice.',
      'week,from,to\n1,1-16,4/4\n2,17-24,3/4',
      'date;score\n10-12 3/4/2021;2-1\n11-12 3/4/2021;1-0',
      'tempo: 120\ninstrument: piano',
      'tempo = 120; pickup = 1',
      'repeat 4 [fd 100 rt 90]',
      'x = 1-16 * 4/4;\nreturn x;',
      '1-16 4/7 of them',
      '20-25 C today',
      'pickup line 1/4 of the time',
      'old habits = new habits',
    ])
      expect(looksLikeBarPlan(text), text).toBe(false);
  });

  it('reads back what it writes, for any structure of bars', () => {
    fc.assert(
      fc.property(barStructures, (score) => {
        const { text, problems } = writeBarPlan(score);
        expect(problems).toEqual([]);
        const back = read(text);
        expect(back).toEqual({ ...score, source: 'barplan' });
      }),
      { numRuns: 600, seed: 20 },
    );
  });

  it('writes in a musician’s words', () => {
    expect(writeBarPlan(read(example)).text).toBe('pickup 1/4; 1-16 4/4 twice; 17-24 3/4\ntempo 1/4=92\n');
  });

  it('tells that notes and bars beyond its limits are not in it', () => {
    const score = read('1 4/4');
    const part = { ...score, parts: [{} as Score['parts'][number]] };
    expect(writeBarPlan(part).problems.map(({ code }) => code)).toEqual(['not-kept']);
    const [bar] = score.bars;
    if (bar === undefined) throw new Error('no bar');
    const absurd = {
      ...bar,
      metre: { components: [{ numerators: [1234], unit: 4 }], symbol: 'numbers' as const },
    };
    expect(writeBarPlan({ ...score, bars: [absurd] }).problems).toMatchObject([
      { code: 'not-kept', message: expect.stringContaining('1234/4') as string },
    ]);
  });

  it('answers in bounded time where the text asks for endless work', () => {
    expect(codes(`1-100000 4/4;${'1-100000 twice;'.repeat(60_000)}`)).toEqual(['too-many-bars']);
    expect(codes(`1 ${'1+'.repeat(400_000)}1/4`)).toEqual(['metre-unreadable']);
  });

  it('survives 1,000 mutated plans', () => fuzzBarPlans(1, 1000));
});
