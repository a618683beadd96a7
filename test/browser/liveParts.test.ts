/** The parts as they are heard, with the click, against the command line's files: written down at the output, sample by sample. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { beginning, heardOn, misfit, trackOf, type Expected, type Track } from './heard.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-parts-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

/** Full scale is 1: -80 dB. */
const nothing = 1e-4;

/** Our own fade: 5 ms of half a cosine (docs/decisions/browser.md). */
const fadeTime = 0.005;

/** Beats of half a second: whole samples at 44.1 and 48 kHz. */
const usual = ['--tempo', '120', '--count-in', 'none', '--keep', '1/8'];

describe.skipIf(!hasBrowser)('live parts', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 180_000);
  afterAll(() => app.close());

  const write = async (page: Page, name: string, text: string): Promise<void> => {
    await page.fill(`[name="${name}"]`, text);
    await page.keyboard.press('Enter');
  };
  /** A page with the parts on and a drill of these bars, recording. */
  const opened = async (bars: readonly [string, string], click: string, times = '1'): Promise<Page> => {
    const { page } = await app.open();
    await write(page, 'from', bars[0]);
    await write(page, 'to', bars[1]);
    await write(page, 'tempo', '120');
    await write(page, 'times', times);
    await page.selectOption('[name=click]', click);
    await page.selectOption('[name=count-in]', 'none');
    await page.selectOption('[name=sounding]', 'on');
    await settled(page);
    await page.evaluate('levareTest.record()');
    return page;
  };
  const start = async (page: Page): Promise<void> => {
    await page.locator('.play').focus();
    await page.keyboard.press('Space');
    await until(page, 'document.querySelector(".play").textContent === "Stop"');
  };
  const ended = (page: Page): Promise<void> =>
    until(page, 'document.querySelector(".play").textContent === "Play"', 30_000);
  const rateOf = (page: Page): Promise<number> => page.evaluate<number>('levareTest.rate()');
  const track = (name: string, rate: number, ...words: readonly string[]): Promise<Track> =>
    trackOf(path.join(place, name), rate, ...words, ...usual);

  /** Seconds from the key to the first sound, of each start. */
  const begun: number[] = [];
  it.each(['weak', 'every', 'after'])(
    'are k times parts.wav beside the click %s, while the page hangs half a second again and again',
    async (click) => {
      const page = await opened(['10', '12'], click);
      await start(page);
      await page.evaluate('levareTest.hang()');
      const rate = await rateOf(page);
      const wanted = await track(click, rate, '--bars', '10-12', '--click', click);
      await pause((wanted.click.length / rate) * 1000);
      const hangs = await page.evaluate<number>('levareTest.letGo()');
      await ended(page);
      const late = await page.evaluate<number>('levareTest.late()');
      const { left, right, gaps, first, pressed } = await heardOn(page);
      await page.close();
      const at = beginning(left, wanted, rate);
      const { factor, left: rest } = misfit(left, at, wanted);
      console.log(
        `live parts, ${click}: k = ${factor.toFixed(4)}, largest rest ${rest.toExponential(1)}, ${hangs} hangs, ${late} samples late; ` +
          `begins ${(((first + at - pressed) / rate) * 1000).toFixed(1)} ms after the key`,
      );
      expect(gaps).toBe(false);
      expect(hangs).toBeGreaterThan(5);
      expect(late).toBe(0);
      expect(factor).toBeGreaterThan(0.05);
      expect(rest).toBeLessThan(nothing);
      expect(right).toStrictEqual(left);
      begun.push((first + at - pressed) / rate);
      // The check can fail: one sample beside, it does.
      expect(misfit(left, at + 1, wanted).left).toBeGreaterThan(nothing);
    },
  );

  it('begin within 50 ms of the key', () => {
    // By the audio clock, the device's own output not counted; of three starts the soonest, as other work may come between.
    expect(begun.length).toBe(3);
    expect(Math.min(...begun)).toBeLessThan(0.05);
  });

  it('are left out where they are silent, and leave the left to the click alone', async () => {
    const page = await opened(['10', '11'], 'weak');
    await page.selectOption('[name=level-P1]', 'silent');
    await page.selectOption('[name=place]', 'left');
    await start(page);
    const rate = await rateOf(page);
    const wanted = await track('silent', rate, '--bars', '10-11', '--click', 'weak', '--without', 'P1');
    const all = await track('loud', rate, '--bars', '10-11', '--click', 'weak');
    await ended(page);
    const { left, right } = await heardOn(page);
    await page.close();
    const none = new Float32Array(wanted.click.length);
    const at = beginning(left, { click: wanted.click, parts: none }, rate * 2);
    // The click is alone on the left, to the last bit, and nowhere on the right.
    expect(misfit(left, at, { click: wanted.click, parts: none }).left).toBe(0);
    const { factor, left: rest } = misfit(right, at, { click: none, parts: wanted.parts });
    expect(factor).toBeGreaterThan(0.05);
    expect(rest).toBeLessThan(nothing);
    expect(misfit(right, at, { click: none, parts: all.parts }).left).toBeGreaterThan(nothing);
  });

  it('go over to another click exactly at the end of the time through', async () => {
    const page = await opened(['10', '11'], 'weak', '2');
    await start(page);
    await page.selectOption('[name=click]', 'every');
    await until(page, 'document.querySelector(".start .state").textContent.includes("next time through")');
    const rate = await rateOf(page);
    const now = await track('now', rate, '--bars', '10-11', '--click', 'weak', '--times', '2');
    const next = await track('next', rate, '--bars', '10-11', '--click', 'every', '--times', '2');
    // The other one has taken over; two seconds of it.
    await until(page, 'document.querySelector(".start .state").textContent === "It plays."', 20_000);
    await pause(2_000);
    await page.keyboard.press('Escape');
    await ended(page);
    const { left } = await heardOn(page);
    await page.close();
    const at = beginning(left, now, rate);
    // Two bars of four beats of half a second.
    const end = 4 * rate;
    expect(next.clicks.filter(({ rep }) => rep === 1)).toHaveLength(8);
    expect(misfit(left, at, now, 0, end).left).toBeLessThan(nothing);
    const { factor } = misfit(left, at, now, 0, end);
    const both = joined(now, next, end, 0, Math.round(fadeTime * rate));
    const { left: rest, factor: other } = misfit(left, at, both, 0, end + rate * 1.5);
    expect(other).toBeCloseTo(factor, 3);
    expect(rest).toBeLessThan(nothing);
    // A sample earlier or later is found out.
    for (const off of [-1, 1])
      expect(
        misfit(left, at, joined(now, next, end + off, 0, Math.round(fadeTime * rate)), 0, end + rate * 1.5)
          .left,
      ).toBeGreaterThan(nothing);
  });

  it('go over at the next bar already where that is asked for', async () => {
    const page = await opened(['10', '12'], 'weak', '2');
    await page.selectOption('[name=place]', 'left');
    await start(page);
    await page.selectOption('[name=click]', 'every');
    await page.getByRole('button', { name: 'from the next bar already' }).press('Enter');
    const rate = await rateOf(page);
    const now = await track('here', rate, '--bars', '10-12', '--click', 'weak', '--times', '2');
    const next = await track('there', rate, '--bars', '10-12', '--click', 'every', '--times', '2');
    await until(page, 'document.querySelector(".start .state").textContent === "It plays."', 20_000);
    await pause(3_500);
    await page.keyboard.press('Escape');
    await ended(page);
    const { left, right } = await heardOn(page);
    await page.close();
    const none = new Float32Array(now.click.length);
    const fade = Math.round(fadeTime * rate);
    const shown = 2.5 * rate;
    const at = beginning(right, { click: none, parts: now.parts }, rate);
    const clicksFrom = (bar: number): number => {
      const { click } = joined(now, next, bar, bar, fade);
      return misfit(left, at, { click, parts: none }, 0, bar + shown).left;
    };
    const bars = next.clicks.filter(({ beat, rep }) => beat === '1' && rep === 1).map(({ sample }) => sample);
    // One bar line fits, to the last bit, and a sample beside it none.
    const fits = bars.slice(1).filter((bar) => clicksFrom(bar) === 0);
    expect(fits).toHaveLength(1);
    const [bar = 0] = fits;
    for (const off of [-1, 1]) {
      const { click } = joined(now, next, bar + off, bar, fade);
      expect(misfit(left, at, { click, parts: none }, 0, bar + shown).left).toBeGreaterThan(nothing);
    }
    // The parts: until there the old drill's; after it the new one's, once what was tied over the bar line is over.
    const old = misfit(right, at, { click: none, parts: now.parts }, 0, bar);
    expect(old.left).toBeLessThan(nothing);
    const ring = 0.5;
    const ends = next.notes
      .filter(({ time }) => time * rate < bar - 1)
      .map(({ time, duration }) => time + duration);
    const over = Math.max(bar, (Math.max(...ends.filter((end) => end * rate < bar + shown)) + ring) * rate);
    const fresh = misfit(right, at, { click: none, parts: next.parts }, Math.round(over), bar + shown);
    console.log(`next bar: at ${bar / rate} s; parts compared again from ${(over / rate).toFixed(2)} s on`);
    expect(over).toBeLessThan(bar + shown - rate / 2);
    expect(fresh.left).toBeLessThan(nothing);
    expect(fresh.factor).toBeCloseTo(old.factor, 3);
  });
});

/** One drill up to its sample `at`, fading out from there, and another from its sample `from` on in its place. */
const joined = (now: Track, next: Track, at: number, from: number, fade: number): Expected => {
  const length = at + next.click.length - from;
  const put = (old: Float32Array, fresh: Float32Array): Float32Array =>
    Float32Array.from({ length }, (_, n) => {
      const gone = (n - at) / fade;
      const gain = gone <= 0 ? 1 : gone >= 1 ? 0 : (1 + Math.cos(Math.PI * gone)) / 2;
      return gain * (old[n] ?? 0) + (n < at ? 0 : (fresh[n - at + from] ?? 0));
    });
  return { click: put(now.click, next.click), parts: put(now.parts, next.parts) };
};
