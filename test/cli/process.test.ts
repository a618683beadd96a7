/** The built program as a process of its own: pipes that close, disks that fill, folders that are locked, Ctrl-C. */
import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, copyFileSync, existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { build, unbuild } from './built.ts';

let built = { folder: '', program: '' };
let place = '';
const inside = (...names: readonly string[]): string => path.join(place, ...names);

beforeAll(() => {
  built = build();
  place = mkdtempSync(path.join(tmpdir(), 'levare-process-'));
  chmodSync(place, 0o755);
  copyFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml'), inside('demo.musicxml'));
}, 120_000);
afterAll(() => {
  unbuild(built.folder);
  rmSync(place, { recursive: true, force: true });
});

interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

const levare = (args: readonly string[], options: { uid?: number } = {}): Ended => {
  const { status, stdout, stderr } = spawnSync(process.execPath, [built.program, ...args], {
    encoding: 'utf8',
    ...options,
  });
  return { code: status, out: stdout, err: stderr };
};

const shell = (script: string): Ended => {
  const { status, stdout, stderr } = spawnSync('/bin/bash', ['-c', script], {
    encoding: 'utf8',
    env: { ...process.env, LEVARE: `${process.execPath} ${built.program}`, PLACE: place },
  });
  return { code: status, out: stdout, err: stderr };
};

const drill = (folder: string): readonly string[] => [
  'drill',
  inside('demo.musicxml'),
  '--bars',
  '1-4',
  '--out',
  folder,
];

describe('the program', () => {
  it('runs, and is quiet on standard error in a pipe where there is nothing to say', () => {
    const { code, out, err } = levare(['look', inside('demo.musicxml')]);
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain('Lanterns on the Towpath');
    expect(levare(['--version']).out).toMatch(/^levare \d+\.\d+\.\d+\n$/);
  });

  it('ends with 2 and one line for bad input', () => {
    const { code, out, err } = levare(['look', inside('nothing')]);
    expect([code, out]).toEqual([2, '']);
    expect(err.split('\n')).toHaveLength(2);
  });

  it('says nothing when a reader closes the pipe', () => {
    const { out, err } = shell('$LEVARE look "$PLACE/demo.musicxml" --json | head -n 1');
    expect([out, err]).toEqual(['{\n', '']);
  });

  it('leaves nothing where the disk takes no more', () => {
    // A limit of 64 KiB on the size of any file stands for a full disk: the click track is larger.
    const { code, err } = shell(
      'ulimit -f 64; $LEVARE drill "$PLACE/demo.musicxml" --bars 1-4 --out "$PLACE/full/a"',
    );
    expect(code).toBe(2);
    expect(err).toMatch(/^levare: Nothing was written to .*full\/a: .*\n$/);
    expect(readdirSync(place)).toEqual(['demo.musicxml']);
  });

  it('leaves nothing in a folder that is locked', () => {
    mkdirSync(inside('locked'));
    chmodSync(inside('locked'), 0o555);
    // The superuser may write anywhere, so it becomes nobody for this.
    const nobody = process.getuid?.() === 0 ? { uid: 65_534 } : {};
    for (const folder of [inside('locked'), inside('locked', 'new')]) {
      const { code, err } = levare(drill(folder), nobody);
      expect(err).toMatch(/^levare: Nothing was written to .*: you are not allowed to\.\n$/);
      expect(code).toBe(2);
    }
    expect(readdirSync(inside('locked'))).toEqual([]);
    rmSync(inside('locked'), { recursive: true });
  });

  it('leaves nothing when it is broken off', async () => {
    const long = [...drill(inside('broken')), '--times', '300', '--tempo', '1/4=60'];
    const child = spawn(process.execPath, [built.program, ...long], { stdio: 'ignore' });
    const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
    const begun = () => readdirSync(place).some((name) => name.startsWith('.levare-'));
    while (!begun() && child.exitCode === null) await new Promise((resolve) => setTimeout(resolve, 20));
    expect(begun()).toBe(true);
    child.kill('SIGINT');
    expect(await ended).toBe(130);
    expect(existsSync(inside('broken'))).toBe(false);
    expect(readdirSync(place)).toEqual(['demo.musicxml']);
  });
});
