/** Places on the page in the browser: brackets and ticks over the engraved music, the list in the margin, by touch, keys and in words. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openApp, settled, until, type App, type OpenPage } from './open.ts';

interface Rect {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** What is seen of the first place: its brackets, its ticks and the staves of their systems, in CSS pixels. */
const seen = `[...document.querySelectorAll('.system')].flatMap((system) => {
  const rect = (one) => { const { left, right, top, bottom } = one.getBoundingClientRect(); return { left, right, top, bottom }; };
  const bracket = [...system.querySelectorAll('.place')].find((one) => /^\\(?1 /.test(one.textContent));
  if (bracket === undefined) return [];
  const lines = [...system.querySelectorAll('.measure > .staff')].slice(0, 2).map((staff) => {
    const all = [...staff.children].filter(({ localName }) => localName === 'path').map(rect);
    return { top: Math.min(...all.map(({ top }) => top)), bottom: Math.max(...all.map(({ bottom }) => bottom)) };
  });
  return [{ system: rect(system), bracket: rect(bracket.querySelector('path')), lines, ticks: [...system.querySelectorAll('.seam')].map(rect) }];
})`;

interface Seen {
  readonly system: Rect;
  readonly bracket: Rect;
  readonly lines: readonly { readonly top: number; readonly bottom: number }[];
  readonly ticks: readonly Rect[];
}

describe.skipIf(!hasBrowser)('places on the page', () => {
  let app: App;
  let opened: OpenPage;
  beforeAll(async () => {
    app = await openApp();
    opened = await app.open();
  }, 120_000);
  afterAll(() => app.close());

  it.each([
    ['laptop', 1366, 768],
    ['tablet', 820, 1180],
    ['telephone', 390, 844],
  ])(
    'are brackets above the staff and ticks between the staves: %s',
    async (_, width, height) => {
      const { page, said } = await app.open(width, height);
      // Systems are drawn as they come near.
      for (const system of await page.locator('.system').all()) await system.scrollIntoViewIfNeeded();
      await until(page, 'document.querySelectorAll(".seam").length === 23');
      const found = await page.evaluate<Seen[]>(seen);
      expect(found.length).toBeGreaterThan(1);
      for (const { system, bracket, lines, ticks } of found) {
        const [upper, lower] = lines;
        if (upper === undefined || lower === undefined) throw new Error('no staves');
        expect(bracket.bottom).toBeLessThanOrEqual(upper.top);
        expect(bracket.left).toBeGreaterThanOrEqual(system.left);
        expect(bracket.right).toBeLessThanOrEqual(system.right + 1);
        for (const tick of ticks) {
          expect(tick.top).toBeGreaterThanOrEqual(upper.bottom - 1);
          expect(tick.bottom).toBeLessThanOrEqual(lower.top + 1);
        }
      }
      expect(await page.evaluate<boolean>('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      expect(said).toStrictEqual([]);
      await page.close();
    },
    60_000,
  );

  it('are listed in the margin, and told in words with each system', async () => {
    const { page } = opened;
    const rows = await page.locator('.places > ul button').allTextContents();
    expect(rows[0]).toBe('1 bars 10 to 17: one line of eighths, Flute and Clarinet in B♭');
    const tree = await page.locator('body').ariaSnapshot();
    expect(tree).toContain('region "Places where you depend on each other"');
    expect(tree).toMatch(/img "Bars? 1.*Place 1, bars 10 to 17: one line of eighths; takes over: /);
    const numbers = await page.locator('.places .number').allTextContents();
    const all = numbers.map(Number).toSorted((a, b) => a - b);
    expect(all).toStrictEqual(all.map((_, i) => i + 1));
  });

  it('have a key beside them: each player’s hue and line as on the page, and in words', async () => {
    const { page } = opened;
    const tree = await page.locator('.key').ariaSnapshot();
    expect(tree).toContain('list "Ticks between the staves lean to who takes over:"');
    expect(tree).toMatch(/listitem: .*Flute.*: unbroken line/);
    expect(tree).toMatch(/listitem: .*Clarinet in B♭.*: long dashes/);
    const looks = (selector: string): Promise<string[]> =>
      page.evaluate<string[]>(
        `[...new Set([...document.querySelectorAll('${selector}')].map((one) => one.getAttribute('stroke') + (one.hasAttribute('stroke-dasharray') ? ' broken' : '')))].sort()`,
      );
    const key = await looks('.key line');
    expect(key).toHaveLength(2);
    expect(await looks('.seam')).toStrictEqual(key);
    // Where nobody takes over there is nothing to explain.
    const { page: other } = await app.open();
    await other.selectOption('[name=keep]', 'all');
    await other.fill('[name=from]', '1');
    await other.fill('[name=to]', '1');
    await other.keyboard.press('Enter');
    await settled(other);
    await until(other, 'document.querySelectorAll(".seam").length === 0', 20_000);
    expect(await other.locator('.key').count()).toBe(0);
    await other.close();
  }, 180_000);

  it('take the drill to their bars, by keys too', async () => {
    const { page } = await app.open();
    await page.locator('.places summary').focus();
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    expect(await page.evaluate<string>('document.activeElement.textContent')).toMatch(/^2 bars 52 to 56/);
    await page.keyboard.press('Enter');
    await until(page, 'document.querySelector("[name=from]").value === "52"');
    expect(await page.inputValue('[name=to]')).toBe('56');
    await settled(page);
    await until(page, 'document.querySelector("#place-2") !== null', 20_000);
    await page.close();
  }, 180_000);
});
