/** The spoken count, live, at the output: the command line's file, sample by sample, and each word where the timeline has its count. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { timelineSchema } from '../../src/desk/index.ts';
import { levare } from '../cli/run.ts';
import { heardOn, wavFloats, type Heard } from './heard.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-spoken-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

/** Two that are added in single precision, and a file of their sum: half a step each, of values below 1. */
const rounding = 2 ** -23;

/** Quarter = 240: "one two", "one two three four" as the demo's metre asks, and two bars, in 4 s. */
const passage = ['--bars', '10-11', '--keep', '1/8', '--click', 'weak', '--tempo', '240'];

interface Made {
  /** Click and words alone, as full.wav has them on the left. */
  readonly left: Float32Array;
  readonly counts: readonly { readonly sample: number; readonly word: string }[];
  /** Where the music's first click is. */
  readonly music: number;
}

const made = async (words: string, rate: number): Promise<Made> => {
  const folder = path.join(place, `${words}${rate}`);
  const sound = ['--words', words, '--place', 'left', '--rate', String(rate), '--depth', '32'];
  const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');
  const ran = await levare(['drill', demo, ...passage, ...sound, '--paper', 'none', '--out', folder]);
  expect(ran.code, ran.err).toBe(0);
  const timeline: unknown = JSON.parse(readFileSync(path.join(folder, 'timeline.json'), 'utf8'));
  const { clicks } = timelineSchema.parse(timeline);
  return {
    left: wavFloats(path.join(folder, 'full.wav')).filter((_, n) => n % 2 === 0),
    counts: clicks.flatMap(({ sample, word }) => (word === null ? [] : [{ sample, word }])),
    music: clicks.find(({ word }) => word === null)?.sample ?? 0,
  };
};

/** Largest difference of what is heard from frame `at` on and a file, over the file's samples `from` to `to`. */
const apart = ({ left }: Heard, at: number, file: Float32Array, from: number, to: number): number => {
  let largest = 0;
  for (let n = from; n < to; n++) largest = Math.max(largest, Math.abs((left[at + n] ?? 0) - (file[n] ?? 0)));
  return largest;
};

/** Frame on which the drill's first sample was heard. The first count is clicked on it, at its loudest at once. */
const beginning = (heard: Heard, file: Float32Array): number => {
  const first = heard.left.findIndex((value) => value !== 0);
  const own = file.findIndex((value) => value !== 0);
  return first - own;
};

interface Entry {
  readonly word: string;
  readonly fast: boolean;
  readonly start: number;
  readonly length: number;
  readonly vowel: number;
}

/** What is left of a stretch when the word, times the factor that fits best, is taken away, against the stretch's own largest. */
const restOf = (heard: Float32Array, word: Float32Array): { factor: number; rest: number } => {
  let [both, power] = [0, 0];
  word.forEach((value, n) => {
    both += value * (heard[n] ?? 0);
    power += value * value;
  });
  const factor = both / power;
  const left = word.map((value, n) => (heard[n] ?? 0) - factor * value);
  const most = (values: Float32Array): number => values.reduce((a, b) => Math.max(a, Math.abs(b)), 0);
  return { factor, rest: most(left) / most(word.map((value) => factor * value)) };
};

describe.skipIf(!hasBrowser)('the spoken count', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 120_000);
  afterAll(() => app.close());

  const opened = async (locale: string, rate: number | null) => {
    const context = await app.browser.newContext({ locale });
    await context.addInitScript({ path: path.resolve('test', 'browser', 'inPage.js') });
    if (rate !== null)
      await context.addInitScript(
        `{ const Own = AudioContext; globalThis.AudioContext = class extends Own { constructor(o) { super({ ...o, sampleRate: ${rate} }); } }; }`,
      );
    const asked: string[] = [];
    const said: string[] = [];
    // What keeps the app for times without a network asks for everything, and is not meant.
    context.on('request', (request) => {
      if (request.serviceWorker() === null) asked.push(request.url());
    });
    const page = await context.newPage();
    page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) said.push(message.text());
    });
    await page.goto(app.address);
    await settled(page);
    for (const [name, text] of [
      ['from', '10'],
      ['to', '11'],
      ['tempo', '240'],
    ] as const) {
      await page.fill(`[name="${name}"]`, text);
      await page.keyboard.press('Enter');
    }
    await settled(page);
    return { page, asked, said };
  };

  /** Plays from the beginning until the music has begun. */
  const played = async (page: Page, seconds: number): Promise<Heard> => {
    await page.evaluate('levareTest.record()');
    await page.locator('.play').focus();
    await page.keyboard.press('Space');
    await until(page, 'document.querySelector(".tick.inked") !== null');
    await pause(seconds * 1000);
    await page.keyboard.press('Escape');
    await until(page, 'document.querySelector(".state").textContent === ""');
    return heardOn(page);
  };

  it('is the German file, sample by sample, and each word stands on its count', async () => {
    // At the rate of the words themselves, so that a file of theirs can be held against what is heard.
    const rate = 22_050;
    const { page, asked, said } = await opened('de-DE', rate);
    const file = await made('de', rate);
    const heard = await played(page, file.music / rate + 0.3);
    expect(heard.rate).toBe(rate);
    await page.context().close();
    expect(said).toEqual([]);
    expect(
      asked.filter((address) => address.endsWith('.wav')).map((address) => address.replace(/.*\//, '')),
    ).toEqual([expect.stringMatching(/^de-.*\.wav$/)]);
    expect(heard.gaps).toBe(false);
    expect(heard.right).toStrictEqual(heard.left);
    const at = beginning(heard, file.left);
    expect(apart(heard, at, file.left, 0, file.music)).toBeLessThanOrEqual(rounding);
    for (const off of [-1, 1]) expect(apart(heard, at + off, file.left, 0, file.music)).toBeGreaterThan(0.01);
    // Against the recorded words, of which the vowel stands on the count: what comes before it, where no click sounds.
    const index = JSON.parse(readFileSync(path.resolve('assets', 'words', 'index.json'), 'utf8')) as {
      readonly languages: { readonly de: { readonly words: readonly Entry[] } };
    };
    const words = readFileSync(path.resolve('assets', 'words', 'de.wav'));
    const data = words.indexOf('data', 12, 'latin1') + 8;
    let checked = 0;
    for (const [i, { sample, word }] of file.counts.entries()) {
      const next = file.counts[i + 1] ?? file.counts[i - 1];
      const fast = Math.abs((next?.sample ?? 0) - sample) < 0.3 * rate;
      const entry = index.languages.de.words.find((one) => one.word === word && one.fast === fast);
      // Of the first count what is before its vowel is before the sound; of some hardly anything is.
      if (entry === undefined || i === 0 || entry.vowel < 1000) continue;
      const own = Float32Array.from({ length: entry.vowel }, (_, n) =>
        words.readInt16LE(data + 2 * (entry.start + n)),
      );
      const from = at + sample - entry.vowel;
      const restAt = (off: number): number =>
        restOf(heard.left.subarray(from + off, from + off + entry.vowel), own).rest;
      expect(restAt(0), word).toBeLessThan(1e-3);
      for (const off of [-1, 1]) expect(restAt(off), word).toBeGreaterThan(0.02);
      checked += 1;
    }
    expect(checked).toBeGreaterThanOrEqual(3);
    console.log(
      `spoken count: ${file.counts.length} counts as in the file, ${checked} words held against their recording`,
    );
  }, 120_000);

  it('is English on an English page, changes with its language, and is clicked where that is asked for, for good', async () => {
    const { page, asked } = await opened('en-GB', null);
    const rate = await page.evaluate<number>('levareTest.rate()');
    const [english, german, clicked] = await Promise.all([
      made('en', rate),
      made('de', rate),
      made('none', rate),
    ]);
    const holds = async (file: Made): Promise<void> => {
      const heard = await played(page, file.music / rate + 0.1);
      const at = beginning(heard, file.left);
      expect(apart(heard, at, file.left, 0, file.music)).toBeLessThanOrEqual(rounding);
    };
    await holds(english);
    expect(asked.some((address) => /\/de-[^/]*\.wav$/.test(address))).toBe(false);
    await page.getByRole('button', { name: 'Deutsch' }).click();
    await settled(page);
    await holds(german);
    await page.selectOption('[name=counts]', 'clicked');
    await settled(page);
    await holds(clicked);
    await page.reload();
    await settled(page);
    expect(await page.locator('[name=counts]').inputValue()).toBe('clicked');
    // All words that the page can speak are kept for times without a network.
    const kept = await page.evaluate<string>('fetch("./offline.js").then((one) => one.text())');
    expect(kept).toMatch(/assets\/de-[^\n]*\.wav/);
    expect(kept).toMatch(/assets\/en-[^\n]*\.wav/);
    expect(kept).not.toMatch(/assets\/fr-[^\n]*\.wav/);
    await page.context().close();
  }, 120_000);
});
