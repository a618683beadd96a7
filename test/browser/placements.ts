/** Every placement of the click with the times at which it has to sound, worked out by hand, and a drill of it heard in a page. */
import { execFile } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { promisify } from 'node:util';
import type { BrowserContext, Page } from 'playwright-core';
import { expect } from 'vitest';
import { timelineSchema } from '../../src/desk/index.ts';
import { levare } from '../cli/run.ts';
import { settled, until } from './open.ts';

export interface Placed {
  readonly click: string;
  readonly metre: string;
  /** Quarters in a bar. */
  readonly bar: number;
  readonly bars: number;
  /** Quarters a minute. */
  readonly tempo: number;
  /** In quarters from the passage's beginning. */
  readonly at: readonly number[];
  readonly tacet?: string;
  readonly hemiola?: string;
}

/** The same places in each of these bars, counted from 0. */
const each = (bars: readonly number[], length: number, places: readonly number[]): number[] =>
  bars.flatMap((bar) => places.map((place) => bar * length + place));

const firstBars = (count: number): number[] => Array.from({ length: count }, (_, bar) => bar);

const eight = firstBars(8);
const common = { metre: '4/4', bar: 4, bars: 8, tempo: 127 };
const three = { metre: '3/4', bar: 3, bars: 10, tempo: 127 };
const long = { metre: '4/4', bar: 4, bars: 16, tempo: 251 };
const seven = { metre: '2+2+3/8', bar: 3.5, bars: 9, tempo: 127 };

/**
 * Where players hear each placement: common practice, no source, by docs/drill.md. Tempi at which hardly a beat is a whole number of
 * samples, so that rounding shows; each lasts 14 to 16 seconds.
 */
export const placements: readonly Placed[] = [
  { ...common, click: 'every', at: each(eight, 4, [0, 1, 2, 3]) },
  { ...common, click: 'half', at: each(eight, 4, [0, 2]) },
  { ...common, click: 'weak', at: each(eight, 4, [1, 3]) },
  { ...common, click: 'after', at: each(eight, 4, [0.5, 1.5, 2.5, 3.5]) },
  { ...common, click: '1/8', at: each(eight, 4, [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5]) },
  { ...common, click: '2 4', at: each(eight, 4, [1, 3]) },
  { ...common, click: '1 2&', at: each(eight, 4, [0, 1.5]) },
  { ...common, click: 'every', tacet: '2/2', at: each([0, 1, 4, 5], 4, [0, 1, 2, 3]) },
  { ...common, click: 'weak', tacet: '1/1', at: each([0, 2, 4, 6], 4, [1, 3]) },
  { ...long, click: '2bars', at: each([0, 2, 4, 6, 8, 10, 12, 14], 4, [0]) },
  { ...long, click: '4bars', at: each([0, 4, 8, 12], 4, [0]) },
  { ...three, click: 'bar', at: each(firstBars(10), 3, [0]) },
  { ...three, click: 'weak', at: each(firstBars(10), 3, [1, 2]) },
  { ...three, click: '2', at: each(firstBars(10), 3, [1]) },
  { ...three, click: '3', at: each(firstBars(10), 3, [2]) },
  {
    ...three,
    click: 'every',
    hemiola: '5-8',
    at: [
      ...each([0, 1, 2, 3], 3, [0, 1, 2]),
      // Three even clicks over each pair of bars.
      ...[12, 14, 16, 18, 20, 22],
      ...each([8, 9], 3, [0, 1, 2]),
    ],
  },
  {
    ...{ metre: '6/8', bar: 3, bars: 10, tempo: 127 },
    click: 'after',
    // The last third of a dotted quarter.
    at: each(firstBars(10), 3, [1, 2.5]),
  },
  { ...seven, click: 'every', at: each(firstBars(9), 3.5, [0, 1, 2]) },
  { ...seven, click: 'weak', at: each(firstBars(9), 3.5, [1, 2]) },
  // The third beat has three eighths: its last third.
  { ...seven, click: 'after', at: each(firstBars(9), 3.5, [0.5, 1.5, 3]) },
];

export const placedName = ({ click, metre, tacet, hemiola }: Placed): string =>
  [click, 'in', metre, ...(tacet === undefined ? [] : ['tacet', tacet])].join(' ') +
  (hemiola === undefined ? '' : `, hemiola ${hemiola}`);

/** The margin's own choices; all else is written. */
const chosen = new Set(['every', 'half', 'weak', 'after', 'bar', '2bars', '4bars', '1/8']);

const planOf = ({ metre, bars, tempo }: Placed): string =>
  `title ${metre} at ${tempo}; 1-${bars} ${metre}; tempo 1/4=${tempo}`;

/** Half a second in which the page's own thread does nothing else, and no processor is busy with it. */
const wait = 500;

/**
 * Lets a page ask for something that comes half a second late, and wait for it with its thread blocked: many pages can hang at once on
 * few processors.
 */
export const letHang = async (context: BrowserContext): Promise<void> => {
  await context.route('**/levare-late', async (route) => {
    await pause(wait);
    await route.fulfill({ body: '' }).catch(() => undefined);
  });
};

const write = async (page: Page, name: string, text: string): Promise<void> => {
  await page.fill(`[name="${name}"]`, text);
  await page.keyboard.press('Enter');
};

/** Puts a placement into the margin as a player does. */
const asked = async (page: Page, placed: Placed, times: number): Promise<void> => {
  const { click, tacet = 'none', hemiola = '' } = placed;
  const plan = planOf(placed);
  await page.setInputFiles('[name=score]', {
    name: 'a.txt',
    mimeType: 'text/plain',
    buffer: Buffer.from(plan),
  });
  await until(page, `document.querySelector('h1').textContent === '${placed.metre} at ${placed.tempo}'`);
  await write(page, 'from', '1');
  await write(page, 'to', String(placed.bars));
  if (chosen.has(click)) await page.selectOption('[name=click]', click);
  else {
    await page.selectOption('[name=click]', 'own');
    await write(page, 'own-click', click);
  }
  await write(page, 'times', String(times));
  await page.selectOption('[name=count-in]', 'none');
  await page.evaluate(`document.querySelector('details.more').open = true`);
  await page.selectOption('[name=tacet]', tacet);
  await write(page, 'hemiola', hemiola);
  const clicks = placed.at.length * times;
  await until(page, `document.querySelector('[data-clicks]')?.dataset.clicks === '${clicks}'`, 20_000);
  await settled(page);
};

/** A mono WAV file of 32-bit floats, after the RIFF specification; written here, not by the program under test. */
const wavFile = (file: string, samples: Float32Array, rate: number): void => {
  const head = Buffer.alloc(56);
  head.write('RIFF', 0);
  head.writeUInt32LE(48 + samples.byteLength, 4);
  head.write('WAVEfmt ', 8);
  for (const [at, value] of [
    [16, 16],
    [24, rate],
    [28, rate * 4],
    [40, 4],
    [44, samples.length],
    [52, samples.byteLength],
  ] as const)
    head.writeUInt32LE(value, at);
  for (const [at, value] of [
    [20, 3],
    [22, 1],
    [32, 4],
    [34, 32],
  ] as const)
    head.writeUInt16LE(value, at);
  head.write('fact', 36);
  head.writeUInt32LE(4, 40);
  head.write('data', 48);
  writeFileSync(file, Buffer.concat([head, Buffer.from(samples.buffer)]));
};

interface Compared {
  readonly clicks: number;
  readonly heard: number;
  /** In samples. */
  readonly largest: number;
  readonly same: boolean | null;
}

const run = promisify(execFile);

const compared = async (...files: readonly string[]): Promise<Compared> => {
  const program = path.resolve('test', 'outside', 'live_clicks.py');
  const { stdout } = await run('/usr/bin/python3', [program, ...files], { encoding: 'utf8' });
  return JSON.parse(stdout) as Compared;
};

export interface HeardPlacement {
  readonly name: string;
  readonly clicks: number;
  /** In samples, from the timeline that the command line makes. */
  readonly largest: number;
  /** Half seconds in which the page hung. */
  readonly hangs: number;
  readonly seconds: number;
}

/**
 * Plays a placement in a page that hangs again and again, writes down what comes out, and checks every click: against the times worked out
 * by hand, and, by a separate program, against the command line's timeline and its click track. Repetitions have one silent bar between.
 */
export const heardPlacement = async (
  page: Page,
  folder: string,
  placed: Placed,
  times = 1,
): Promise<HeardPlacement> => {
  const name = placedName(placed);
  const { click, tacet = 'none', hemiola } = placed;
  await asked(page, placed, times);
  const rate = await page.evaluate<number>('levareTest.rate()');
  mkdirSync(folder, { recursive: true });
  const plan = path.join(folder, 'plan.txt');
  writeFileSync(plan, planOf(placed));
  const rule = hemiola === undefined ? click : `${click},hemiola:${hemiola}`;
  const words = ['--click', rule, '--tacet', tacet, '--count-in', 'none', '--times', String(times)];
  const out = path.join(folder, 'drill');
  const made = ['drill', plan, '--bars', `1-${placed.bars}`, ...words, '--words', 'none'];
  const ran = await levare([...made, '--rate', String(rate), '--depth', '32', '--out', out]);
  expect(ran.code, ran.err).toBe(0);
  const timeline = path.join(out, 'timeline.json');
  const told = timelineSchema.parse(JSON.parse(readFileSync(timeline, 'utf8'))).clicks;

  const quarter = 60 / placed.tempo;
  const repetition = (placed.bars + 1) * placed.bar;
  const wanted = Array.from({ length: times }, (_, rep) => rep).flatMap((rep) =>
    placed.at.map((at) => Math.floor((rep * repetition + at) * quarter * rate + 0.5)),
  );
  expect(told, name).toHaveLength(wanted.length);
  // Fractions of double precision: a sample of rounding.
  for (const [i, { sample }] of told.entries())
    expect(Math.abs(sample - (wanted[i] ?? 0)), name).toBeLessThanOrEqual(1);

  const seconds = (times * repetition - placed.bar) * quarter;
  await page.evaluate(`levareTest.record(${Math.ceil(seconds) + 15})`);
  await page.locator('.play').focus();
  await page.keyboard.press('Space');
  await until(page, 'document.querySelector(".play").textContent === "Stop"');
  await page.evaluate('levareTest.hangFor("/levare-late")');
  await pause(seconds * 1000);
  const hangs = await page.evaluate<number>('levareTest.letGo()');
  await until(page, 'document.querySelector(".play").textContent === "Play"', 30_000);
  // The other channel stays there: the audio thread has compared the two.
  const { samples, differs } = await page.evaluate<{ readonly samples: string; readonly differs: boolean }>(
    'levareTest.recorded().then(({ samples, differs }) => ({ samples, differs }))',
  );
  expect(differs, name).toBe(false);
  const left = new Float32Array(Uint8Array.from(Buffer.from(samples, 'base64')).buffer);
  const wav = path.join(folder, 'heard.wav');
  wavFile(wav, left, rate);
  const { clicks, heard, largest, same } = await compared(wav, timeline, path.join(out, 'click.wav'));
  expect(clicks, name).toBe(wanted.length);
  expect(heard, name).toBe(clicks);
  expect(largest, name).toBeLessThanOrEqual(1);
  expect(same, name).toBe(true);
  return { name, clicks, largest, hangs, seconds };
};
