/** Every placement of the click, live, at the output, in pages that hang: each click on its sample. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openApp, settled, type App } from './open.ts';
import { heardPlacement, letHang, placements, type HeardPlacement } from './placements.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-placements-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

/** Pages that sound at the same time. */
const pages = 7;

describe.skipIf(!hasBrowser)('every placement', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 180_000);
  afterAll(() => app.close());

  it('sounds on the samples of its timeline and where players expect it, while the page hangs again and again', async () => {
    const heard: HeardPlacement[] = [];
    const inOne = async (which: number): Promise<void> => {
      // What keeps the app for times without a network would take part in what the page waits for.
      const context = await app.browser.newContext({ serviceWorkers: 'block' });
      await context.addInitScript({ path: path.resolve('test', 'browser', 'inPage.js') });
      await letHang(context);
      const page = await context.newPage();
      await page.goto(app.address);
      await settled(page);
      for (const [i, placed] of placements.entries())
        if (i % pages === which) heard.push(await heardPlacement(page, path.join(place, String(i)), placed));
      await context.close();
    };
    await Promise.all(Array.from({ length: pages }, (_, which) => inOne(which)));
    expect(heard).toHaveLength(placements.length);
    // Half a second, and a moment between: a page that lasts 14 s hangs some 25 times.
    for (const { hangs, name } of heard) expect(hangs, name).toBeGreaterThan(15);
    const all = heard.reduce((sum, { clicks }) => sum + clicks, 0);
    const hangs = heard.reduce((sum, one) => sum + one.hangs, 0);
    const largest = Math.max(...heard.map((one) => one.largest));
    console.log(
      `${heard.length} placements, ${all} clicks, largest deviation ${largest} samples, ${hangs} hangs of half a second`,
    );
  }, 600_000);
});
