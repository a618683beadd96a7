/** Five minutes of clicks and parts at the output while the page hangs all the time, against the command line's files. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { beginning, heardOn, misfit, trackOf } from '../browser/heard.ts';
import { hasBrowser, openApp, settled, until, type App } from '../browser/open.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-soak-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

/** Eight bars of four beats of half a second, and the bar between. */
const times = '19';

describe.skipIf(!hasBrowser)('five minutes', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 60_000);
  afterAll(() => app.close());

  it('stand on their samples, and no part is late', async () => {
    const { page } = await app.open();
    await page.fill('[name=tempo]', '120');
    await page.keyboard.press('Enter');
    await page.fill('[name=times]', times);
    await page.keyboard.press('Enter');
    await page.selectOption('[name=sounding]', 'on');
    await settled(page);
    await page.evaluate('levareTest.record(420)');
    await page.locator('.play').focus();
    await page.keyboard.press('Space');
    await until(page, 'document.querySelector(".play").textContent === "Stop"');
    await page.evaluate('levareTest.hang()');
    const rate = await page.evaluate<number>('levareTest.rate()');
    const usual = ['--bars', '10-17', '--keep', '1/8', '--click', 'weak', '--tempo', '120', '--times', times];
    const wanted = await trackOf(path.join(place, 'drill'), rate, ...usual);
    const seconds = wanted.click.length / rate;
    expect(seconds).toBeGreaterThan(300);
    await pause(seconds * 1000);
    const hangs = await page.evaluate<number>('levareTest.letGo()');
    const late = await page.evaluate<number>('levareTest.late()');
    const { left, gaps } = await heardOn(page);
    await page.close();
    const at = beginning(left, wanted, rate);
    const { factor, left: rest } = misfit(left, at, wanted);
    console.log(
      `${seconds.toFixed(1)} s: k = ${factor.toFixed(4)}, largest rest ${rest.toExponential(1)}, ${hangs} hangs, ${late} samples late`,
    );
    expect(gaps).toBe(false);
    expect(late).toBe(0);
    expect(rest).toBeLessThan(1e-4);
  });
});
