import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Readable } from 'node:stream';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { FileToWrite } from '../../src/desk/index.ts';
import { nodeReader, nodeWriter, terminalProgress } from '../../src/host/node/index.ts';

let place = '';
beforeEach(() => {
  place = mkdtempSync(path.join(tmpdir(), 'levare-host-'));
});
afterEach(() => {
  rmSync(place, { recursive: true, force: true });
});

const inside = (...names: readonly string[]): string => path.join(place, ...names);
const file = (name: string, text: string): FileToWrite => ({
  name,
  chunks: [new TextEncoder().encode(text)],
  size: null,
});

const failing: FileToWrite = {
  name: 'late.txt',
  size: null,
  chunks: {
    *[Symbol.iterator]() {
      yield new Uint8Array(10);
      throw Object.assign(new Error('full'), { code: 'ENOSPC' });
    },
  },
};

describe('writing a folder', () => {
  it('makes it with all folders on the way', async () => {
    const goal = inside('a', 'b', 'c');
    const written = await nodeWriter.writeFolder(goal, [file('one.txt', 'eins'), file('two.txt', 'z')]);
    expect(written).toEqual({
      ok: true,
      value: [
        { name: 'one.txt', bytes: 4 },
        { name: 'two.txt', bytes: 1 },
      ],
      problems: [],
    });
    expect(readdirSync(inside('a', 'b'))).toEqual(['c']);
    expect(readFileSync(path.join(goal, 'one.txt'), 'utf8')).toBe('eins');
  });

  it('replaces its own files and leaves the others', async () => {
    writeFileSync(inside('mine.txt'), 'mine');
    writeFileSync(inside('one.txt'), 'old');
    expect((await nodeWriter.writeFolder(place, [file('one.txt', 'new')])).ok).toBe(true);
    expect(readdirSync(place).sort()).toEqual(['mine.txt', 'one.txt']);
    expect(readFileSync(inside('one.txt'), 'utf8')).toBe('new');
    expect(readFileSync(inside('mine.txt'), 'utf8')).toBe('mine');
  });

  it('leaves nothing behind where the disk is full half-way', async () => {
    const written = await nodeWriter.writeFolder(inside('a', 'b'), [file('one.txt', 'eins'), failing]);
    expect(written.ok ? '' : `${written.error.code}: ${written.error.message}`).toBe(
      `cannot-write: Nothing was written to ${inside('a', 'b')}: the disk is full.`,
    );
    expect(readdirSync(place)).toEqual([]);
  });

  it('leaves what was there where it fails half-way', async () => {
    writeFileSync(inside('one.txt'), 'old');
    expect((await nodeWriter.writeFolder(place, [file('one.txt', 'new'), failing])).ok).toBe(false);
    expect(readdirSync(place)).toEqual(['one.txt']);
    expect(readFileSync(inside('one.txt'), 'utf8')).toBe('old');
  });

  it('takes back what it has moved where a later file cannot be moved', async () => {
    writeFileSync(inside('one.txt'), 'old');
    mkdirSync(inside('two.txt'));
    const written = await nodeWriter.writeFolder(place, [file('one.txt', 'new'), file('two.txt', 'new')]);
    expect(written.ok ? '' : written.error.message).toContain('there is a folder of that name');
    expect(readFileSync(inside('one.txt'), 'utf8')).toBe('old');
    expect(readdirSync(place).sort()).toEqual(['one.txt', 'two.txt']);
  });

  it('says so where the goal is a file', async () => {
    writeFileSync(inside('goal'), 'text');
    const written = await nodeWriter.writeFolder(inside('goal'), [file('one.txt', 'new')]);
    expect(written.ok ? '' : written.error.code).toBe('cannot-write');
    expect(readFileSync(inside('goal'), 'utf8')).toBe('text');
  });

  // The superuser may write anywhere.
  it.skipIf(process.getuid?.() === 0)('says so where it is not allowed to', async () => {
    mkdirSync(inside('locked'));
    chmodSync(inside('locked'), 0o500);
    const written = await nodeWriter.writeFolder(inside('locked'), [file('one.txt', 'new')]);
    expect(written.ok ? '' : written.error.message).toContain('not allowed');
  });

  it('passes on a defect of what makes the bytes, and leaves nothing behind', async () => {
    const broken: FileToWrite = {
      ...failing,
      chunks: {
        *[Symbol.iterator]() {
          yield new Uint8Array(1);
          throw new RangeError('a defect');
        },
      },
    };
    await expect(nodeWriter.writeFolder(inside('a'), [broken])).rejects.toThrow('a defect');
    expect(readdirSync(place)).toEqual([]);
  });
});

describe('reading', () => {
  const reader = nodeReader(Readable.from([Buffer.from('ab'), Buffer.from('c')]));
  const codeOf = async (name: string): Promise<string> => {
    const read = await reader.read(name);
    return read.ok ? 'ok' : read.error.code;
  };

  it('gives the bytes of a file, and of standard input for "-"', async () => {
    writeFileSync(inside('a.txt'), 'text');
    const [read, input] = [await reader.read(inside('a.txt')), await reader.read('-')];
    expect(read.ok && new TextDecoder().decode(read.value)).toBe('text');
    expect(input.ok && new TextDecoder().decode(input.value)).toBe('abc');
  });

  it('says what is wrong with a path', async () => {
    writeFileSync(inside('big'), '');
    truncateSync(inside('big'), 256 * 1024 * 1024 + 1);
    expect(await codeOf(inside('none'))).toBe('file-missing');
    expect(await codeOf(place)).toBe('file-is-folder');
    expect(await codeOf(inside('big'))).toBe('file-too-large');
    expect(await codeOf(inside('big', 'x'))).toBe('file-unreadable');
    expect(existsSync(inside('none'))).toBe(false);
  });
});

describe('progress', () => {
  const told = (isTTY: boolean): string => {
    let text = '';
    let now = 0;
    const progress = terminalProgress({ isTTY, write: (piece) => (text += piece) }, () => (now += 200));
    for (const done of [0, 500, 1000]) progress.tell('click.wav', done, 1000);
    progress.done();
    return text;
  };

  it('is told on a terminal after a while, and wiped', () => {
    expect(told(true)).toContain('writing click.wav 100 %');
    expect(told(true).endsWith('\r\u001b[2K')).toBe(true);
  });

  it('is quiet in a pipe', () => {
    expect(told(false)).toBe('');
  });
});
