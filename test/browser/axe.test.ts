/**
 * What axe-core finds to blame, in every state of the page that a reader can come to: nothing. Rules of WCAG 2.0 to 2.2, A and AA,
 * and its own of good practice. The program runs beside the page and is no part of what is shipped.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Blamed {
  readonly id: string;
  readonly help: string;
  readonly nodes: readonly string[];
}

/** Violations, each with what it names. Put in front of the page's own scripts by Playwright, which the content policy lets be. */
const blamed = (page: Page): Promise<readonly Blamed[]> =>
  page.evaluate<readonly Blamed[]>(
    `axe.run(document).then(({ violations }) => violations.map(({ id, help, nodes }) => ({
      id, help, nodes: nodes.map(({ html, failureSummary }) => html.slice(0, 160) + ' | ' + failureSummary.slice(0, 300)),
    })))`,
  );

/** How many rules found something to look at and nothing to blame: that the program did look. */
const passed = (page: Page): Promise<number> =>
  page.evaluate<number>('axe.run(document).then(({ passes }) => passes.length)');

const sizes: readonly (readonly [string, BrowserContextOptions])[] = [
  ['laptop', { viewport: { width: 1366, height: 768 } }],
  ['telephone', { viewport: { width: 390, height: 844 }, hasTouch: true }],
];

describe.skipIf(!hasBrowser)('axe finds nothing', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 180_000);
  afterAll(() => app.close());

  const opened = async (options: BrowserContextOptions): Promise<Page> => {
    const context = await app.browser.newContext(options);
    await context.addInitScript(axe);
    const page = await context.newPage();
    await page.goto(app.address);
    await settled(page);
    return page;
  };

  it.each(sizes)('on page, sound, take along, error, stand and shelf of a %s', async (_, options) => {
    const page = await opened(options);
    expect(await passed(page)).toBeGreaterThan(20);
    expect(await blamed(page)).toStrictEqual([]);

    await page.selectOption('[name=sounding]', 'on');
    await settled(page);
    for (const summary of await page.locator('.margin summary').all()) await summary.click();
    expect(await blamed(page)).toStrictEqual([]);

    await page.fill('[name=to]', '700');
    await page.keyboard.press('Enter');
    await page.getByRole('alert').waitFor();
    expect(await blamed(page)).toStrictEqual([]);
    await page.fill('[name=to]', '12');
    await page.keyboard.press('Enter');
    await page.getByRole('alert').waitFor({ state: 'detached' });
    await settled(page);

    await page.locator('.play').focus();
    await page.keyboard.press('Space');
    await until(page, 'document.querySelector(".tick.inked") !== null');
    expect(await blamed(page)).toStrictEqual([]);
    await page.keyboard.press('Escape');

    await page.getByText('Put it on the stand').click();
    await page.waitForSelector('.on-stand .system svg');
    expect(await blamed(page)).toStrictEqual([]);
    await page.getByRole('button', { name: 'leave' }).click();
    await settled(page);

    await page.getByRole('button', { name: 'The shelf' }).click();
    await page.waitForSelector('main.shelf');
    for (const summary of await page.locator('main.shelf summary').all()) await summary.click();
    expect(await blamed(page)).toStrictEqual([]);
    await page.context().close();
  });

  it('in German', async () => {
    const page = await opened({ locale: 'de-DE' });
    expect(await page.textContent('.play')).toBe('Spielen');
    for (const summary of await page.locator('.margin summary').all()) await summary.click();
    expect(await blamed(page)).toStrictEqual([]);
    await page.goto(`${app.address}#shelf`);
    await page.waitForSelector('main.shelf');
    for (const summary of await page.locator('main.shelf summary').all()) await summary.click();
    expect(await blamed(page)).toStrictEqual([]);
    await page.context().close();
  });

  it('in the text about hearing, and where storage is switched off', async () => {
    const page = await opened({});
    await page.goto(`${app.address}hearing.html`);
    await page.waitForSelector('h1');
    expect(await blamed(page)).toStrictEqual([]);
    await page
      .context()
      .addInitScript('Object.defineProperty(globalThis, "indexedDB", { value: undefined })');
    await page.goto(app.address);
    await settled(page);
    await page.locator('.trouble').waitFor();
    expect(await blamed(page)).toStrictEqual([]);
    await page.context().close();
  });

  it('but would: a picture without a name, a field without one, grey on grey', async () => {
    const page = await opened({});
    await page.evaluate(
      `document.querySelector('main').insertAdjacentHTML('beforeend',
        '<img src="icon.svg"><input type="text"><p class="pale">pale</p>');
       const pale = document.querySelector('.pale');
       pale.style.color = '#999'; pale.style.backgroundColor = '#aaa';`,
    );
    expect((await blamed(page)).map(({ id }) => id)).toEqual(
      expect.arrayContaining(['image-alt', 'label', 'color-contrast']),
    );
    await page.context().close();
  });
});
