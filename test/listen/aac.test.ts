/** AAC and M4A, decoded by a program of this machine: real ones where they are, and ones that misbehave. */
import { spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readSound, type DecodePort } from '../../src/desk/hearSound.ts';
import { soundKind } from '../../src/desk/soundKind.ts';
import { decodeOutside } from '../../src/host/node/outsideDecoder.ts';
import { listeningRate } from '../../src/listen/model.ts';
import { burstTimes } from './sounds.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-aac-'));
// Copies for the program go here too, so that it can be seen whether any is left.
const copies = path.join(place, 'copies');
mkdirSync(copies);
const usual = process.env['TMPDIR'];
beforeAll(() => {
  process.env['TMPDIR'] = copies;
});
afterAll(() => {
  // Other tests run in this process.
  if (usual === undefined) delete process.env['TMPDIR'];
  else process.env['TMPDIR'] = usual;
  rmSync(place, { recursive: true, force: true });
});

const fixture = (name: string): Uint8Array =>
  new Uint8Array(readFileSync(path.resolve(import.meta.dirname, 'fixtures', name)));

/** A folder in which only a program of this name is, which is this shell script. */
const folderWith = (name: string, script: string): string => {
  const folder = path.join(place, `${readdirSync(place).length}`);
  mkdirSync(folder);
  writeFileSync(path.join(folder, name), `#!/bin/sh\n${script}\n`);
  chmodSync(path.join(folder, name), 0o755);
  return folder;
};

const port = (searched: string, limits?: Parameters<typeof decodeOutside>[4]): DecodePort => ({
  decode: (bytes, kind, block) =>
    kind === 'aac' || kind === 'm4a'
      ? decodeOutside(bytes, kind, block, searched, limits)
      : Promise.reject(new Error(kind)),
});

const where = (name: string): string => spawnSync('which', [name], { encoding: 'utf8' }).stdout.trim();
/** ADTS tells nothing of the encoder's delay: that of the encoder which made the fixture is one frame, which faad leaves out. */
const frame = 1024 / 44_100;
describe.each([
  { program: 'ffmpeg', file: 'bursts.m4a', later: 0 },
  { program: 'ffmpeg', file: 'bursts.aac', later: frame },
  { program: 'faad', file: 'bursts.m4a', later: 0 },
  { program: 'faad', file: 'bursts.aac', later: 0 },
])('$file by $program', ({ program, file, later }) => {
  const found = where(program);
  const name = found === '' ? `(skipped: ${program} is not on this machine)` : '';
  it.skipIf(found === '')(`has its sounds at their times ${name}`, async () => {
    const read = await readSound(fixture(file), file, port(folderWith(program, `exec "${found}" "$@"`)));
    expect(read.ok).toBe(true);
    if (!read.ok) return;
    const heard = burstTimes.heard(read.value.signal);
    expect(heard).toHaveLength(7);
    heard.forEach((time, n) => {
      expect(Math.abs(time - later - (burstTimes.made[n] ?? 0))).toBeLessThan(0.002);
    });
    expect(read.value.rate).toBe(44_100);
    expect(Math.abs(read.value.signal.length / listeningRate - 2.6)).toBeLessThan(0.06);
    expect(read.problems.map(({ code }) => code)).toContain('sound-by-program');
  });

  it.skipIf(found === '')(`cut off is read in part or refused in words ${name}`, async () => {
    const bytes = fixture(file);
    const cut = bytes.slice(0, Math.floor(0.9 * bytes.length));
    const read = await readSound(cut, file, port(folderWith(program, `exec "${found}" "$@"`)));
    if (read.ok) expect(read.value.signal.length).toBeLessThan(2.6 * listeningRate);
    else expect(read.error.code).toBe('sound-damaged');
  });
});

describe.skipIf(process.platform === 'win32')('programs that misbehave', () => {
  const codeOf = async (searched: string, limits?: Parameters<typeof decodeOutside>[4]): Promise<string> => {
    const read = await readSound(fixture('bursts.aac'), 'take.aac', port(searched, limits));
    if (!read.ok) expect(read.error.message).toContain('take.aac');
    return read.ok ? 'read' : read.error.code;
  };

  it.each([
    ['says nothing', 'exit 0', 'sound-damaged'],
    ['fails', 'echo broken >&2; exit 1', 'sound-damaged'],
    ['writes something else', 'echo "this is no sound at all, whatever it may be called"', 'sound-damaged'],
    ['does not end', 'exec sleep 60', 'sound-too-long'],
    ['writes without end', 'exec yes', 'sound-too-long'],
  ])('one that %s', async (_, script, code) => {
    expect(await codeOf(folderWith('ffmpeg', script), { time: 1500, size: 1e6 })).toBe(code);
    expect(readdirSync(copies)).toEqual([]);
  });

  it('that lie in a folder which is named by half a path are not run', async () => {
    const folder = folderWith('ffmpeg', 'touch "$0.ran"');
    expect(await codeOf(path.relative(process.cwd(), folder))).toBe('sound-kind');
    expect(readdirSync(folder)).toEqual(['ffmpeg']);
  });
});

describe('AAC', () => {
  it('is known by its content', () => {
    expect(soundKind(fixture('bursts.m4a'))).toBe('m4a');
    expect(soundKind(fixture('bursts.aac'))).toBe('aac');
  });

  it('without a program says what to do', async () => {
    for (const name of ['bursts.m4a', 'bursts.aac']) {
      const read = await readSound(fixture(name), name, port(place));
      expect(read.ok).toBe(false);
      if (!read.ok) expect(read.error).toMatchObject({ code: 'sound-kind' });
      if (!read.ok) expect(read.error.message).toMatch(/ffmpeg or faad.*WAV or FLAC/);
    }
  });
});
