/**
 * Mutations of real files: byte flips, deletions, duplications, splices, and whole elements swapped or numbers
 * changed, so that the XML stays whole and the music breaks. The reader answers with a Result, and a score holds together.
 */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import type { Score } from '../../src/score/model.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { F, seeded, type Random } from '../../src/units/index.ts';
import { sharedData } from '../shared.ts';
import { attributes, fullBar, measure, note, onePart, time } from './musicxml-fragments.ts';

const own = onePart(
  measure('0', attributes(4, time(3, 4)) + note('G4', 4), 'implicit="yes"') +
    measure(
      '1',
      `<sound tempo="90"/>${note('C4', 12, '<tie type="start"/>')}<barline location="right"><repeat direction="backward"/></barline>`,
    ) +
    measure(
      '2',
      note('C4', 12, '<tie type="stop"/>') + '<backup><duration>12</duration></backup>' + note('r', 12),
    ) +
    measure('3', `<attributes>${time(4, 4)}</attributes>${fullBar()}`),
);

/** Small files, so that a thousand are quick: up to 30 kB each. */
const seeds = (): readonly Uint8Array[] => {
  const mine = [new TextEncoder().encode(own)];
  if (sharedData === null) return mine;
  const folder = path.join(sharedData, 'scores', 'musicxml-suite');
  const files = readdirSync(folder)
    .sort()
    .map((name) => path.join(folder, name))
    .filter((file) => /\.(xml|mxl)$/.test(file) && statSync(file).size < 30_000);
  return [...mine, ...files.map((file) => new Uint8Array(readFileSync(file)))];
};

const below = (random: Random, count: number): number => Math.floor(random() * count);
const joined = (...pieces: readonly Uint8Array[]): Uint8Array => Uint8Array.from(Buffer.concat(pieces));

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
      return joined(input.slice(0, from), input.slice(to));
    case 2:
      return joined(input.slice(0, to), input.slice(from));
    default:
      return joined(input.slice(0, from), other.slice(below(random, other.length)));
  }
};

const strange = [
  '0',
  '-1',
  '',
  '1e9',
  '0.5',
  '999999999999',
  'NaN',
  '1/3',
  '\u0663',
  '3+2',
  'yes',
  'P1',
  '17',
  '1024',
  // Names that every object of the language has.
  'constructor',
  '__proto__',
  'toString',
];
const elements =
  /<(\w[\w-]*)(?:\s[^<>]*)?>[^<>]*<\/\1>|<(?:note|measure|barline|attributes|direction|backup|forward)\b[\s\S]*?<\/(?:note|measure|barline|attributes|direction|backup|forward)>/g;

const textMutated = (text: string, random: Random): string => {
  const found = [...text.matchAll(elements)];
  const pick = () => found[below(random, found.length)];
  const one = pick();
  const two = pick();
  if (one === undefined || two === undefined) return text;
  const cut = (put: string): string => text.slice(0, one.index) + put + text.slice(one.index + one[0].length);
  switch (below(random, 4)) {
    case 0:
      return cut('');
    case 1:
      return cut(one[0] + one[0]);
    case 2:
      return cut(two[0]);
    default:
      return cut(one[0].replace(/>[^<>]*</, `>${strange[below(random, strange.length)] ?? ''}<`));
  }
};

const mutated = (input: Uint8Array, other: Uint8Array, random: Random): Uint8Array => {
  // Packed files only bear changes of bytes.
  if (input[0] === 0x50 || random() < 0.4) return bytesMutated(input, other, random);
  let text = new TextDecoder().decode(input);
  for (let edits = 1 + below(random, 6); edits > 0; edits -= 1) text = textMutated(text, random);
  return new TextEncoder().encode(text);
};

/** A claim about one of many notes: what is claimed is put in words only where it does not hold. */
const holds = (is: boolean, claim: () => string): void => {
  if (!is) expect.fail(claim());
};

/** What every score promises: see the docstrings of src/score/model.ts and notes.ts. */
export const checkScore = (score: Score): void => {
  expect(score.bars.length).toBeGreaterThan(0);
  let end = F.zero;
  for (const [index, bar] of score.bars.entries()) {
    holds(bar.index === index, () => `bar ${index} has the index ${bar.index}`);
    holds(F.equal(bar.start, end), () => `bar ${index} does not begin where the one before it ends`);
    holds(F.isPositive(bar.length), () => `bar ${index} has no length`);
    holds(bar.repeatEnd === 0 || bar.repeatEnd >= 2, () => `bar ${index} is repeated ${bar.repeatEnd} times`);
    end = F.add(bar.start, bar.length);
  }
  const inside = (at: F.Fraction): boolean => at.n >= 0n && F.atMost(at, end);
  const ids = new Set<string>();
  for (const part of score.parts) {
    expect(part.id).toMatch(/^[A-Za-z][\w-]*$/);
    for (const written of part.written) {
      holds(!ids.has(written.id), () => `the id ${written.id} is there twice`);
      ids.add(written.id);
      const bar = score.bars[written.bar];
      if (bar === undefined) throw new Error('a note stands in no bar');
      const barEnd = F.add(bar.start, bar.length);
      const noteEnd = F.add(written.onset, written.duration);
      holds(
        F.atMost(bar.start, written.onset) && F.atMost(noteEnd, barEnd),
        () => `${written.id} is not in its bar`,
      );
      holds(
        written.kind === 'grace' || F.isPositive(written.duration) || written.kind === 'rest',
        () => `${written.id} has no duration`,
      );
    }
    for (const sounding of part.notes) {
      holds(F.isPositive(sounding.duration), () => `a note of ${part.id} has no duration`);
      holds(
        inside(sounding.onset) && inside(F.add(sounding.onset, sounding.duration)),
        () => `a note of ${part.id} is outside the piece`,
      );
    }
    for (const { at } of [...part.directions, ...part.clefs, ...part.keys, ...part.transpositions])
      holds(inside(at), () => `a sign of ${part.id} is outside the piece`);
  }
  for (const { at } of score.marks) holds(inside(at), () => 'a mark is outside the piece');
};

/** Milliseconds: far more than any of the small files takes, so that only a hang or a blow-up is caught. */
const patience = 20_000;

/**
 * Reads `count` mutated files; `use` is handed each score that comes of them. Throws what a failed expectation throws,
 * after naming seed and round.
 */
export const fuzzMusicXml = (
  seed: number,
  count: number,
  use: (score: Score, random: Random) => void = () => undefined,
): { read: number; refused: number } => {
  console.log(`Fuzzing the MusicXML reader with seed ${seed}, ${count} inputs.`);
  const random = seeded(seed);
  const originals = seeds();
  const pick = (): Uint8Array => originals[below(random, originals.length)] ?? new Uint8Array(0);
  const totals = { read: 0, refused: 0 };
  for (let round = 0; round < count; round += 1) {
    const input = mutated(pick(), pick(), random);
    try {
      const before = performance.now();
      const result = readScore(input);
      expect(performance.now() - before, 'no hang').toBeLessThan(patience);
      if (result.ok) {
        totals.read += 1;
        checkScore(result.value);
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
