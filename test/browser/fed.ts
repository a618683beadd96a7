/** What test/browser/microphone.js feeds, and what came of it. */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { chromium, type BrowserContext, type Page } from 'playwright-core';
import { program, switches } from './open.ts';

/** A browser that keeps what it keeps on the disk, in a folder of the test's own; it may hear. */
export const lasting = async (folder: string): Promise<BrowserContext> => {
  const context = await chromium.launchPersistentContext(folder, {
    executablePath: program,
    args: [...switches, '--use-fake-device-for-media-stream'],
    viewport: { width: 1366, height: 768 },
    acceptDownloads: true,
    permissions: ['microphone'],
  });
  for (const script of ['inPage.js', 'microphone.js'])
    await context.addInitScript({ path: path.resolve('test', 'browser', script) });
  return context;
};

/** The processes of that browser, by /proc: its own first. */
export const processesOf = (folder: string): readonly number[] =>
  readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .flatMap((name): { pid: number; own: boolean }[] => {
      try {
        const words = readFileSync(`/proc/${name}/cmdline`, 'latin1');
        const own = !words.includes('--type=');
        return words.includes(folder) ? [{ pid: Number(name), own }] : [];
      } catch {
        return [];
      }
    })
    .sort((a, b) => Number(b.own) - Number(a.own))
    .map(({ pid }) => pid);

/** The noise from its beginning. */
export const fedNoise = (samples: number): Float32Array => {
  const noise = new Float32Array(samples);
  let state = 1;
  for (let n = 0; n < samples; n++) {
    state = (Math.imul(state, 1140671485) + 12820163) & 0xffffff;
    noise[n] = (state - 8388608) / 8388608 / 2;
  }
  return noise;
};

export interface Wav {
  readonly rate: number;
  readonly samples: Float32Array;
  /** Whether all sizes in its header are those of the file (RIFF). */
  readonly whole: boolean;
}

/** A WAV file of one channel of 32-bit floats. */
export const wavOf = (bytes: Buffer): Wav => {
  const data = bytes.indexOf('data', 12, 'latin1');
  const length = bytes.readUInt32LE(data + 4);
  const floats =
    bytes.readUInt16LE(20) === 3 && bytes.readUInt16LE(22) === 1 && bytes.readUInt16LE(34) === 32;
  return {
    rate: bytes.readUInt32LE(24),
    samples: new Float32Array(Uint8Array.from(bytes.subarray(data + 8, data + 8 + length)).buffer),
    whole: floats && bytes.readUInt32LE(4) === bytes.length - 8 && length === bytes.length - data - 8,
  };
};

/** The file that a word gives, by its label. */
export const savedBy = async (page: Page, label: RegExp): Promise<Buffer> => {
  const saved = page.waitForEvent('download');
  await page.getByRole('button', { name: label }).click();
  return readFileSync(await (await saved).path());
};

/** Where in `whole` the first samples of `part` stand; -1 where they do not. */
export const placeOf = (part: Float32Array, whole: Float32Array): number => {
  const first = Math.max(
    0,
    part.findIndex((value) => value !== 0),
  );
  for (let at = 0; at + 8 < whole.length; at++) {
    let n = 0;
    while (n < 8 && whole[at + n] === part[first + n]) n += 1;
    if (n === 8) return at - first;
  }
  return -1;
};
