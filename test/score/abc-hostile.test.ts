/** ABC that is broken, absurd or made to harm: read as far as it goes, each trouble told in plain words with its place. */
import { describe, expect, test } from 'vitest';
import { readAbc } from '../../src/score/read/abc/index.ts';
import { F } from '../../src/units/index.ts';
import { codes, lengths, pitches, readText, tune } from './abc-fragments.ts';
import { fuzzAbc } from './abc-fuzz.ts';
import { checkScore } from './musicxml-fuzz.ts';

describe('what is wrong is told', () => {
  test.each([
    ['C99999999999 D|', 'duration-out-of-range'],
    ['C0 D/0|', 'duration-out-of-range'],
    ['(99999 CDE|', 'tuplet-unreadable'],
    ['(3 CD|', 'tuplet-unreadable'],
    ['Z1000000000|', 'too-many-bars'],
    ['[CEG D|', 'bracket-unclosed'],
    ['{CEG D|', 'bracket-unclosed'],
    ['"words D|', 'bracket-unclosed'],
    ['[K:G D|', 'bracket-unclosed'],
    ['(CDE|', 'slur-unpaired'],
    ['CDE)|', 'slur-unpaired'],
    ['C4-|D4|', 'tie-not-ended'],
    ['-C4|', 'music-unreadable'],
    ['^ C4|', 'music-unreadable'],
    ['> C4|', 'music-unreadable'],
    ["C''''''''''|", 'pitch-unreadable'],
    ['[M:0/4]C4|', 'metre-unreadable'],
    ['[M:4/0]C4|', 'metre-unreadable'],
    ['[M:x]C4|', 'metre-unreadable'],
    ['[L:0]C4|', 'unit-length-unreadable'],
    ['[Q:0]C4|', 'tempo-unreadable'],
    ['[Q:1/4=fast]C4|', 'tempo-unreadable'],
    ['[K:H]C4|', 'key-unreadable'],
    ['[V:]C4|', 'voice-unnamed'],
    ['C4|[0 D4:|', 'ending-number-absurd'],
    ['C2[1 D2:|', 'ending-mid-bar'],
    ['C4 Z|', 'bar-rest-mid-bar'],
    ['C4|D4|:', 'repeat-nothing'],
    [':|C4|', 'repeat-nothing'],
    ['[V:1]C4|\n[V:2]C2|', 'bar-lengths-differ'],
    ['[V:1]C4|D4|\n[V:2]C4|', 'part-lacks-bars'],
    ['C4 \u0000 D4|', 'music-unreadable'],
    ['&&& C4|D4|', 'music-unreadable'],
  ])('%j: %s', (body, code) => {
    const read = tune(body);
    checkScore(read.score);
    expect(codes(read)).toContain(code);
    for (const { message } of read.problems) expect(message).toMatch(/^[A-Z"%].*[.]$/s);
  });

  test('with its line and column', () => {
    const [wrong] = readText('X:1\nT:A\nM:4/4\nK:C\nCDEF|\nGA [CEG c|\n').problems;
    expect(wrong).toMatchObject({ code: 'bracket-unclosed', line: 6, column: 4 });
  });

  test('what is beside it is read', () => {
    expect(pitches(tune('C [DE F|G'))).toBe('C4 D4 E4 F4 G4');
    expect(lengths(tune('C9999999999999 D2|', 'M:none\nL:1/8'))).toBe('1/8 1/4');
  });
});

test('nothing to read is an error', () => {
  for (const text of ['', '%abc-2.1\n', 'X:1\nT:Nothing\nK:C\n', 'X:1\nK:C\n|||\n']) {
    const result = readAbc(text);
    expect(result.ok ? 'read' : result.error.code).toBe('no-bars');
  }
  const crowd = Array.from({ length: 300 }, (_, index) => `[V:${index}]C4|`).join('\n');
  const result = readAbc(`X:1\nK:C\n${crowd}\n`);
  expect(result.ok ? 'read' : result.error.code).toBe('file-too-large');
});

describe('pathological texts are read in one go', () => {
  const many = 100_000;
  test.each([
    ['slurs', `${'('.repeat(many)}C${')'.repeat(many)}`],
    ['brackets', '['.repeat(many)],
    ['braces', '{'.repeat(many)],
    ['quotes behind backslashes', `"${'\\"'.repeat(many)}`],
    ['exclamation marks', '!'.repeat(many)],
    ['tuplets', `${'(3'.repeat(many)}CDE|`],
    ['overlays', `${'C & '.repeat(many)}|`],
    ['ampersands', `C|${'&'.repeat(many)}`],
    ['ties', 'C-'.repeat(many)],
    ['one chord', `[${'C'.repeat(many)}]-[${'C'.repeat(many)}]`],
    ['accidentals', '^'.repeat(many)],
    ['endings', `C4|${'[1'.repeat(many)}`],
    ['nonsense', '#§é'.repeat(many)],
    ['voices that alternate', '[V:1]C[V:2]D'.repeat(many / 10)],
    ['held syllables', `C\nw: a${'_'.repeat(many)}.`],
    ['syllables', `C\nw: ${'a-'.repeat(many)}`],
    ['symbols', `C\ns: ${'!p! '.repeat(many)}`],
    ['annotations', `${'"^a"'.repeat(many)}C${')'.repeat(many)}`],
  ])('%s', (_, body) => {
    const result = readAbc(`X:1\nT:A\nM:4/4\nL:1/8\nK:C\n${body}\n`);
    if (result.ok) {
      // Whatever is wrong a hundred thousand times is not told a hundred thousand times.
      expect(result.problems.length).toBeLessThan(500);
      expect(result.value.bars.every(({ length }) => F.isPositive(length))).toBe(true);
    } else expect(result.error.message).toMatch(/[.]$/);
  });

  test.each([
    ['an order of parts', `P:${'('.repeat(500)}A${')9999'.repeat(90)}`],
    ['a grouping', `%%score ${'('.repeat(many)}`],
    ['macros', Array.from({ length: 200 }, () => 'm: ~n2 = nnnnnnnn').join('\n')],
    ['fields', 'N:x\n'.repeat(many).trimEnd()],
    ['titles', 'T:x\n'.repeat(many).trimEnd()],
    ['voices', 'V:1 name="A"\n'.repeat(many).trimEnd()],
  ])('%s in the header', (_, field) => {
    const result = readAbc(`X:1\nT:A\n${field}\nM:4/4\nK:C\nP:A\nC~D2|\n`);
    expect(result.ok).toBe(true);
  });
});

test('a thousand mutations of ABC files: a score that holds together, or an error', () => {
  const { read, refused } = fuzzAbc(3, 1000);
  expect(read + refused).toBe(1000);
  expect(read).toBeGreaterThan(700);
});
