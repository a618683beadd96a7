/** Recordings that are none, or damaged: plain words, code 2 and no stack; what can be read of them is read. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { soundWav } from '../listen/sounds.ts';
import { levare, type Ran } from './run.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-hear-bad-'));
const drill = path.join(place, 'drill');
const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');
const fixture = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(path.resolve('test', 'listen', 'fixtures', name)));
const put = (name: string, bytes: Uint8Array | string): void => writeFileSync(path.join(place, name), bytes);
const even = (value: number, seconds = 3): Float32Array =>
  Float32Array.from({ length: 48_000 * seconds }, (_, i) => value * Math.sign(Math.sin(i / 20) + 1e-9));

beforeAll(async () => {
  const made = ['--bars', '1-4', '--words', 'none', '--paper', 'none', '--out', drill];
  expect((await levare(['drill', demo, ...made])).code).toBe(0);
  put('text.wav', 'Bring pencils on Tuesday.\n'.repeat(50));
  put('empty.wav', '');
  put('head.wav', soundWav([even(0.1)], 48_000, 16).slice(0, 30));
  put('none.wav', soundWav([new Float32Array(0)], 48_000, 16));
  put('half.wav', soundWav([even(0.1, 0.5)], 48_000, 16));
  put('silent.wav', soundWav([even(0)], 48_000, 16));
  put('clipped.wav', soundWav([even(1)], 48_000, 16));
  put('no-numbers.wav', soundWav([even(NaN)], 48_000, 32));
  put('tone.wav', soundWav([even(0.1)], 48_000, 16));
  put('tone8.wav', soundWav([even(0.1)], 48_000, 8));
  put('tone96.wav', soundWav([even(0.1, 6)], 96_000, 24));
  put(
    'six.wav',
    soundWav(
      Array.from({ length: 6 }, () => even(0.1)),
      48_000,
      16,
    ),
  );
  // The kind is told by the content, whatever the name says: an MP4 file begins with its "ftyp" box (ISO/IEC 14496-12).
  // This one holds nothing else; without a program that decodes AAC it is not even tried.
  put(
    'take.m4a',
    new Uint8Array([0, 0, 0, 24, ...new TextEncoder().encode('ftypM4A '), ...new Uint8Array(400)]),
  );
  for (const kind of ['flac', 'mp3', 'ogg', 'opus'])
    put(`head.${kind}`, fixture(`bursts.${kind}`).slice(0, 60));
  put('flac.wav', fixture('bursts.flac'));
  mkdirSync(path.join(place, 'folder.wav'));
}, 60_000);
afterAll(() => rmSync(place, { recursive: true, force: true }));

const hear = (...names: string[]): Promise<Ran> =>
  levare(['hear', ...names.map((name) => name.replace('=', `=${place}${path.sep}`)), '--drill', drill]);

describe('levare hear refuses', () => {
  it.each([
    ['text.wav', 'is no recording that is known'],
    ['empty.wav', 'is empty'],
    ['head.wav', 'format section'],
    ['none.wav', 'holds no sound'],
    ['half.wav', 'lasts 0.5 seconds'],
    ['silent.wav', 'is silent'],
    ['clipped.wav', "recorder's ceiling"],
    ['no-numbers.wav', 'is silent'],
    ['take.m4a', /WAV or FLAC|can make no sound of it/],
    ['head.flac', 'damaged or cut off'],
    ['head.mp3', 'damaged or cut off'],
    ['head.ogg', 'damaged or cut off'],
    ['head.opus', 'damaged or cut off'],
    ['folder.wav', 'is a folder'],
    ['not-there.wav', 'There is no file'],
    // Read, and then found to be of nothing that was asked for.
    ['tone.wav', 'does not sound like Flute'],
    ['tone8.wav', 'does not sound like Flute'],
    ['tone96.wav', 'does not sound like Flute'],
    ['six.wav', 'does not sound like Flute'],
    ['flac.wav', 'does not sound like Flute'],
  ])('%s in plain words', async (name, words) => {
    const { code, out, err } = await hear(`P1=${name}`);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(words);
    expect(err).toContain(name);
    expect(err).not.toMatch(/\n\s+at |Error:|undefined|NaN/);
  });

  it('the same recording for two players, under one name or two', async () => {
    put('copy.wav', readFileSync(path.join(place, 'tone.wav')));
    const twice = await hear('P1=tone.wav', 'P2=tone.wav');
    expect(twice.code).toBe(2);
    expect(twice.err).toContain('is given twice');
    const copied = await hear('P1=tone.wav', 'P2=copy.wav');
    expect(copied.code).toBe(2);
    expect(copied.err).toContain('are the same recording');
  });

  it('more recordings than there are players', async () => {
    const { code, err } = await hear('a.wav', 'b.wav', 'c.wav');
    expect(code).toBe(2);
    expect(err).toContain('for 2 player(s): P1 (Flute)');
  });
});
