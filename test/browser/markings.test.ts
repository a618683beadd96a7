/** Players' own markings on the page: written by touching a note or by keys, time by time, undone, in pencil. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

const begin = { name: 'then touch its note or beat on the page' };

const rows = (page: Page): Promise<readonly (string | null)[]> =>
  page.evaluate(`[...document.querySelectorAll('.markings li')].map((row) => row.textContent)`);

const counted = async (page: Page, count: number): Promise<void> => {
  await until(page, `document.querySelectorAll('.markings li').length === ${count}`);
};

/** What is drawn in pencil on the page: its texts. */
const pencilled = (page: Page): Promise<readonly string[]> =>
  page.evaluate(
    `[...document.querySelectorAll('.sheet .own')].map((one) => one.textContent.replaceAll('\\u2002', ' '))`,
  );

/** A touch a little beside a note. */
const touch = async (page: Page, label: string): Promise<void> => {
  await page.getByRole('button', begin).click();
  const note = page
    .locator('.note-place')
    .and(page.getByLabel(label, { exact: true }))
    .first();
  const box = await note.boundingBox();
  if (box === null) throw new Error(`There is no note ${label}.`);
  await page.mouse.click(box.x + box.width / 2 + 4, box.y + box.height / 2 + 5);
};

describe.skipIf(!hasBrowser)('own markings on the page', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 120_000);
  afterAll(() => app.close());

  it('a touch on a note writes into its part; undo and redo take it and bring it again', async () => {
    const { page, said } = await app.open(1280, 800);
    await page.getByText('Our own markings').click();
    await touch(page, 'Bar 11 beat 2+1/2, Flute');
    await counted(page, 1);
    expect(await rows(page)).toStrictEqual(['bar 11 beat 2+1/2: a breath after the note, Flute rub out']);
    await until(page, `document.querySelector('.sheet .own') !== null`, 30_000);
    const ink = await page.evaluate<string>(`getComputedStyle(document.querySelector('.sheet .own')).fill`);
    expect(ink).toBe('rgb(85, 85, 85)');
    await settled(page);
    await page.keyboard.press('Control+z');
    await counted(page, 0);
    await until(page, `document.querySelector('.sheet .own') === null`, 30_000);
    await page.keyboard.press('Control+Shift+z');
    await counted(page, 1);
    await page.getByRole('button', { name: /^rub out/ }).click();
    await counted(page, 0);
    await page.getByRole('button', { name: 'undo', exact: true }).click();
    await counted(page, 1);
    await until(page, `document.querySelector('.kept-state').dataset.unkept === 'false'`);
    await page.reload();
    await until(page, `document.querySelector('.sheet .own') !== null`, 30_000);
    expect(said).toStrictEqual([]);
    await page.close();
  }, 120_000);

  it('first time p, second time f, as musicians write it', async () => {
    const { page } = await app.open(1280, 800);
    await page.getByText('Our own markings').click();
    await page.selectOption('[name=marking-kind]', 'dynamics');
    for (const [letters, time] of [
      ['p', '1'],
      ['f', '2'],
    ] as const) {
      await page.selectOption('[name=marking-dynamics]', letters);
      await page.selectOption('[name=marking-time]', time);
      await touch(page, 'Bar 12 beat 1, Flute');
      await until(
        page,
        `[...document.querySelectorAll('.markings li')].some((row) => row.textContent.includes('${time}. ${letters}'))`,
      );
      await settled(page);
    }
    await until(page, `document.querySelector('.sheet .own')?.textContent.includes('2.') === true`, 30_000);
    expect(await pencilled(page)).toStrictEqual(['1. p 2. f']);
    await page.close();
  }, 120_000);

  it('by keys alone: from the margin to the notes, along a part, to another; Escape leaves it', async () => {
    const { page } = await app.open(1280, 800);
    const focused = (): Promise<string> =>
      page.evaluate(`document.activeElement.getAttribute('aria-label') ?? ''`);
    await page.getByText('Our own markings').click();
    await page.getByRole('button', begin).focus();
    await page.keyboard.press('Enter');
    await until(page, `document.activeElement.classList.contains('note-place')`);
    expect(await focused()).toBe('Bar 10 beat 1, Flute');
    await page.evaluate(axe);
    const blamed = await page.evaluate<readonly string[]>(
      'axe.run(document).then(({ violations }) => violations.map(({ id }) => id))',
    );
    expect(blamed).toStrictEqual([]);
    await page.keyboard.press('ArrowRight');
    expect(await focused()).toBe('Bar 10 beat 1+1/2, Flute');
    await page.keyboard.press('ArrowDown');
    expect(await focused()).toMatch(/, Clarinet in B♭/);
    await page.keyboard.press('End');
    await page.keyboard.press('Home');
    expect(await focused()).toBe('Bar 10 beat 1, Clarinet in B♭, rest');
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    await counted(page, 1);
    expect(await rows(page)).toStrictEqual([
      'bar 10 beat 3: a breath after the note, Clarinet in B♭ rub out',
    ]);
    await settled(page);
    await page.getByRole('button', begin).focus();
    await page.keyboard.press('Enter');
    await until(page, `document.querySelector('.note-place') !== null`);
    await page.keyboard.press('Escape');
    await until(page, `document.querySelector('.note-place') === null`);
    await counted(page, 1);
    await page.close();
  }, 120_000);

  it('are taken along as a file', async () => {
    const { page } = await app.open(1280, 800);
    await page.getByText('Our own markings').click();
    await touch(page, 'Bar 11 beat 2, Flute');
    await counted(page, 1);
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'take along as a file' }).click(),
    ]);
    expect(file.suggestedFilename()).toMatch(/\.markings\.json$/);
    await page.close();
  }, 180_000);
});
