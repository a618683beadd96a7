/**
 * Mutations of ABC files: bytes changed, pieces cut, doubled and spliced, signs of the notation put anywhere, fields
 * swapped. The reader answers with a Result, and a score holds together.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import { readAbc } from '../../src/score/read/abc/index.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { seeded, type Random } from '../../src/units/index.ts';
import { canzonetta, english, everything, reels, strathspeys, zocharti } from './abc-examples.ts';
import { checkScore } from './musicxml-fuzz.ts';

const own = (name: string): string =>
  readFileSync(path.resolve(import.meta.dirname, 'formats', name), 'utf8');
const seeds: readonly string[] = [
  english,
  strathspeys,
  reels,
  canzonetta,
  zocharti,
  everything,
  everything,
  own('odd.abc'),
  own('lanterns.abc').slice(0, 2000),
];

const signs = [
  '|', '||', '|:', ':|', '::', '[1', '[2', '|1', ':|2', '[', ']', '(', ')', '{', '}', '-', '>', '<<', '"', '!', '+',
  '&', '&&', '(3', '(3:2:1', '(9', '(0', '(99999', 'Z', 'Z1000000000', 'X3', 'z99/7', 'C,,,,,,,,,,', "c''''''''''", '^^',
  '_/', '=', 'A999999999', 'B/0', 'c////////////////', '[CEG]2', '[K:Am]', '[M:5/8]', '[M:0/4]', '[M:4/0]', '[L:0]', '[Q:0]',
  '[V:9]', '[V:]', '[P:B]', '[I:setbarnb 7]', '\n', '\r', '\r\n', '\n\n', '\\\n', '%', '%%', '\nX:9\n', '\nK:\n', '\nK:F#phr ^g\n',
  '\nV:2 clef=bass middle=d transpose=-24\n', '\nw: a-b_ * | c\n', '\ns: !f! * "^x"\n', '\nM:none\n', '\nL:1/3\n', '\nQ:1/4=1e9\n',
  '\n%%score (1 2) {3 | 4}\n', '\n%%staves [}\n', '\nU: T = !coda!\n', '\nm: n2 = nnnn\n', '\n+: more\n', '!fermata!', '!D.C.!', '!<(!', '!>)!',
  '\u0000', '\u00e9', '\ud83c', '$', '`', 'y', '.', '~', '#', '*', ';', '@',
]; // prettier-ignore

const below = (random: Random, count: number): number => Math.floor(random() * count);

const mutated = (text: string, other: string, random: Random): string => {
  const from = below(random, text.length);
  const to = Math.min(text.length, from + 1 + below(random, 60));
  const sign = signs[below(random, signs.length)] ?? '';
  switch (below(random, 7)) {
    case 0:
      return text.slice(0, from) + text.slice(to);
    case 1:
      return text.slice(0, to) + text.slice(from);
    case 2: {
      const at = below(random, other.length);
      return text.slice(0, from) + other.slice(at, at + below(random, 200)) + text.slice(to);
    }
    case 3:
      return text.slice(0, from) + String.fromCharCode(below(random, 128)) + text.slice(from + 1);
    case 4:
      return text.slice(0, from) + sign.repeat(1 + below(random, 4)) + text.slice(from);
    default:
      return text.slice(0, from) + sign + text.slice(from);
  }
};

/** Milliseconds: far more than any of the small files takes, so that only a hang or a blow-up is caught. */
const patience = 20_000;

/** Reads `count` mutated files. Throws what a failed expectation throws, after naming seed and round. */
export const fuzzAbc = (seed: number, count: number): { read: number; refused: number } => {
  console.log(`Fuzzing the ABC reader with seed ${seed}, ${count} inputs.`);
  const random = seeded(seed);
  const pick = (): string => seeds[below(random, seeds.length)] ?? '';
  const totals = { read: 0, refused: 0 };
  for (let round = 0; round < count; round += 1) {
    let text = pick();
    for (let edits = 1 + below(random, 8); edits > 0; edits -= 1) text = mutated(text, pick(), random);
    // Some by their bytes, which decides on the kind first; the rest straight to the reader.
    const bytes = random() < 0.3 ? new TextEncoder().encode(text) : null;
    if (bytes !== null && random() < 0.5) bytes[below(random, bytes.length)] = below(random, 256);
    try {
      const before = performance.now();
      const result = bytes === null ? readAbc(text) : readScore(bytes);
      expect(performance.now() - before, 'no hang').toBeLessThan(patience);
      if (result.ok) {
        totals.read += 1;
        checkScore(result.value);
      } else {
        totals.refused += 1;
        expect(result.error.severity).toBe('error');
        expect(result.error.message).toMatch(/\S.*\S.*[.:]/s);
      }
    } catch (error) {
      console.log(`Seed ${seed}, round ${round}:\n${text.slice(0, 20_000)}`);
      throw error;
    }
  }
  return totals;
};
