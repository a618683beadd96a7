/** `levare find --out`: the files in the folder, what stays on standard output, and what is refused. */
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { findSchema } from '../../src/desk/index.ts';
import { levarePages } from '../support/levarePages.ts';

const { folder, levare } = levarePages();

const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');

const find = (...more: readonly string[]) => levare('find', demo, ...more);

it('writes the pages, and prints the list as without them', async () => {
  const out = path.join(folder, 'some');
  const made = await find('--bars', '10-17', '--kind', 'shared-line', '--most', '1', '--out', out, '--json');
  expect(made.code, made.err).toBe(0);
  expect(readdirSync(out).toSorted()).toEqual(['places-1.svg', 'places.pdf']);
  const { places } = findSchema.parse(JSON.parse(made.out));
  expect(places.map(({ from }) => from.bar)).toEqual(['10']);
  expect(made.err).toContain('places.pdf and 1 picture of its pages, with 1 place pencilled in');
});

it.each<[string, string[], string]>([
  ['a number that is none', ['--most', 'few'], '"few" is not a number of places'],
  ['none at all', ['--most', '0'], '"0" is not a number of places'],
  ['paper without a folder', ['--paper', 'letter'], 'Say where the pages go'],
  ['other paper', ['--paper', 'a3', '--out', path.join(folder, 'no')], '"a3" is not understood'],
])('refuses %s in words', async (_, args, words) => {
  const { code, out, err } = await find(...args);
  expect([code, out]).toEqual([2, '']);
  expect(err).toContain(words);
});
