/**
 * Mutations of kern files: byte flips, cuts and splices, lines swapped or doubled, columns lost, signs changed, spine paths put
 * in at random. The reader answers with a Result, and a score holds together.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import type { Score } from '../../src/score/model.ts';
import { readKern } from '../../src/score/read/kern/index.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { seeded, type Random } from '../../src/units/index.ts';
import { examples, tabbed } from './kern-examples.ts';
import { randomKern } from './kern-random.ts';
import { checkScore } from './musicxml-fuzz.ts';

const below = (random: Random, count: number): number => Math.floor(random() * count);

const seeds = (random: Random): readonly string[] => {
  const formats = path.resolve('test', 'score', 'formats');
  return [
    ...Object.values(examples).map(tabbed),
    ...Array.from({ length: 20 }, () => randomKern(random)),
    readFileSync(path.join(formats, 'lanterns.krn'), 'utf8'),
    readFileSync(path.join(formats, 'odd.krn'), 'utf8'),
  ];
};

const strange: readonly string[] = [
  '*^',
  '*v',
  '*x',
  '*+',
  '*-',
  '**kern',
  '**text',
  '*',
  '.',
  '!',
  '=',
  '==:|!',
  '=99999999999',
  '=-',
  '=:|!|:',
  '*M0/4',
  '*M4/0',
  '*MX',
  '*M999/1',
  '*met(c|)',
  '*k[f#g-]',
  '*ITrd99c-199',
  '*MM0',
  '*MM1e9',
  '*>A',
  '*>[A,A,B]',
  '*>A1',
  '*cue',
  '*ossia',
  '*Xossia',
  '*S/1',
  '*8va',
  '*X8va',
  '*clefX',
  '*clefQ9',
  '*staff99',
  '*part0',
  '999999c',
  '0.........c',
  '3%0c',
  '0%3c',
  '1%999999c',
  '4ccccccccccc',
  '4c######',
  '4ee-#',
  '[4c',
  '4c]',
  '4c_',
  '((((4c',
  '4c))))',
  '&&&(4c',
  'LLLLLLLLLL8c',
  'q',
  '4q',
  '4rq',
  '4rr',
  '00rr',
  '4c 8d 16e',
  ' ',
  '4c  4d',
  '@@16@@4c',
  '4cyy',
  '!LO:TX:t=D.C. al Fine',
  '!LO:TX:t=[segno]',
  '!LO:REH:t=A',
  '!!!OMD: Presto [quarter] = c. 300',
  '\u0663',
  '\0',
  '<',
  '[',
  ']',
];

const bytesMutated = (input: Uint8Array, other: Uint8Array, random: Random): Uint8Array => {
  const from = below(random, input.length);
  const to = Math.min(input.length, from + 1 + below(random, 200));
  switch (below(random, 4)) {
    case 0: {
      const flipped = input.slice();
      for (let n = below(random, 4); n >= 0; n -= 1)
        flipped[below(random, flipped.length)] = below(random, 256);
      return flipped;
    }
    case 1:
      return Uint8Array.from(Buffer.concat([input.slice(0, from), input.slice(to)]));
    case 2:
      return Uint8Array.from(Buffer.concat([input.slice(0, to), input.slice(from)]));
    default:
      return Uint8Array.from(Buffer.concat([input.slice(0, from), other.slice(below(random, other.length))]));
  }
};

const linesMutated = (text: string, random: Random): string => {
  const lines = text.split('\n');
  const at = below(random, lines.length);
  const other = below(random, lines.length);
  const tokens = (lines[at] ?? '').split('\t');
  const column = below(random, tokens.length);
  const odd = strange[below(random, strange.length)] ?? '';
  switch (below(random, 8)) {
    case 0:
      lines.splice(at, 1);
      break;
    case 1:
      lines.splice(at, 0, lines[other] ?? '');
      break;
    case 2:
      [lines[at], lines[other]] = [lines[other] ?? '', lines[at] ?? ''];
      break;
    case 3:
      tokens.splice(column, 1);
      lines[at] = tokens.join('\t');
      break;
    case 4:
      lines.splice(at, 0, tokens.map(() => odd).join('\t'));
      break;
    case 5:
      lines.splice(
        at,
        0,
        tokens.map((_, index) => (index === column ? odd : odd.startsWith('*') ? '*' : '.')).join('\t'),
      );
      break;
    default:
      tokens[column] = random() < 0.5 ? odd : `${tokens[column] ?? ''}${odd}`;
      lines[at] = tokens.join('\t');
  }
  return lines.join(['\n', '\r\n', '\r'][below(random, 12)] ?? '\n');
};

const mutated = (input: string, other: string, random: Random): Uint8Array => {
  const encode = (text: string): Uint8Array => new TextEncoder().encode(text);
  if (random() < 0.3) return bytesMutated(encode(input), encode(other), random);
  let text = input;
  for (let edits = 1 + below(random, 6); edits > 0; edits -= 1) text = linesMutated(text, random);
  return encode(text);
};

/** Milliseconds: far more than any of the small files takes, so that only a hang or a blow-up is caught. */
const patience = 20_000;

/** Reads `count` mutated files; `use` is handed each score that comes of them. Throws after naming seed and round. */
export const fuzzKern = (
  seed: number,
  count: number,
  use: (score: Score, random: Random) => void = () => undefined,
): { read: number; refused: number } => {
  console.log(`Fuzzing the kern reader with seed ${seed}, ${count} inputs.`);
  const random = seeded(seed);
  const originals = seeds(random);
  const pick = (): string => originals[below(random, originals.length)] ?? '';
  const totals = { read: 0, refused: 0 };
  for (let round = 0; round < count; round += 1) {
    const input = mutated(pick(), pick(), random);
    try {
      const before = performance.now();
      // Half of them past the recognition by content, so that broken beginnings reach the reader too.
      const result = round % 2 === 0 ? readScore(input) : readKern(new TextDecoder().decode(input));
      expect(performance.now() - before, 'no hang').toBeLessThan(patience);
      if (result.ok) {
        totals.read += 1;
        checkScore(result.value);
        for (const { message } of result.problems) expect(message).toMatch(/\S.*\S.*[.:]/s);
        use(result.value, random);
      } else {
        totals.refused += 1;
        expect(result.error.severity).toBe('error');
        expect(result.error.message).toMatch(/\S.*\S.*[.:]/s);
      }
    } catch (error) {
      console.log(`Seed ${seed}, round ${round}:\n${new TextDecoder().decode(input).slice(0, 20_000)}`);
      throw error;
    }
  }
  return totals;
};
