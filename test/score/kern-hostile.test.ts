/** Kern files that are damaged, contradict themselves or are made to harm: an error in words or a score that holds together. */
import { describe, expect, test } from 'vitest';
import { readKern } from '../../src/score/read/kern/index.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { F } from '../../src/units/index.ts';
import { columns, notes, read } from './kern-examples.ts';
import { fuzzKern } from './kern-fuzz.ts';
import { checkScore } from './musicxml-fuzz.ts';

const refusal = (text: string): string => {
  const result = readKern(text);
  if (result.ok) {
    checkScore(result.value);
    return `read: ${result.problems.map(({ code }) => code).join()}`;
  }
  expect(result.error.message).toMatch(/\S.*\S.*[.:]/s);
  return result.error.code;
};
const row = (token: string, count: number): string =>
  `${Array.from({ length: count }, () => token).join('\t')}\n`;

describe('too much of anything', () => {
  test('a hundred thousand columns', () => {
    expect(refusal(row('**kern', 100_000) + row('4c', 100_000))).toBe('file-too-large');
  });

  test('columns that double with every line', () => {
    let text = '**kern\n';
    for (let line = 0; line < 16; line += 1) text += row('*^', 2 ** line);
    expect(refusal(text)).toBe('file-too-large');
  });

  test('columns that are added without end', () => {
    let text = '**kern\n';
    for (let line = 0; line < 20_000; line += 1) text += line % 2 === 0 ? '*+\n' : '*\t*-\n';
    expect(refusal(text)).toBe('file-too-large');
  });

  test('a bar line on every line, in many parts', () => {
    expect(refusal(row('**kern', 900) + (row('.', 900) + row('=', 900)).repeat(2300))).toBe('file-too-large');
  });

  test('fifty thousand notes in one bar and in many', () => {
    expect(refusal(`**kern\n${'8c\n'.repeat(50_000)}*-\n`)).toBe(
      'read: bars-counted,metre-assumed,bar-overfull',
    );
    expect(refusal(`**kern\n*M4/4\n${'=\n4c\n4d\n4e\n4f\n'.repeat(12_500)}==\n*-\n`)).toBe(
      'read: bars-counted',
    );
  });

  test('lengths by ever other primes', () => {
    const primes = Array.from({ length: 4000 }, (_, n) => n + 3).filter((n) =>
      Array.from({ length: Math.floor(Math.sqrt(n)) - 1 }, (_, k) => k + 2).every((k) => n % k !== 0),
    );
    expect(refusal(`**kern\n${primes.map((n) => `${n}c`).join('\n')}\n*-\n`)).toBe('divisions-absurd');
  });

  test('signs, slurs, words and list items in thousands', () => {
    const result = read(
      `**kern\n*>[${'A,'.repeat(5000)}A]\n*>A\n4c${'('.repeat(5000)}\n${'!LO:TX:t=a\n'.repeat(2000)}4d${'L'.repeat(5000)}${"'".repeat(5000)}\n4e${'&'.repeat(5000)}(\n4f ${'4g '.repeat(5000)}\n*-\n`,
    );
    checkScore(result.score);
    expect(result.problems.length).toBeLessThan(100);
  });
});

describe('what contradicts itself', () => {
  test('lengths that do not agree: each by its own, together again at the bar line', () => {
    const off = columns('**kern **kern\n*M4/4 *M4/4\n=1 =1\n2C 2c\n4D 8d\n4E 4e\n=2 =2\n1F 1f\n== ==\n*- *-');
    const told = off.problems.find(({ code }) => code === 'kern-misaligned');
    expect(told).toMatchObject({ severity: 'repair', bar: '1', line: 6 });
    expect(notes(off, 0)).toEqual(['1 0 1/2 60', '1 1/2 1/8 62', '1 5/8 1/4 64', '2 0 1 65']);
    expect(off.score.bars.map(({ length }) => F.format(length))).toEqual(['1', '1']);
  });

  test('lines with too few and too many columns', () => {
    const few = columns('**kern **kern\n4C 4c\n4D\n4E 4e 4g\n*- *-');
    expect(few.problems.filter(({ code }) => code === 'kern-columns-wrong').map(({ line }) => line)).toEqual([
      3, 4,
    ]);
    expect(few.score.parts.map((part) => part.notes.length)).toEqual([2, 3]);
    // Where the columns themselves change, nothing after it could be told apart.
    expect(refusal('**kern\t**kern\n4C\t4c\n*^\n4D\t4d\t4e\n*-\t*-\t*-\n')).toBe('kern-columns-lost');
  });

  test('doubled tabs line columns up and mean nothing', () => {
    const wide = read('**kern\t\t**kern\n4C\t\t4c\n4D\t4d\t\n*-\t\t*-\n');
    expect(wide.score.parts.map((part) => part.notes.length)).toEqual([2, 2]);
    expect(wide.codes).not.toContain('kern-columns-wrong');
  });

  test('notes that can not be read, without length, of absurd length', () => {
    const bad = columns('**kern\n*M4/4\n=1\n4c\nzz\n4h\n9999999c\n4c8\nd\n4e\n4c_~_d\n==\n*-');
    expect(bad.codes.filter((code) => /^(pitch|duration)/.test(code))).toEqual([
      'pitch-unreadable',
      'pitch-unreadable',
      'duration-out-of-range',
      'duration-unreadable',
      'duration-missing',
      'duration-missing',
    ]);
    // "4h" keeps its time; the second note of the chord lasts as long as the first.
    expect(notes(bad)).toEqual(['1 0 1/4 60', '1 1/2 1/4 64', '1 3/4 1/4 60', '1 3/4 1/4 62']);
  });

  test('a chord of two lengths', () => {
    const uneven = columns('**kern\n*M2/4\n=1\n4c_~_2e\n4d\n==\n*-');
    expect(notes(uneven)).toEqual(['1 0 1/4 60', '1 0 1/2 64', '1 1/4 1/4 62']);
    expect(uneven.codes).toEqual(['chord-lengths-differ']);
  });

  test('ties and slurs that lead nowhere, a file that breaks off', () => {
    const open = columns('**kern\n*M4/4\n=1\n[4c\n4d]\n(4e\n4f');
    expect(open.codes).toEqual(['file-truncated', 'slur-unpaired', 'tie-without-start', 'tie-not-ended']);
  });

  test('signs that can not be read: metre, key, clef, tempo, transposition', () => {
    const odd = columns(
      '**kern\n*M0/4\n*M4/4\n*k[f#e-]\n*clefQ3\n*MM0\n*ITrfoo\n*Trd1c2\n*nonsense\n=1\n1c\n==\n*-',
    );
    expect(odd.codes).toEqual([
      'metre-unreadable',
      'clef-unknown',
      'tempo-unreadable',
      'transpose-unreadable',
      'score-transposed',
      'not-kept',
      'not-kept',
    ]);
  });
});

describe('text', () => {
  const plain = '!!!OTL: Gr\u00fc\u00dfe\n**kern\n*M2/4\n=1\n4c\n4d\n==\n*-\n';

  test.each([
    ['carriage returns', plain.replaceAll('\n', '\r')],
    ['both', plain.replaceAll('\n', '\r\n')],
    ['mixed, blank lines between', plain.replace('\n=1', '\r\n\r\n=1').replace('\n4d', '\r4d')],
    ['a byte order mark', `\ufeff${plain}`],
    ['white space at line ends', plain.replaceAll('\n', '\t\n')],
  ])('line ends and marks: %s', (_, text) => {
    const result = readScore(new TextEncoder().encode(text));
    if (!result.ok) throw new Error(result.error.message);
    expect(result.value.title).toBe('Gr\u00fc\u00dfe');
    expect(result.value.parts[0]?.notes).toHaveLength(2);
    expect(result.problems).toEqual([]);
  });

  test('bytes of value zero are passed over and told', () => {
    const nul = read(plain.replace('4d', '4\0d\0'));
    expect(nul.score.parts[0]?.notes).toHaveLength(2);
    expect(nul.codes).toEqual(['not-text']);
  });

  test('windows-1252 instead of UTF-8', () => {
    const result = readScore(Uint8Array.from(Buffer.from(plain, 'latin1')));
    expect(result.ok && result.value.title).toBe('Gr\u00fc\u00dfe');
    expect(result.ok && result.problems.map(({ code }) => code)).toEqual(['encoding-wrong']);
  });

  test('nothing to read', () => {
    expect(refusal('')).toBe('no-bars');
    expect(refusal('**kern\n*-\n')).toBe('no-bars');
    expect(refusal('**text\nla\n*-\n')).toBe('no-bars');
    expect(refusal('4c\n**kern\n4d\n*-\n')).toMatch(/^read: kern-columns-wrong/);
  });
});

test('1,000 mutations: a score that holds together, or an error', () => {
  const { read: good, refused } = fuzzKern(5, 1000);
  expect(good + refused).toBe(1000);
  expect(good).toBeGreaterThan(200);
  expect(refused).toBeGreaterThan(100);
});
