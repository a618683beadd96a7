/**
 * How the app looks, held against pictures that are kept. `npm run looks` takes them anew; look at each before it is kept.
 *
 * Tolerance: pixelmatch's own threshold of 0.1 in OKLab, smoothed edges left out, and in no square of 32 pixels more than 12 pixels that
 * differ. Fonts come with the app and Chromium draws letters itself, so that another machine with Debian's Chromium shows the same but for
 * the smoothing of edges; a tick that is missing, the least thing that means something, is some 30 pixels.
 */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import pixelmatch from 'pixelmatch';
import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const kept = path.resolve('test', 'browser', 'looks');
const anew = process.env['LEVARE_LOOKS'] === 'anew';

const square = 32;
const most = 12;

/** Flat pictures take the least room so. */
const small = { deflateLevel: 9, deflateStrategy: 0, filterType: 0, colorType: 2 } as const;

/** Most pixels that differ in a square; null where the sizes do. `file`: where a picture of the differences is put. */
const differing = (one: PNG, other: PNG, file: string | null = null): number | null => {
  const { width, height } = one;
  if (other.width !== width || other.height !== height) return null;
  const picture = file === null ? null : new PNG({ width, height });
  const options = { threshold: 0.1, windowSize: square };
  const count = pixelmatch(one.data, other.data, picture?.data, width, height, options);
  if (file !== null && picture !== null && count > most) writeFileSync(file, PNG.sync.write(picture));
  return count;
};

const laptop = { viewport: { width: 1280, height: 720 } };
const tablet = { viewport: { width: 834, height: 1112 }, hasTouch: true };
const telephone = { viewport: { width: 390, height: 844 }, hasTouch: true };
const sideways = { width: 844, height: 390 };

interface Look {
  readonly name: string;
  /** Brings the page there; what is to be seen, the window where it is left out. */
  readonly to: (page: Page) => Promise<Locator | undefined>;
}

const nothing = (): Promise<undefined> => Promise.resolve(undefined);

const stand = async (page: Page): Promise<undefined> => {
  await page.getByText(/Put it on the stand/).click();
  // Written anew for its size: until then the page's own systems are seen.
  await page.waitForTimeout(300);
  await page.waitForSelector('.on-stand[aria-busy=false] .system svg', { timeout: 60_000 });
};

/** Leaves the stand, or the choice of bars. */
const left = async (page: Page): Promise<void> => {
  await page.keyboard.press('Escape');
  await page.locator('.places li').first().waitFor();
  await settled(page);
};

const allBars = async (page: Page): Promise<undefined> => {
  await page.getByRole('button', { name: 'all bars' }).click();
  await page.locator('.stretch .system svg').first().waitFor({ timeout: 60_000 });
  // How many bars are written changes as one looks.
  await page.evaluate(
    `document.querySelector('.choosing .aside').style.visibility = 'hidden'; scrollTo(0, 0)`,
  );
  // All that is in the window is written.
  await until(
    page,
    `[...document.querySelectorAll('.stretch')].every((one) =>
      one.getBoundingClientRect().top > innerHeight || one.querySelector('.line') !== null)`,
    60_000,
  );
};

const margin = async (page: Page): Promise<Locator> => {
  await left(page);
  for (const words of ['more about the drill', 'Our own markings', 'Files of this drill'])
    await page.locator('summary').filter({ hasText: words }).click();
  return page.locator('.margin');
};

const shelf = async (page: Page): Promise<undefined> => {
  await page.getByRole('button', { name: 'The shelf' }).click();
  await page.waitForSelector('main.shelf');
  await page.locator('.pieces summary').first().click();
};

/** One page each, from look to look. */
const visits: readonly { readonly size: BrowserContextOptions; readonly looks: readonly Look[] }[] = [
  {
    size: laptop,
    looks: [
      { name: 'page-laptop', to: nothing },
      { name: 'all-bars-laptop', to: allBars },
      {
        name: 'stand-laptop',
        to: async (page) => {
          await left(page);
          return stand(page);
        },
      },
      { name: 'margin-laptop', to: margin },
    ],
  },
  {
    size: telephone,
    looks: [
      { name: 'page-telephone', to: nothing },
      {
        name: 'stand-telephone',
        to: async (page) => {
          await page.setViewportSize(sideways);
          return stand(page);
        },
      },
    ],
  },
  { size: { ...telephone, locale: 'de-DE' }, looks: [{ name: 'page-telephone-de', to: nothing }] },
  { size: tablet, looks: [{ name: 'shelf-tablet', to: shelf }] },
];

describe.skipIf(!hasBrowser)('the looks', () => {
  let app: App;
  const out = mkdtempSync(path.join(tmpdir(), 'levare-looks-'));
  beforeAll(async () => {
    app = await openApp();
    if (anew) mkdirSync(kept, { recursive: true });
  }, 120_000);
  afterAll(() => app.close());

  const opened = async (size: BrowserContextOptions): Promise<Page> => {
    // What says whether the app is kept for times without a network comes when it comes.
    const context = await app.browser.newContext({
      ...size,
      deviceScaleFactor: 1,
      reducedMotion: 'reduce',
      serviceWorkers: 'block',
    });
    const page = await context.newPage();
    await page.goto(app.address);
    await settled(page);
    await page.locator('.places li').first().waitFor({ timeout: 60_000 });
    await settled(page);
    return page;
  };

  /** The picture once it stays the same: fonts and places may come late. */
  const shot = async (page: Page, what: Locator | undefined): Promise<PNG> => {
    await page.mouse.move(0, 0);
    await page.evaluate(
      'document.fonts.ready.then(() => document.activeElement instanceof HTMLElement && document.activeElement.blur())',
    );
    const options = { animations: 'disabled', caret: 'hide', scale: 'css' } as const;
    const take = (): Promise<Buffer> =>
      what === undefined ? page.screenshot(options) : what.screenshot(options);
    for (let before = await take(), same = 0, tries = 0; tries < 40; tries++) {
      await page.waitForTimeout(200);
      const now = await take();
      same = now.equals(before) ? same + 1 : 0;
      if (same === 3) return PNG.sync.read(now);
      before = now;
    }
    throw new Error('The page does not come to rest.');
  };

  const likeKept = async (page: Page, { name, to }: Look): Promise<string | null> => {
    const now = await shot(page, await to(page));
    const file = path.join(kept, `${name}.png`);
    if (anew) {
      writeFileSync(file, PNG.sync.write(now, small));
      return null;
    }
    if (!existsSync(file)) return `${file}: npm run looks takes it`;
    writeFileSync(path.join(out, `${name}.png`), PNG.sync.write(now));
    const count = differing(PNG.sync.read(readFileSync(file)), now, path.join(out, `${name}-differs.png`));
    if (count === null) return `${name} has another size; see ${out}`;
    return count > most ? `${name}: ${count} pixels of a square of ${square} differ; see ${out}` : null;
  };

  it.each(visits.map((visit) => [visit.looks.map(({ name }) => name).join(', '), visit] as const))(
    'are as they were: %s',
    async (_, { size, looks }) => {
      const page = await opened(size);
      const unlike: string[] = [];
      for (const look of looks) {
        const said = await likeKept(page, look);
        if (said !== null) unlike.push(said);
      }
      await page.context().close();
      expect(unlike).toEqual([]);
    },
    240_000,
  );

  it('and a tick that is missing, or a word, would be seen', async () => {
    const page = await opened(laptop);
    const now = await shot(page, undefined);
    expect(differing(now, now)).toBe(0);
    await page.evaluate(`document.querySelector('.tick').remove()`);
    expect(differing(now, await shot(page, undefined))).toBeGreaterThan(most);
    await page.evaluate(`document.querySelector('.play').textContent = 'Plaz'`);
    expect(differing(now, await shot(page, undefined))).toBeGreaterThan(most);
    await page.context().close();
  }, 120_000);
});
