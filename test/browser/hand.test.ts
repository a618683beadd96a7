/** The drill made on the page: bars and beats by touch, by drawing and by keys; undo; all bars; seldom wanted words. */
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sharedData } from '../shared.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const value = (page: Page, name: string): Promise<string> => page.inputValue(`[name="${name}"]`);

const passage = async (page: Page): Promise<string> =>
  `${await value(page, 'from')}-${await value(page, 'to')}`;

const bar = (page: Page, number: number) =>
  page.locator('.bar').and(page.getByRole('button', { name: `Bar ${number}`, exact: true }));

const beat = (page: Page, number: number, which: string) =>
  page.locator('.beat').and(page.getByRole('button', { name: new RegExp(`^Bar ${number} beat ${which},`) }));

/** Beats of a bar that click, as they are named for those who do not see them. */
const clicked = async (page: Page, number: number): Promise<string[]> => {
  const names = await page.evaluate<string[]>(
    `[...document.querySelectorAll('.beat[aria-pressed=true]')].map((one) => one.getAttribute('aria-label'))`,
  );
  return names.flatMap((name) => new RegExp(`^Bar ${number} beat ([^,]+),`).exec(name)?.[1] ?? []);
};

const idle = async (page: Page): Promise<void> => {
  await until(page, `document.querySelector('.sheet[aria-busy=false] .system svg') !== null`, 30_000);
};

/** Draws from the middle of one place to the middle of another. */
const draw = async (page: Page, from: ReturnType<typeof bar>, to: ReturnType<typeof bar>): Promise<void> => {
  const [a, b] = [await from.boundingBox(), await to.boundingBox()];
  if (a === null || b === null) throw new Error('Nothing to draw over.');
  await page.mouse.move(a.x + a.width / 2, a.y + a.height * 0.7);
  await page.mouse.down();
  await page.mouse.move(b.x + b.width / 2, b.y + b.height * 0.7, { steps: 8 });
  await page.mouse.up();
};

describe.skipIf(!hasBrowser)('the drill made on the page', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 90_000);
  afterAll(() => app.close());

  it('again, from another bar with its upbeat, slower: three touches', async () => {
    const { page, said } = await app.open();
    const before = await page.textContent('.aside[data-clicks]');
    let touches = 0;
    const touch = async (place: ReturnType<typeof bar>): Promise<void> => {
      touches += 1;
      await place.click();
    };
    await touch(bar(page, 13));
    await touch(page.getByRole('button', { name: 'slower' }));
    await touch(page.getByRole('button', { name: 'Play', exact: true }));
    await until(page, `document.querySelector('.tick.inked') !== null`, 30_000);
    expect(touches).toBeLessThanOrEqual(3);
    expect(await passage(page)).toBe('13-17');
    expect(await value(page, 'tempo')).not.toBe('');
    expect(await page.textContent('.aside[data-clicks]')).not.toBe(before);
    await page.keyboard.press('Escape');
    expect(said).toStrictEqual([]);
    await page.close();
  }, 180_000);

  it('bars drawn over are the passage; a touch with Shift is its last bar; undo and redo', async () => {
    const { page } = await app.open();
    await draw(page, bar(page, 12), bar(page, 14));
    await until(page, `document.querySelector('[name=to]').value === '14'`);
    expect(await passage(page)).toBe('12-14');
    await idle(page);
    await bar(page, 13).click({ modifiers: ['Shift'] });
    expect(await passage(page)).toBe('12-13');
    await page.keyboard.press('Control+z');
    expect(await passage(page)).toBe('12-14');
    await page.keyboard.press('Control+z');
    expect(await passage(page)).toBe('10-17');
    expect(await page.getByRole('button', { name: 'undo', exact: true }).isDisabled()).toBe(true);
    await page.keyboard.press('Control+Shift+z');
    await page.getByRole('button', { name: 'redo' }).click();
    expect(await passage(page)).toBe('12-13');
    expect(await page.textContent('[aria-live=polite]')).toBe('Done again. The passage: bars 12 to 13.');
    await page.close();
  }, 180_000);

  it('a touch on a beat puts a click there or takes it away, in that bar alone', async () => {
    const { page } = await app.open();
    expect(await clicked(page, 12)).toStrictEqual(['2', '4']);
    await beat(page, 12, '1').click();
    await until(page, `document.querySelector('[name=own-click]')?.value === 'weak,12:1 2 4'`);
    await idle(page);
    expect(await clicked(page, 12)).toStrictEqual(['1', '2', '4']);
    expect(await clicked(page, 13)).toStrictEqual(['2', '4']);
    await beat(page, 12, '2').click();
    await beat(page, 12, '4').click();
    await until(page, `document.querySelector('[name=own-click]')?.value === 'weak,12:1'`);
    await idle(page);
    expect(await clicked(page, 12)).toStrictEqual(['1']);
    await page.getByRole('button', { name: 'so in every bar' }).click();
    await until(page, `document.querySelector('[name=own-click]')?.value === '1'`);
    await idle(page);
    expect(await clicked(page, 13)).toStrictEqual(['1']);
    expect(await page.getByRole('button', { name: 'so in every bar' }).count()).toBe(0);
    for (let step = 0; step < 4; step++) await page.keyboard.press('Control+z');
    await until(page, `document.querySelector('[name=click]').value === 'weak'`);
    await page.close();
  }, 180_000);

  it('by keys alone: bars, more bars with Shift, beats', async () => {
    const { page } = await app.open();
    const focused = (): Promise<string> =>
      page.evaluate(`document.activeElement.getAttribute('aria-label') ?? ''`);
    // All bars, the choice of a place, the music.
    await page.locator('[name=at-place]').waitFor();
    for (let stop = 0; stop < 3; stop++) await page.keyboard.press('Tab');
    expect(await focused()).toBe('Bar 10');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    expect(await focused()).toBe('Bar 12');
    await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('Shift+ArrowRight');
    expect(await page.textContent('[aria-live=polite]')).toContain('Bars 12 to 14 chosen');
    await page.keyboard.press('Enter');
    await until(page, `document.querySelector('[name=to]').value === '14'`);
    expect(await passage(page)).toBe('12-14');
    await until(page, `document.querySelectorAll('.bar').length <= 4`);
    await idle(page);
    await page.keyboard.press('Home');
    await page.keyboard.press('ArrowUp');
    expect(await focused()).toMatch(/^Bar \d+ beat /);
    const beatName = await focused();
    await page.keyboard.press('Enter');
    await until(page, `document.querySelector('[name=own-click]') !== null`);
    // The focus stays on that beat, which is called otherwise now.
    const other = beatName.includes('no click')
      ? beatName.replace('no click', 'clicks')
      : beatName.replace('clicks', 'no click');
    await until(page, `document.activeElement.getAttribute('aria-label') === ${JSON.stringify(other)}`);
    await idle(page);
    expect(await focused()).toBe(other);
    // One stop for all of the music: the next Tab is in the margin.
    await page.keyboard.press('Tab');
    expect(await page.evaluate<string>('document.activeElement.name')).toBe('from');
    // The space key plays, wherever on the music the focus is.
    await page.keyboard.press('Shift+Tab');
    await page.keyboard.press('Space');
    await until(page, `document.querySelector('.play').textContent === 'Stop'`);
    await page.keyboard.press('Space');
    await page.close();
  }, 180_000);

  it('all bars: the first and the last are touched; Escape leaves all as it was', async () => {
    const { page } = await app.open();
    await page.getByRole('button', { name: 'all bars' }).click();
    await page.locator('.stretch .system svg').first().waitFor();
    await bar(page, 10).waitFor();
    await page.keyboard.press('Escape');
    await settled(page);
    expect(await passage(page)).toBe('10-17');
    await page.getByRole('button', { name: 'all bars' }).click();
    await bar(page, 20).waitFor();
    await bar(page, 20).click();
    expect(await page.textContent('.choosing')).toContain('From bar 20');
    await bar(page, 22).waitFor();
    await bar(page, 22).click();
    await until(page, `document.querySelector('[name=to]').value === '22'`);
    expect(await passage(page)).toBe('20-22');
    await settled(page);
    expect(await page.locator('.all-bars').count()).toBe(0);
    await page.close();
  }, 180_000);

  it('what can be touched is 44 pixels high and has a name, at three sizes', async () => {
    for (const [width, height] of [
      [1366, 768],
      [820, 1180],
      [390, 844],
    ] as const) {
      const { page } = await app.open(width, height);
      const places = await page.locator('.bar, .beat').all();
      expect(places.length).toBeGreaterThan(30);
      for (const place of places) {
        const box = await place.boundingBox();
        expect(box?.height ?? 0).toBeGreaterThanOrEqual(43.5);
        // WCAG 2.2, 2.5.8 (AA): 24 px.
        expect(box?.width ?? 0).toBeGreaterThanOrEqual(24);
        expect(await place.getAttribute('aria-label')).toMatch(/^Bar \d+/);
      }
      expect(await page.evaluate<boolean>('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      await page.close();
    }
  }, 120_000);

  it('click tacet, a hemiola, the upbeat and what is counted stand under a fold', async () => {
    const { page } = await app.open();
    const clicks = async (): Promise<number> =>
      Number(await page.getAttribute('[data-clicks]', 'data-clicks'));
    const all = await clicks();
    await page.getByText('more about the drill').click();
    await page.selectOption('[name=tacet]', '2/2');
    await until(page, `Number(document.querySelector('[data-clicks]').dataset.clicks) < ${all}`);
    await page.selectOption('[name=count]', '1/8');
    await until(page, `document.querySelectorAll('.beat').length > 50`, 20_000);
    await page.fill('[name=hemiola]', '10-11');
    await page.keyboard.press('Enter');
    // The demo is in four: said in plain words.
    expect(await page.getByRole('alert').textContent()).toContain('hemiola');
    await page.keyboard.press('Control+z');
    await page.getByRole('alert').waitFor({ state: 'detached' });
    await page.close();
  }, 180_000);

  it('own markings: written by a touch on a beat, kept, minded by the click, rubbed out', async () => {
    const { page, said } = await app.open();
    await page.getByText('Our own markings').click();
    await page.selectOption('[name=marking-kind]', 'rit');
    await page.getByRole('button', { name: 'then touch its note or beat on the page' }).click();
    await beat(page, 13, '3').click();
    await until(page, `document.querySelector('.sheet .own') !== null`, 30_000);
    await idle(page);
    expect(await page.textContent('.sheet .own')).toBe('rit.');
    // Weak beats: the fourth of bar 13 and those behind it are silent now.
    expect(await clicked(page, 12)).toStrictEqual(['2', '4']);
    expect(await clicked(page, 13)).toStrictEqual(['2']);
    await until(page, `document.querySelector('.kept-state').dataset.unkept === 'false'`);
    await page.reload();
    await until(page, `document.querySelector('.sheet .own') !== null`, 30_000);
    await page.getByText('Our own markings').click();
    await page.getByRole('button', { name: /^rub out: bar 13 beat 3/ }).click();
    await until(page, `document.querySelector('.sheet .own') === null`, 30_000);
    await idle(page);
    expect(await clicked(page, 13)).toStrictEqual(['2', '4']);
    expect(said).toStrictEqual([]);
    await page.close();
  }, 180_000);

  const quartet =
    sharedData === null ? '' : path.join(sharedData, 'scores', 'openscore-quartets', 'sq8812200.mxl');

  it.skipIf(!existsSync(quartet))(
    'a quartet of 643 bars is engraved only where one looks',
    async () => {
      const { page, said } = await app.open();
      await page.setInputFiles('[name=score]', {
        name: 'quartet.mxl',
        mimeType: 'application/octet-stream',
        buffer: readFileSync(quartet),
      });
      await until(page, `!document.querySelector('h1').textContent.startsWith('Lanterns')`, 60_000);
      await idle(page);
      await page.getByRole('button', { name: 'all bars' }).click();
      await page.locator('.stretch .system svg').first().waitFor({ timeout: 30_000 });
      const stretches = await page.locator('.stretch').count();
      expect(stretches).toBeGreaterThan(50);
      const last = page.locator('.stretch').last();
      await last.scrollIntoViewIfNeeded();
      await last.locator('.system svg').first().waitFor({ timeout: 30_000 });
      const engraved = await page.locator('.stretch:has(.line)').count();
      expect(engraved).toBeLessThan(stretches / 3);
      await page.getByRole('button', { name: 'back to the passage' }).click();
      await settled(page);
      expect(said).toStrictEqual([]);
      await page.close();
    },
    120_000,
  );
});
