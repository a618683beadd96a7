/**
 * Mutations of MEI files: byte flips, cuts and splices, elements swapped, doubled and lost, attributes given strange values or
 * exchanged. The reader answers with a Result, and a score holds together.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect } from 'vitest';
import type { Score } from '../../src/score/model.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { seeded, type Random } from '../../src/units/index.ts';
import { examples } from './mei-examples.ts';
import { checkScore } from './musicxml-fuzz.ts';

const below = (random: Random, count: number): number => Math.floor(random() * count);

const seeds = (): readonly string[] => {
  const formats = path.resolve('test', 'score', 'formats');
  const odd = readFileSync(path.join(formats, 'odd.mei'), 'utf8');
  return [
    ...Object.values(examples),
    readFileSync(path.join(formats, 'lanterns.mei'), 'utf8').slice(0, 30_000) + '</layer></staff></measure>',
    // Most often: it has one of everything.
    ...Array.from({ length: 6 }, () => odd),
  ];
};

const strange: readonly string[] = [
  '0',
  '-1',
  '',
  '1e9',
  '9999',
  '0.5',
  '999999999999',
  'NaN',
  '1/3',
  '\u0663',
  '3+2',
  'true',
  'false',
  '#e1',
  '#nowhere',
  'constructor',
  '__proto__',
  '2048',
  'breve',
  'x',
  'i',
  'mt',
  'rptboth',
  '0m+0',
  '9m+99',
  '1m+1.3333',
  'perc',
  'TAB',
  '7s',
];

const elements =
  /<(\w+)(?:\s[^<>]*)?\/>|<(\w+)(?:\s[^<>]*)?>[^<>]*<\/\2>|<(layer|staff|measure|chord|beam|tuplet)\b[\s\S]*?<\/\3>/g;
const attributes = /[\w.:]+="[^"<>]*"/g;
const names = [
  ...[
    'note',
    'rest',
    'chord',
    'space',
    'mRest',
    'mSpace',
    'multiRest',
    'mRpt',
    'mRpt2',
    'halfmRpt',
    'beatRpt',
  ],
  ...[
    'beam',
    'tuplet',
    'bTrem',
    'fTrem',
    'graceGrp',
    'clef',
    'keySig',
    'meterSig',
    'barLine',
    'app',
    'choice',
  ],
  ...[
    'ossia',
    'del',
    'supplied',
    'slur',
    'tie',
    'hairpin',
    'octave',
    'tupletSpan',
    'beamSpan',
    'fermata',
    'nonsense',
  ],
];

const textMutated = (text: string, other: string, random: Random): string => {
  const pattern = random() < 0.5 ? elements : attributes;
  const found = [...text.matchAll(pattern)];
  const one = found[below(random, found.length)];
  const two = found[below(random, found.length)];
  if (one === undefined || two === undefined) return text;
  const put = (what: string): string =>
    text.slice(0, one.index) + what + text.slice(one.index + one[0].length);
  if (pattern === elements)
    switch (below(random, 5)) {
      case 0:
        return put('');
      case 1:
        return put(one[0] + one[0]);
      case 2:
        return put(two[0]);
      case 3: {
        const foreign = [...other.matchAll(elements)];
        return put(foreign[below(random, foreign.length)]?.[0] ?? '');
      }
      default: {
        const name = names[below(random, names.length)] ?? 'note';
        return put(`<${name}>${one[0]}</${name}>`);
      }
    }
  const [name = ''] = one[0].split('=');
  const [otherName = ''] = two[0].split('=');
  // An attribute twice would only be broken XML.
  switch (below(random, 3)) {
    case 0:
      return put(`${name}="${strange[below(random, strange.length)] ?? ''}"`);
    case 1:
      return put(`${name}=${two[0].slice(otherName.length + 1)}`);
    default:
      return put('');
  }
};

const bytesMutated = (input: string, other: string, random: Random): Uint8Array => {
  const bytes = new TextEncoder().encode(input);
  const from = below(random, bytes.length);
  switch (below(random, 3)) {
    case 0:
      for (let n = below(random, 4); n >= 0; n -= 1) bytes[below(random, bytes.length)] = below(random, 256);
      return bytes;
    case 1:
      return bytes.slice(0, from);
    default:
      return new TextEncoder().encode(input.slice(0, from) + other.slice(below(random, other.length)));
  }
};

/** Milliseconds: far more than any of the small files takes, so that only a hang or a blow-up is caught. */
const patience = 20_000;

/** Reads `count` mutated files. Throws what a failed expectation throws, after naming seed and round. */
export const fuzzMei = (
  seed: number,
  count: number,
  use: (score: Score, random: Random) => void = () => undefined,
): { read: number; refused: number } => {
  console.log(`Fuzzing the MEI reader with seed ${seed}, ${count} inputs.`);
  const random = seeded(seed);
  const originals = seeds();
  const pick = (): string => originals[below(random, originals.length)] ?? '';
  const totals = { read: 0, refused: 0 };
  for (let round = 0; round < count; round += 1) {
    const [one, other] = [pick(), pick()];
    let text = one;
    for (let edits = 1 + below(random, 8); edits > 0; edits -= 1) text = textMutated(text, other, random);
    const input = random() < 0.15 ? bytesMutated(one, other, random) : new TextEncoder().encode(text);
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
      console.log(`Seed ${seed}, round ${round}:\n${new TextDecoder().decode(input).slice(0, 40_000)}`);
      throw error;
    }
  }
  return totals;
};
