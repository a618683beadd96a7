/** Five minutes of every placement of the click at the output, in pages that hang all the time: each click on its sample. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, it } from 'vitest';
import { hasBrowser, openApp, settled, type App } from '../browser/open.ts';
import { heardPlacement, letHang, placements } from '../browser/placements.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-placements-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

describe.skipIf(!hasBrowser)('five minutes', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 120_000);
  afterAll(() => app.close());

  /** Placements that sound at the same time. */
  const together = 4;
  const rows = Array.from({ length: Math.ceil(placements.length / together) }, (_, row) =>
    placements.slice(row * together, (row + 1) * together),
  );
  it.each(rows)('of four more placements', async (...row) => {
    await Promise.all(
      row.map(async (placed) => {
        const context = await app.browser.newContext({ serviceWorkers: 'block' });
        await context.addInitScript({ path: path.resolve('test', 'browser', 'inPage.js') });
        await letHang(context);
        const page = await context.newPage();
        await page.goto(app.address);
        await settled(page);
        const repetition = ((placed.bars + 1) * placed.bar * 60) / placed.tempo;
        const folder = path.join(place, String(placements.indexOf(placed)));
        const { name, clicks, largest, hangs, seconds } = await heardPlacement(
          page,
          folder,
          placed,
          Math.ceil(300 / repetition),
        );
        console.log(
          `${name}: ${clicks} clicks in ${seconds.toFixed(0)} s, ${largest} samples, ${hangs} hangs`,
        );
        await context.close();
        rmSync(folder, { recursive: true, force: true });
      }),
    );
  });
});
