/** What comes out of the loudspeaker, written down by a second audio thread program and read by a separate program. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { levare } from '../cli/run.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');
const place = mkdtempSync(path.join(tmpdir(), 'levare-sound-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

interface Recorded {
  /** Frame of the first sample. */
  readonly first: number;
  readonly rate: number;
  /** Whether frames were left out, or the two channels differ. */
  readonly differs: boolean;
  /** Frame that was being made when the last key went down. */
  readonly pressed: number;
  readonly samples: Float32Array;
}

const recorded = async (page: Page): Promise<Recorded> => {
  const { samples, ...rest } = await page.evaluate<Omit<Recorded, 'samples'> & { samples: string }>(
    'levareTest.recorded()',
  );
  const bytes = Uint8Array.from(Buffer.from(samples, 'base64'));
  return { ...rest, samples: new Float32Array(bytes.buffer) };
};

/** A mono WAV file of 32-bit floats, after the RIFF specification; written here, not by the program under test. */
const wavFile = (name: string, { samples, rate }: Recorded): string => {
  const head = Buffer.alloc(56);
  head.write('RIFF', 0);
  head.writeUInt32LE(48 + samples.byteLength, 4);
  head.write('WAVEfmt ', 8);
  head.writeUInt32LE(16, 16);
  head.writeUInt16LE(3, 20);
  head.writeUInt16LE(1, 22);
  head.writeUInt32LE(rate, 24);
  head.writeUInt32LE(rate * 4, 28);
  head.writeUInt16LE(4, 32);
  head.writeUInt16LE(32, 34);
  head.write('fact', 36);
  head.writeUInt32LE(4, 40);
  head.writeUInt32LE(samples.length, 44);
  head.write('data', 48);
  head.writeUInt32LE(samples.byteLength, 52);
  const file = path.join(place, name);
  writeFileSync(file, Buffer.concat([head, Buffer.from(samples.buffer)]));
  return file;
};

interface Compared {
  readonly clicks: number;
  readonly heard: number;
  /** In samples. */
  readonly largest: number;
  readonly first: number;
  readonly peak: number;
  /** Whether the samples are those of the click track; null where none was given. */
  readonly same: boolean | null;
}

/** What the separate program says: test/outside/live_clicks.py, Python's standard library only. */
const compared = (...files: readonly string[]): Compared => {
  const program = path.resolve('test', 'outside', 'live_clicks.py');
  return JSON.parse(execFileSync('/usr/bin/python3', [program, ...files], { encoding: 'utf8' })) as Compared;
};

/** timeline.json of the drill that the page opens on, made by the command line at the page's sample rate. */
const timelineAt = async (rate: number, more: readonly string[] = []): Promise<string> => {
  const folder = path.join(place, `drill${rate}${more.join('')}`);
  const usual = [
    '--bars',
    '10-17',
    '--keep',
    '1/8',
    '--click',
    'weak',
    '--rate',
    String(rate),
    '--depth',
    '32',
  ];
  const ran = await levare(['drill', demo, ...usual, ...more, '--out', folder]);
  expect(ran.code, ran.err).toBe(0);
  return path.join(folder, 'timeline.json');
};

describe.skipIf(!hasBrowser)('live clicks', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 180_000);
  afterAll(() => app.close());

  it('stand on the samples of the timeline while the page hangs half a second again and again', async () => {
    const { page } = await app.open();
    await page.selectOption('[name=counts]', 'clicked');
    await settled(page);
    await page.evaluate('levareTest.record()');
    await page.evaluate('document.activeElement.blur()');
    await page.keyboard.press('Space');
    await page.evaluate('levareTest.hang()');
    const rate = await page.evaluate<number>('levareTest.rate()');
    const timeline = await timelineAt(rate);
    const faster = await timelineAt(rate, ['--tempo', '92.01']);
    // The drill lasts 26.1 s.
    await pause(27_000);
    const hangs = await page.evaluate<number>('levareTest.letGo()');
    const sound = await recorded(page);
    await page.close();
    expect(hangs).toBeGreaterThan(30);
    expect(sound.differs).toBe(false);
    const wav = wavFile('whole.wav', sound);
    const track = path.join(path.dirname(timeline), 'click.wav');
    const { clicks, heard, largest, first, peak, same } = compared(wav, timeline, track);
    expect(clicks).toBe(22);
    expect(heard).toBe(clicks);
    expect(largest).toBeLessThanOrEqual(1);
    expect(peak).toBeGreaterThan(0.1);
    // What is heard is what is in the file, sample by sample.
    expect(same).toBe(true);
    // The check can fail: a tempo a ten-thousandth higher is found out.
    expect(compared(wav, faster).largest).toBeGreaterThan(1);
    const latency = (sound.first + first - sound.pressed) / rate;
    console.log(
      `live clicks: ${heard} of ${clicks}, largest deviation ${largest} samples at ${rate} Hz, ${hangs} hangs; ` +
        `first sample ${(latency * 1000).toFixed(1)} ms after the key, as the audio clock tells it`,
    );
  });

  it('stop within the fade, without a step, and in exact silence', async () => {
    const { page } = await app.open();
    await page.evaluate('levareTest.record()');
    await page.selectOption('[name=count-in]', 'none');
    await page.selectOption('[name=click]', 'own');
    await page.fill('[name=own-click]', '1/16');
    await page.keyboard.press('Enter');
    await page.fill('[name=tempo]', '240');
    await page.keyboard.press('Enter');
    await until(page, 'document.querySelectorAll(".tick").length > 100');
    await page.waitForSelector('.sheet[aria-busy=false]');
    // Sixteenths at 240 are 62.5 ms apart and a click sounds for 36 ms: of many stops some cut a click.
    for (let i = 0; i < 10; i++) {
      await page.locator('.play').focus();
      await page.keyboard.press('Space');
      await until(page, 'document.querySelector(".play").textContent === "Stop"');
      await pause(300 + 11 * i);
      await page.keyboard.press('Space');
      await until(page, 'document.querySelector(".play").textContent === "Play"');
      await pause(60);
    }
    await pause(250);
    const sound = await recorded(page);
    await page.close();
    const { samples, rate } = sound;
    const spans = sounding(samples, Math.round(rate * 0.004));
    expect(spans.length).toBeGreaterThan(20);
    const full = Math.max(...spans.map(([from, to]) => to - from));
    const cut = spans.filter(([from, to]) => to - from < full - 2);
    // Some clicks were cut by a stop, and what is left of them ends as softly as a whole one.
    expect(cut.length).toBeGreaterThan(0);
    for (const [from, to] of cut) {
      expect(Math.abs(samples[to - 1] ?? 1)).toBeLessThan(0.01);
      expect(largestStep(samples, from, to)).toBeLessThanOrEqual(
        Math.max(...spans.filter(([a, b]) => b - a >= full - 2).map(([a, b]) => largestStep(samples, a, b))) *
          1.05,
      );
    }
    // After the last stop there is nothing at all.
    const tail = samples.subarray(samples.length - Math.round(rate * 0.1));
    expect(tail.every((value) => value === 0)).toBe(true);
    console.log(`stops: ${cut.length} of ${spans.length} clicks were cut short, all to exact silence`);
  });

  it('begin at once by key, and after the time that was set by touch', async () => {
    const { page } = await app.open();
    await page.selectOption('[name=wait]', '2');
    await page.evaluate('levareTest.record()');
    await page.evaluate('dispatchEvent(new KeyboardEvent("keydown", { key: "Shift" }))');
    await page.locator('.play').click();
    expect(await page.textContent('[role=status]')).toBe('Hands back to the instrument.');
    await until(page, 'document.querySelector(".tick.inked") !== null', 5_000);
    await page.locator('.play').click();
    const { samples, pressed, first, rate } = await recorded(page);
    await page.close();
    const onset = samples.findIndex((value) => value !== 0);
    const waited = (first + onset - pressed) / rate;
    // Two seconds, and what the test's own click takes on a busy machine; the usual three are not reached.
    expect(waited).toBeGreaterThan(2);
    expect(waited).toBeLessThan(3);
  });
});

/** Stretches between silences of at least `zeros` samples: first sample, sample after the last. */
const sounding = (samples: Float32Array, zeros: number): readonly (readonly [number, number])[] => {
  const spans: [number, number][] = [];
  for (const [i, value] of samples.entries()) {
    if (value === 0) continue;
    const last = spans.at(-1);
    if (last === undefined || i - last[1] >= zeros) spans.push([i, i + 1]);
    else last[1] = i + 1;
  }
  return spans;
};

/** The largest step from one sample to the next after a click's own beginning. */
const largestStep = (samples: Float32Array, from: number, to: number): number => {
  let largest = 0;
  for (let i = from + 1; i <= to; i++)
    largest = Math.max(largest, Math.abs((samples[i] ?? 0) - (samples[i - 1] ?? 0)));
  return largest;
};
