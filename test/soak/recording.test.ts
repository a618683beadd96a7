/** Half an hour of recording, the longest take: every sample is there, and the memory stays as it is. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fedNoise, lasting, placeOf, processesOf, savedBy, wavOf } from '../browser/fed.ts';
import { hasBrowser, openApp, settled, until, type App } from '../browser/open.ts';

const folder = mkdtempSync(path.join(tmpdir(), 'levare-recording-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** MB that the processes of a browser hold for themselves. Linux, proc(5): "RssAnon", kB. */
const held = (): number =>
  processesOf(folder).reduce((sum, pid) => {
    try {
      return (
        sum + Number(/RssAnon:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0) / 1e3
      );
    } catch {
      return sum;
    }
  }, 0);

describe.skipIf(!hasBrowser)('half an hour', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 60_000);
  afterAll(() => app.close());

  it('is recorded whole, and the memory stays as it is', async () => {
    const context = await lasting(folder);
    const page = await context.newPage();
    await page.goto(`${app.address}?microphone=noise`);
    await settled(page);
    for (const [name, text] of [
      ['tempo', '60'],
      ['times', '60'],
    ] as const) {
      await page.fill(`[name=${name}]`, text);
      await page.keyboard.press('Enter');
    }
    await settled(page);
    const start = page.locator('.start-more').getByRole('button', { name: 'Play and record' });
    await start.press('Enter');
    await page.getByRole('button', { name: 'Everyone agrees' }).click();
    await page.getByText('Play your loudest bars.').waitFor();
    await start.press('Enter');
    await until(page, 'document.querySelector(".recording-sign [role=timer]") !== null');
    const memory: number[] = [];
    while ((await page.locator('[data-cut]').count()) === 0) {
      await pause(30_000);
      memory.push(Math.round(held()));
    }
    expect(await page.locator('[data-cut]').getAttribute('data-cut')).toBe('full-length');
    console.log(`MB each half minute: ${memory.join(' ')}`);
    await page.keyboard.press('Escape');
    await page.locator('.takes > details > summary').click();
    await page.locator('[data-take] summary').click();
    const { samples, rate, whole } = wavOf(await savedBy(page, /^Take along .* as a sound/));
    await context.close();
    expect(whole).toBe(true);
    expect(samples.length).toBe(1800 * rate);
    const noise = fedNoise(30 * rate);
    const at = placeOf(samples, noise);
    let wrong = at < 0 ? samples.length : 0;
    for (let n = 0; at >= 0 && n < samples.length; n++)
      wrong += samples[n] === noise[(at + n) % noise.length] ? 0 : 1;
    console.log(`${samples.length} samples at ${rate} Hz, ${wrong} of them others than were fed`);
    expect(wrong).toBe(0);
    // The first five minutes warm up; the take itself would be 346 MB.
    const settledAt = Math.max(...memory.slice(5, 15));
    expect(Math.max(...memory.slice(15))).toBeLessThan(settledAt + 40);
  });
});
