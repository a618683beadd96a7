/** The focus: where the Tab key leads, that it is seen, and what is said meanwhile to those who do not see the page. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

interface Focused {
  readonly what: string;
  /** Among all elements of the document, in its order. */
  readonly place: number;
  readonly music: boolean;
  /** CSS pixels. */
  readonly outline: number;
  /** Contrast of the outline with what is behind it. */
  readonly ratio: number;
  readonly inView: boolean;
}

interface Stop {
  readonly what: string;
  readonly place: number;
}

/** Goes through all stops of the Tab key, once around, from the first one of the document on. */
const walked = async (page: Page): Promise<readonly Focused[]> => {
  const stops: Focused[] = [];
  for (let step = 0; step < 400; step++) {
    await page.keyboard.press('Tab');
    const at = await page.evaluate<Focused | null>('levareTest.focused()');
    // Behind the last one the focus leaves the page, and comes in again at the first.
    if (at === null) continue;
    if (at.place === stops[0]?.place) {
      const first = stops.findIndex(({ place }) => place === Math.min(...stops.map((one) => one.place)));
      return [...stops.slice(first), ...stops.slice(0, first)];
    }
    stops.push(at);
  }
  throw new Error('The Tab key does not come to an end.');
};

/** Waits until nothing is drawn anew any more. */
const atRest = async (page: Page): Promise<void> => {
  const elements = (): Promise<number> => page.evaluate<number>(`document.querySelectorAll('*').length`);
  let before = await elements();
  for (let still = 0; still < 4;) {
    await page.waitForTimeout(300);
    const now = await elements();
    still = now === before ? still + 1 : 0;
    before = now;
  }
};

const goesThrough = async (page: Page): Promise<number> => {
  await atRest(page);
  const wanted = await page.evaluate<readonly Stop[]>('levareTest.stops()');
  const stops = await walked(page);
  // WCAG 2.2, 2.1.1 and 2.1.2: every control, once, and out again. 2.4.3: in the order of the text.
  expect(stops.map(({ what }) => what).sort()).toStrictEqual(wanted.map(({ what }) => what).sort());
  expect(stops.map(({ place }) => place)).toStrictEqual(
    stops.map(({ place }) => place).sort((a, b) => a - b),
  );
  // 2.4.7 and 2.4.13: an outline of 2 px, 3 to 1 against the paper. 2.4.11: in view.
  expect(stops.filter(({ outline, ratio }) => outline < 2 || ratio < 3)).toStrictEqual([]);
  expect(stops.filter(({ inView }) => !inView)).toStrictEqual([]);
  return stops.length;
};

describe.skipIf(!hasBrowser)('the focus', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 120_000);
  afterAll(() => app.close());

  it.each([
    ['laptop', 1366, 768],
    ['tablet', 834, 1112],
    ['telephone', 390, 844],
  ] as const)(
    'comes to every control, in order, and is seen: page, stand and shelf of a %s',
    async (_, width, height) => {
      const { page } = await app.open(width, height);
      await page.locator('.places li').first().waitFor({ timeout: 60_000 });
      for (const summary of await page.locator('.margin summary').all()) await summary.click();
      await settled(page);
      expect(await goesThrough(page)).toBeGreaterThan(30);
      await page.getByText('Put it on the stand').click();
      await page.waitForSelector('.on-stand .system svg', { timeout: 60_000 });
      expect(await goesThrough(page)).toBeGreaterThan(4);
      await page.getByRole('button', { name: 'leave' }).click();
      await settled(page);
      await page.getByRole('button', { name: 'The shelf' }).click();
      await page.waitForSelector('main.shelf');
      for (const summary of await page.locator('main.shelf summary').all()) await summary.click();
      expect(await goesThrough(page)).toBeGreaterThan(10);
      await page.close();
    },
    240_000,
  );

  it('what is done is said, once and in words', async () => {
    const { page } = await app.open();
    await page.evaluate('levareTest.listen()');
    const said = async (words: string): Promise<void> => {
      await until(page, `levareTest.said().some((text) => text.includes(${JSON.stringify(words)}))`, 30_000);
    };
    await page.locator('.bar').nth(2).click();
    await said('The passage: bars 12 to 17.');
    await page.keyboard.press('Control+z');
    await said('Undone. The passage: bars 10 to 17.');
    await page.fill('[name=to]', '700');
    await page.keyboard.press('Enter');
    await said('700');
    await page.fill('[name=to]', '12');
    await page.keyboard.press('Enter');
    await page.getByRole('alert').waitFor({ state: 'detached' });
    await settled(page);
    await page.locator('.play').focus();
    await page.keyboard.press('Space');
    await said('It plays.');
    await page.getByRole('button', { name: 'slower' }).press('Enter');
    await said('The change counts from the next');
    await page.keyboard.press('Escape');
    await page.close();
  }, 120_000);
});
