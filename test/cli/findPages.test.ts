/** `levare find --out`: the files in the folder, what stays on standard output, and what is refused. */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Readable } from 'node:stream';
import { afterAll, expect, it } from 'vitest';
import { main } from '../../src/cli/main.ts';
import { findSchema } from '../../src/desk/index.ts';
import {
  nodeEngraver,
  nodePdf,
  nodeReader,
  nodeSounds,
  nodeWords,
  nodeWriter,
} from '../../src/host/node/index.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'levare-find-'));
const engraver = nodeEngraver();
afterAll(async () => {
  await engraver.close();
  rmSync(folder, { recursive: true });
});

const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');

const find = async (...more: string[]): Promise<{ code: number; out: string; err: string }> => {
  let [out, err] = ['', ''];
  const io = {
    stdout: { write: (text: string) => (out += text) },
    stderr: { isTTY: false, write: (text: string) => (err += text) },
    reader: nodeReader(Readable.from([])),
    writer: nodeWriter,
    words: nodeWords,
    sounds: nodeSounds,
    sheets: { engraver, pdf: nodePdf },
  };
  return { code: await main(['find', demo, ...more], io), out, err };
};

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
