/** The page in German: chosen by the browser's language, switched in the margin, kept on the device, in full at three sizes. */
import path from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { english, type Words } from '../../src/app/words/en/index.ts';
import { german } from '../../src/app/words/de/index.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

/** All texts of a table that are written out. */
const texts = (table: unknown): readonly string[] =>
  typeof table === 'string'
    ? [table]
    : typeof table === 'object' && table !== null
      ? Object.values(table).flatMap(texts)
      : [];

/** Texts of the English table that are not also in the German one. */
const onlyEnglish = (words: Words): readonly string[] => {
  const known = new Set(texts(german));
  return texts(words).filter((text) => text !== '' && !known.has(text));
};

/** Everything that is shown or read out, one text for each line. */
const shownTexts = `(() => {
  const found = [];
  const walk = (node) => {
    if (node instanceof SVGElement || node.closest?.('.languages') || node.localName === 'noscript') return;
    for (const name of ['aria-label', 'title', 'placeholder']) {
      const text = node.getAttribute(name);
      if (text) found.push(text);
    }
    for (const inner of node.childNodes) {
      if (inner.nodeType === Node.TEXT_NODE) found.push(inner.data.trim());
      else if (inner.nodeType === Node.ELEMENT_NODE) walk(inner);
    }
  };
  walk(document.body);
  return found.filter((text) => text !== '');
})()`;

describe.skipIf(!hasBrowser)('the page in German', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 120_000);
  afterAll(() => app.close());

  const open = async (locale: string, width = 1366, height = 768): Promise<Page> => {
    const context = await app.browser.newContext({ locale, viewport: { width, height } });
    const page = await context.newPage();
    await page.addInitScript({ path: path.resolve('test', 'browser', 'inPage.js') });
    await page.goto(app.address);
    await settled(page);
    await until(page, 'document.querySelector(".places") !== null');
    return page;
  };
  const lang = (page: Page): Promise<string> => page.evaluate<string>('document.documentElement.lang');

  const noEnglish = async (page: Page): Promise<void> => {
    const all = await page.evaluate<string[]>(shownTexts);
    expect(all.length).toBeGreaterThan(30);
    // The piece and its parts are called as the score calls them.
    const shown = all.map((text) => text.replace(/Clarinet in B♭|Lanterns on the Towpath/g, '').trim());
    const foreign = onlyEnglish(english);
    const isLeft = (text: string): boolean =>
      foreign.some((one) => text === one || (one.includes(' ') && text.includes(one)));
    expect(shown.filter(isLeft)).toEqual([]);
    expect(
      shown.filter((text) => /\b(the|and|bars?|beats?|with|your|of|is|one|two|three|four)\b/.test(text)),
    ).toEqual([]);
  };

  /** Count words and labels of places, as they are written into the music. */
  const inMusic = (page: Page): Promise<string> =>
    page.evaluate<string>(
      `[...document.querySelectorAll('.system svg text')].map((one) => one.textContent.trim()).join(' ')`,
    );

  it.each([
    ['laptop', 1366, 768],
    ['tablet', 820, 1180],
    ['telephone', 390, 844],
  ])(
    'has no English word left and stays within its width: %s',
    async (_, width, height) => {
      const page = await open('de-DE', width, height);
      expect(await lang(page)).toBe('de');
      await noEnglish(page);
      expect(await inMusic(page)).toMatch(/eins .*zwei .*vier .*1 Linie/s);
      expect(await page.evaluate<boolean>('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      await page.context().close();
    },
    60_000,
  );

  it('speaks German on the shelf, on the stand and of what is wrong', async () => {
    const page = await open('de-CH');
    await page.locator('input[name=from]').fill('999');
    await page.keyboard.press('Enter');
    await until(page, 'document.querySelector(".error") !== null');
    expect(await page.locator('.error').textContent()).toMatch(
      /^Einen Takt oder ein Studierzeichen „999“ gibt es nicht/,
    );
    await page.locator('input[name=from]').fill('10');
    await page.keyboard.press('Enter');
    await settled(page);
    await page.getByRole('button', { name: german.stand.put }).click();
    await page.waitForSelector('.foot');
    expect(
      (await page.evaluate<string[]>(shownTexts)).filter((text) => onlyEnglish(english).includes(text)),
    ).toEqual([]);
    await page.getByRole('button', { name: german.stand.leave }).click();
    await page.evaluate("location.hash = '#shelf'");
    await page.waitForSelector('main.shelf');
    await page.evaluate("document.querySelectorAll('details').forEach((one) => (one.open = true))");
    const shown = await page.evaluate<string[]>(shownTexts);
    expect(shown).toContain(german.shelf.title);
    expect(shown.filter((text) => onlyEnglish(english).includes(text))).toEqual([]);
    await page.context().close();
  }, 180_000);

  it('can be switched in the margin, and stays so when it is loaded anew', async () => {
    const page = await open('en-GB');
    expect(await lang(page)).toBe('en');
    await page.getByRole('button', { name: 'Deutsch' }).click();
    expect(await lang(page)).toBe('de');
    expect(await page.locator('.play').textContent()).toBe(german.margin.play);
    await until(
      page,
      '[...document.querySelectorAll(".system svg text")].some((one) => one.textContent.trim() === "eins")',
    );
    await page.reload();
    await settled(page);
    expect(await lang(page)).toBe('de');
    await page.goto(`${app.address}hearing.html`);
    expect(await page.locator('h1').textContent()).toBe('Gehör');
    expect(await lang(page)).toBe('de');
    await page.goto(app.address);
    await settled(page);
    await page.getByRole('button', { name: 'English' }).click();
    expect(await page.locator('.play').textContent()).toBe(english.margin.play);
    await page.context().close();
  }, 180_000);
});
