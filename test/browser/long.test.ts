/** A score of 600 bars: reading, the drill of the whole piece, all bars and the stand come soon, say how far they are, and hold nobody up. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { longQuartet } from '../support/longQuartet.ts';
import { hasBrowser, openApp, until, type App } from './open.ts';

const count = 600;

const open = (page: Page): Promise<void> =>
  page.setInputFiles('[name=score]', {
    name: 'long.musicxml',
    mimeType: 'text/xml',
    buffer: Buffer.from(longQuartet(count)),
  });

const read = (page: Page): Promise<void> =>
  until(page, `document.querySelector('h1').textContent === 'Long quartet'`, 60_000);

const idle = (page: Page): Promise<void> =>
  until(page, `document.querySelector('.sheet[aria-busy=false] .system svg') !== null`, 90_000);

/** Bars that the page says are written. */
const written = async (page: Page, where: string): Promise<number> =>
  Number(/^(\d+) of 600 bars/.exec((await page.textContent(where)) ?? '')?.[1] ?? Number.NaN);

const wholeDrill = async (page: Page): Promise<void> => {
  await page.fill('[name=to]', String(count));
  await page.keyboard.press('Enter');
  await until(page, `document.querySelector('.progress') !== null`, 60_000);
};

const pressWhenThere = (words: string): string => `{
  window.pressed = false;
  new MutationObserver((_, observer) => {
    const button = [...document.querySelectorAll('button')].find((one) => one.textContent === '${words}');
    if (button === undefined) return;
    observer.disconnect();
    button.click();
    window.pressed = true;
  }).observe(document.body, { childList: true, subtree: true });
}`;

describe.skipIf(!hasBrowser)('a quartet of 600 bars', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 90_000);
  afterAll(() => app.close());

  it('is read while the page answers, and the reading can be left: the piece before stays', async () => {
    const { page, said } = await app.open();
    // Pressed as soon as it is there: a fast machine may have read the piece before a test has looked twice.
    await page.evaluate(pressWhenThere('leave it'));
    await open(page);
    await until(page, 'window.pressed', 30_000);
    await idle(page);
    expect(await page.textContent('h1')).toBe('Lanterns on the Towpath');
    expect(await page.getByRole('alert').count()).toBe(0);
    // The piece that stayed is worked on as before.
    await page.fill('[name=to]', '14');
    await page.keyboard.press('Enter');
    await until(
      page,
      `![...document.querySelectorAll('.bar')].some((one) => one.ariaLabel === 'Bar 17')`,
      30_000,
    );
    expect(said).toStrictEqual([]);
    await page.close();
  }, 120_000);

  it('whole as a drill: the beginning is there first, only what is looked at is written, and another wish takes over', async () => {
    const { page, said } = await app.open();
    await open(page);
    await read(page);
    await idle(page);
    await wholeDrill(page);
    await idle(page);
    const first = await written(page, '.progress');
    expect(first).toBeGreaterThan(0);
    expect(first).toBeLessThan(count / 4);
    expect(await page.locator('.stretch').count()).toBeGreaterThan(40);
    // Looking elsewhere writes that, not all before it.
    await page.locator('.stretch:nth-child(41)').scrollIntoViewIfNeeded();
    await until(page, `document.querySelector('.stretch:nth-child(41) .system svg') !== null`, 60_000);
    expect(await written(page, '.progress')).toBeLessThan(count / 3);
    expect(await page.locator('.bar[aria-label="Bar 482"]').count()).toBe(1);
    // A click is put there, at the end of a long page, as anywhere.
    await page.locator('.beat[aria-label="Bar 482 beat 2, clicks"]').dispatchEvent('click');
    await until(page, `document.querySelector('[name=own-click]')?.value.includes('482:1 3 4')`, 60_000);
    await page.fill('[name=to]', '8');
    await page.keyboard.press('Enter');
    await until(page, `document.querySelectorAll('.stretch').length === 1`, 60_000);
    expect(said).toStrictEqual([]);
    await page.close();
  }, 240_000);

  it('on the stand: the first screen is there soon, the next are written ahead, and it leaves at once', async () => {
    const { page, said } = await app.open(1180, 820);
    await open(page);
    await read(page);
    await wholeDrill(page);
    await page.getByText('Put it on the stand').dispatchEvent('click');
    // Written anew for its size: until then the page's own systems are seen.
    await page.waitForTimeout(300);
    await page.waitForSelector('.on-stand[aria-busy=false] .system svg', { timeout: 60_000 });
    const on = page.getByRole('button', { name: 'on', exact: true });
    const shown: string[] = [];
    for (let turn = 0; turn < 6; turn++) {
      await until(
        page,
        `[...document.querySelectorAll('.foot button')].some((one) => one.textContent === 'on' && !one.disabled)`,
        60_000,
      );
      shown.push((await page.locator('.on-stand .system').first().getAttribute('aria-label')) ?? '');
      await on.dispatchEvent('click');
      // The page is drawn a moment later.
      const before = JSON.stringify(shown.at(-1));
      await until(
        page,
        `document.querySelector('.on-stand .system')?.getAttribute('aria-label') !== ${before}`,
        60_000,
      );
    }
    expect(new Set(shown).size).toBe(shown.length);
    await page.getByRole('button', { name: 'leave' }).click();
    await page.waitForSelector('.margin');
    expect(said).toStrictEqual([]);
    await page.close();
  }, 240_000);
});
