/** A drill's whole folder, pages included, as the command line makes it. Bytes are compared with themselves: no source. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { levarePages } from '../support/levarePages.ts';

const { folder, levare } = levarePages();

const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');

const drill = async (
  name: string,
  ...more: string[]
): Promise<{ code: number; err: string; files: Map<string, string> }> => {
  const out = path.join(folder, name);
  const asked = ['--bars', '10-12', '--keep', '1/8', '--out', out, ...more];
  const { code, err } = await levare('drill', demo, ...asked);
  const names = code === 0 ? readdirSync(out) : [];
  const hash = (file: string) =>
    createHash('sha256')
      .update(readFileSync(path.join(out, file)))
      .digest('hex');
  return { code, err, files: new Map(names.map((file) => [file, hash(file)])) };
};

describe('a drill on disk', () => {
  it('holds pages, sound and the files for other programs, the same bytes each time', async () => {
    const [first, second] = [await drill('one'), await drill('two')];
    expect([...first.files.keys()].sort()).toEqual([
      'click.wav',
      'drill.json',
      'drill.mid',
      'drill.musicxml',
      'full.wav',
      'part-1-flute.pdf',
      'part-2-clarinet-in-b.pdf',
      'parts.wav',
      'score.musicxml',
      'score.pdf',
      'timeline.json',
    ]);
    expect(second.files).toEqual(first.files);
  });

  it('sounds and looks as asked, and its click and notes stay where they were', async () => {
    const [usual, other] = [
      await drill('usual'),
      await drill('other', '--pitch', '415', '--words', 'fr', '--paper', 'letter'),
    ];
    const changed = [...usual.files.keys()]
      .filter((name) => usual.files.get(name) !== other.files.get(name))
      .sort();
    expect(changed).toEqual([
      'full.wav',
      'part-1-flute.pdf',
      'part-2-clarinet-in-b.pdf',
      'parts.wav',
      'score.pdf',
    ]);
    expect(
      [...(await drill('none', '--paper', 'none')).files.keys()].filter((name) => name.endsWith('.pdf')),
    ).toEqual([]);
  });

  it.each([
    [['--pitch', '300'], /392/],
    [['--pitch', 'high'], /not a number/],
    [['--words', 'xx'], /count words/],
    [['--without', 'P9'], /no part/],
    [['--place', 'right'], /centre or left/],
    [['--paper', 'a3'], /a4 or letter or none/],
    [['--others', 'blue'], /rests or grey/],
  ])('refuses %j in one plain message', async (options, message) => {
    const { code, err } = await drill('bad', ...options);
    expect(code).toBe(2);
    expect(err).toMatch(message);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(readdirSync(folder)).not.toContain('bad');
  });
});
