import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { metre } from '../../src/score/metre.ts';
import type { Direction, Jump, Score } from '../../src/score/model.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { writeMusicXml } from '../../src/score/write/musicxml.ts';
import { note, plus } from '../../src/units/index.ts';
import { sharedData } from '../shared.ts';
import { barsOf, everything } from '../support/everything.ts';
import { randomScore } from '../support/randomScore.ts';
import { sameMusic } from '../support/sameMusic.ts';
import { cannotValidate, schemaErrors } from '../support/schema.ts';

const read = (text: string): Score => {
  const result = readScore(new TextEncoder().encode(text));
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};

const again = (score: Score): Score => read(writeMusicXml(score).text);

/** The score with the words that the writer gives to jumps which no direction says. */
const withJumpWords = (score: Score): Score => {
  const words: Readonly<Record<Jump['kind'], string>> = {
    segno: '',
    coda: '',
    dalSegno: 'D.S.',
    toCoda: 'To Coda',
    daCapo: 'D.C.',
    fine: 'Fine',
  };
  const directions = score.bars.flatMap(({ index, start, length, jumps }) =>
    jumps
      .filter(({ kind }) => words[kind] !== '')
      .map(({ kind }): Direction => ({
        at: plus(start, length),
        bar: index,
        staff: 1,
        kind: 'words',
        value: words[kind],
        number: 1,
        above: true,
      })),
  );
  return {
    ...score,
    parts: score.parts.map((part, index) => (index === 0 ? { ...part, directions } : part)),
  };
};

describe('a written score reads back as the same music', () => {
  it('for a score that uses every field of the model', () => {
    expect(sameMusic(withJumpWords(everything), again(everything))).toEqual([]);
  });

  it('for the same score with its jumps in words of its own', () => {
    const worded = withJumpWords(everything);
    expect(sameMusic(worded, again(worded))).toEqual([]);
    const { text } = writeMusicXml(worded);
    expect(text.match(/<words>D\.C\.<\/words>/g)).toHaveLength(1);
  });

  it('and the comparison sees what differs', () => {
    const [first, ...others] = everything.parts;
    if (first === undefined) throw new Error('no part');
    const changed: Score = {
      ...everything,
      parts: [{ ...first, written: first.written.map((note) => ({ ...note, voice: '7' })) }, ...others],
    };
    expect(sameMusic(everything, changed)).toHaveLength(first.written.length);
  });

  it('for bars longer than their metre that hold rests only', () => {
    const long: Score = {
      ...everything,
      marks: [],
      parts: [],
      bars: barsOf([
        { metre: metre(4, 4), length: note(5, 4), number: '1' },
        { metre: metre(3, 4), length: note(3, 4), number: '2' },
      ]),
    };
    expect(again(long).bars).toEqual(long.bars);
  });

  it.each(Array.from({ length: 60 }, (_, seed) => seed + 1))('for scores made at random, seed %i', (seed) => {
    const score = randomScore(seed);
    expect(sameMusic(score, again(score))).toEqual([]);
  });

  it.skipIf(cannotValidate !== null)('and scores made at random are valid', () => {
    const texts = new Map(
      Array.from({ length: 60 }, (_, seed) => [
        `seed ${seed + 1}`,
        writeMusicXml(randomScore(seed + 1)).text,
      ]),
    );
    expect(schemaErrors(texts)).toEqual([]);
  });

  const folders = ['musicxml-suite', 'openscore-quartets'];
  const files =
    sharedData === null
      ? []
      : folders.flatMap((folder) =>
          readdirSync(path.join(sharedData ?? '', 'scores', folder))
            .filter((name) => /\.(xml|mxl)$/.test(name))
            .map((name) => path.join(sharedData ?? '', 'scores', folder, name)),
        );
  const scores = files.flatMap((file) => {
    const result = readScore(new Uint8Array(readFileSync(file)));
    if (!result.ok) return [];
    return [{ name: path.basename(file), score: result.value, text: writeMusicXml(result.value).text }];
  });

  it.skipIf(files.length === 0)('for every shared file that reads', () => {
    expect(scores.length).toBeGreaterThan(100);
    const differences = scores.flatMap(({ name, score, text }) =>
      sameMusic(score, read(text)).map((difference) => `${name}: ${difference}`),
    );
    expect(differences).toEqual([]);
  });

  it.skipIf(files.length === 0 || cannotValidate !== null)('and is valid for every shared file', () => {
    const texts = new Map(scores.map(({ name, text }) => [name, text]));
    expect(schemaErrors(texts)).toEqual([]);
  });

  it.skipIf(files.length === 0)('part by part as well', () => {
    const differences = scores.slice(0, 40).flatMap(({ name, score }) =>
      score.parts.slice(-1).flatMap((part) => {
        const alone = again({ ...score, parts: [part] });
        return sameMusic({ ...score, parts: [part] }, alone)
          .filter((difference) => / (written|note|head)/.test(difference))
          .map((difference) => `${name}: ${difference}`);
      }),
    );
    expect(differences).toEqual([]);
  });
});
