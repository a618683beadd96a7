/** The shelf in the built app: what is kept, in one window and in two, on a full disk and on none, and what goes out and comes in. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { strFromU8, strToU8, unzipSync, zipSync } from 'fflate';
import type { BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readShelfFile, type ShelfContent } from '../../src/desk/index.ts';
import { canonical } from '../../src/desk/shelf/merge.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const example = path.resolve('test', 'desk', 'fixtures', 'levare.shelf.1.zip');

const kept = (page: Page): Promise<void> =>
  until(page, 'document.querySelector("[data-unkept=false]") !== null');

const toShelf = async (page: Page): Promise<void> => {
  await page.getByRole('button', { name: 'The shelf' }).click();
  await page.waitForSelector('main.shelf');
};

const write = async (page: Page, name: string, text: string): Promise<void> => {
  await page.fill(`[name="${name}"]`, text);
  await page.keyboard.press('Enter');
};

const pieces = (page: Page): Promise<string[]> => page.locator('.piece').allTextContents();

/** The file that a button gives. */
const takenAlong = async (page: Page, button: string): Promise<Buffer> => {
  const saved = page.waitForEvent('download');
  await page.getByRole('button', { name: button }).click();
  const file = await saved;
  expect(file.suggestedFilename()).toMatch(/\.shelf\.zip$/);
  return readFileSync(await file.path());
};

const contentOf = (bytes: Uint8Array): ShelfContent => {
  const read = readShelfFile(bytes);
  if (!read.ok) throw new Error(read.error.message);
  expect(read.problems).toStrictEqual([]);
  return read.value;
};

const bringIn = (page: Page, name: string, buffer: Buffer): Promise<void> =>
  page.setInputFiles('[name=bring]', { name, mimeType: 'application/octet-stream', buffer });

describe.skipIf(!hasBrowser)('the shelf', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 180_000);
  afterAll(() => app.close());

  /** A browser of one's own: what it keeps, no other test sees. */
  const fresh = async (options: BrowserContextOptions = {}): Promise<BrowserContext> => {
    const context = await app.browser.newContext({
      viewport: { width: 1366, height: 768 },
      acceptDownloads: true,
      ...options,
    });
    await context.addInitScript({ path: path.resolve('test', 'browser', 'inPage.js') });
    return context;
  };
  const opened = async (context: BrowserContext): Promise<Page> => {
    const page = await context.newPage();
    await page.goto(app.address);
    await settled(page);
    return page;
  };

  it('opens again as it was: piece, bars, drill, settings', async () => {
    const context = await fresh();
    const page = await opened(context);
    expect(await page.locator('.kept-state').textContent()).toBe('');
    await write(page, 'from', '12');
    await write(page, 'to', '15');
    await page.selectOption('[name=click]', 'own');
    await write(page, 'own-click', '2 4');
    await write(page, 'tempo', '72 80');
    await page.getByText('This piece').click();
    await page.fill('[name=piece-title]', 'Lanterns');
    await until(page, 'document.querySelector("h1").textContent === "Lanterns"');
    await kept(page);

    const isAsItWas = async (now: Page): Promise<void> => {
      expect(await now.textContent('h1')).toBe('Lanterns');
      for (const [name, value] of [
        ['from', '12'],
        ['to', '15'],
        ['own-click', '2 4'],
        ['tempo', '72 80'],
        ['times', '1'],
      ] as const)
        expect(await now.inputValue(`[name=${name}]`)).toBe(value);
    };
    await page.reload();
    await settled(page);
    await isAsItWas(page);
    expect(await page.locator('.kept-state').textContent()).toBe('Opened where you were. Nothing was lost.');

    // The window is killed, not closed.
    const devtools = await context.newCDPSession(page);
    await write(page, 'times', '3');
    await kept(page);
    void devtools.send('Page.crash').catch(() => undefined);
    await page.waitForEvent('crash');
    const next = await opened(context);
    expect(await next.inputValue('[name=times]')).toBe('3');
    expect(await next.inputValue('[name=from]')).toBe('12');
    await context.close();
  });

  it("has the edition's bar numbers, octaves, transpositions and players on the page", async () => {
    const context = await fresh();
    const page = await opened(context);
    await page.getByText('This piece').click();
    await write(page, 'edition', '101');
    await until(page, 'document.querySelector("[name=from]").value === "110"');
    await settled(page);
    expect(await page.inputValue('[name=to]')).toBe('117');
    await until(page, `document.querySelector('div.system[aria-label^="Bars 112"]') !== null`);
    await page.locator('.settings [name^=plays]').first().fill('Anna');
    await page.keyboard.press('Enter');
    await until(page, 'document.querySelector(".players").textContent.startsWith("Anna (Flute)")');
    await page.locator('.settings [name^=octave]').first().selectOption('-1');
    await page.locator('.settings [name^=key]').last().selectOption('-2 -3');
    await kept(page);
    await page.waitForTimeout(800);
    await settled(page);
    await page.getByText('Files of this drill').click();
    const saved = page.waitForEvent('download');
    await page.getByRole('button', { name: 'drill.musicxml' }).click();
    const music = readFileSync(await (await saved).path(), 'utf8');
    expect(music).toContain('<octave-change>-1</octave-change>');
    expect(music).toContain('<chromatic>-3</chromatic>');
    expect(music).toContain('number="110"');
    await context.close();
  });

  it('shows in one window what another changes, and loses nothing of either', async () => {
    const context = await fresh();
    const [one, two] = [await opened(context), await opened(context)];
    for (const page of [one, two]) await page.getByText('This piece').click();
    await one.fill('[name=piece-title]', 'Ours');
    await until(two, 'document.querySelector("h1").textContent === "Ours"');
    // Different things at the same time.
    await Promise.all([
      one.locator('.settings [name^=octave]').first().selectOption('1'),
      two.locator('.settings [name^=octave]').last().selectOption('-1'),
      one.locator('[name=from]').fill('11'),
    ]);
    await two.locator('[name^=plays]').first().fill('Ben');
    await two.keyboard.press('Enter');
    await Promise.all([kept(one), kept(two)]);
    for (const page of [one, two]) {
      await until(page, 'document.querySelector(".settings [name^=octave]").value === "1"');
      await until(page, '[...document.querySelectorAll(".settings [name^=octave]")].at(-1).value === "-1"');
      await until(page, 'document.querySelector(".players").textContent.startsWith("Ben (Flute)")');
    }
    // What is taken off the shelf in one stays on the stand of the other, and can be put back from there.
    await toShelf(one);
    await one.locator('.pieces summary').first().click();
    await one.getByRole('button', { name: 'Remove Ours' }).click();
    await one.getByRole('button', { name: 'Yes, remove' }).click();
    await two.getByText('not on the shelf any more').waitFor();
    expect(await two.textContent('h1')).toBe('Ours');
    await two.getByRole('button', { name: 'Put it back' }).click();
    await until(one, 'document.querySelector(".piece") !== null');
    await kept(two);
    await two.reload();
    await settled(two);
    expect(await two.textContent('h1')).toBe('Ours');
    await context.close();
  });

  it('takes a typed bar plan, several ensembles, and goes whole from one device to another', async () => {
    const context = await fresh();
    const page = await opened(context);
    await toShelf(page);
    await write(page, 'new-ensemble', 'The Canal Trio');
    await until(page, 'document.querySelectorAll(".ensemble").length === 2');
    await page.getByText('New bar plan').click();
    await page.fill('[name=plan]', 'eggs and flour');
    await page.getByRole('button', { name: 'Put it on the shelf' }).click();
    await page.locator('.plan [role=alert]').waitFor();
    await page.reload();
    await page.waitForSelector('main.shelf');
    expect(await page.inputValue('[name=plan]')).toBe('eggs and flour');
    await until(page, 'document.querySelectorAll(".ensemble").length === 2');
    await page.selectOption('[name=into]', { label: 'The Canal Trio' });
    await page.fill('[name=plan]', 'title Canal music; 1-8 3/4; tempo 1/4=100');
    await page.getByRole('button', { name: 'Put it on the shelf' }).click();
    await settled(page);
    await until(page, 'document.querySelector("h1").textContent === "Canal music"');
    await page.getByText('Saved drills').click();
    await write(page, 'save-drill', 'by heart');
    await page.getByRole('button', { name: 'Take up by heart' }).waitFor();
    await kept(page);
    await toShelf(page);
    expect(await page.locator('[aria-label="The Canal Trio"] .piece').allTextContents()).toStrictEqual([
      'Canal music',
    ]);
    expect(await pieces(page)).toHaveLength(2);
    const file = await takenAlong(page, 'Take along the whole shelf as a file');
    const first = contentOf(file);

    const elsewhere = await fresh();
    const other = await opened(elsewhere);
    await toShelf(other);
    await bringIn(other, 'ours.zip', file);
    await until(other, 'document.querySelectorAll(".piece").length === 2');
    expect(await other.locator('.said').textContent()).toContain(
      '1 piece is new on the shelf, 1 was there already',
    );
    await bringIn(other, 'ours.zip', file);
    await until(other, 'document.querySelector(".said").textContent.includes("2 were there already")');
    expect(await pieces(other)).toHaveLength(2);
    await kept(other);
    await other.reload();
    await other.waitForSelector('main.shelf');
    await until(other, 'document.querySelectorAll(".piece").length === 2');
    const second = contentOf(await takenAlong(other, 'Take along the whole shelf as a file'));
    for (const [key, { value }] of first.records)
      expect(canonical(second.records.get(key)?.value)).toBe(canonical(value));
    expect([...second.scores.keys()].sort()).toStrictEqual([...first.scores.keys()].sort());
    // One piece alone goes with its ensemble and its drills.
    await other.getByRole('button', { name: 'Open Canal music' }).click();
    await settled(other);
    await until(other, 'document.querySelector("h1").textContent === "Canal music"');
    await toShelf(other);
    await other.locator('[aria-label="The Canal Trio"] .pieces summary').click();
    const part = contentOf(await takenAlong(other, 'Take along Canal music as a file'));
    expect([...part.records.keys()].map((key) => key.split(':')[0]).sort()).toStrictEqual([
      'ensemble',
      'piece',
      'saved-drill',
    ]);
    expect(part.scores.size).toBe(1);
    await context.close();
    await elsewhere.close();
  });

  it('tells what is wrong with a file, and takes nothing wrong', async () => {
    const context = await fresh();
    const page = await opened(context);
    await toShelf(page);
    const whole = readFileSync(example);
    const said = async (buffer: Buffer, words: string): Promise<void> => {
      await bringIn(page, 'a.zip', buffer);
      await page.locator('.said').getByText(words).waitFor();
    };
    const files = unzipSync(whole);
    const list = strFromU8(files['shelf.json'] ?? new Uint8Array());
    const listed = (text: string): Buffer => Buffer.from(zipSync({ ...files, 'shelf.json': strToU8(text) }));
    await said(listed(list.replace('levare.shelf/1', 'levare.shelf/2')), 'A newer Levare wrote it');
    await said(listed(list.slice(0, 300)), 'This shelf is damaged');
    await said(whole.subarray(0, 500), 'cut off or damaged');
    expect(await pieces(page)).toHaveLength(1);
    await said(whole, 'tuning: what a later version of Levare keeps is kept here too');
    expect((await pieces(page)).sort()).toStrictEqual(['Canal music', 'Lanterns on the Towpath']);
    await context.close();
  });

  it('says when the device is full, goes on in memory, and keeps everything once there is room', async () => {
    const context = await fresh();
    // The fault is put in where the browser would report it, so that it comes and goes at once; storage.test.ts has a real one.
    await context.addInitScript(
      `const put = IDBObjectStore.prototype.put;
       globalThis.isFull = false;
       IDBObjectStore.prototype.put = function (...all) {
         if (globalThis.isFull) throw new DOMException('No room.', 'QuotaExceededError');
         return put.apply(this, all);
       };`,
    );
    const page = await opened(context);
    await kept(page);
    await page.evaluate('isFull = true');
    await page.setInputFiles('[name=score]', {
      name: 'plan.txt',
      mimeType: 'text/plain',
      buffer: Buffer.from('title Long night; 1-8 3/4; tempo 1/4=100'),
    });
    await page.locator('.trouble[data-code=shelf-full]').waitFor();
    await until(page, 'document.querySelector("h1").textContent === "Long night"');
    await settled(page);
    await write(page, 'to', '4');
    await settled(page);
    const file = contentOf(await takenAlong(page, 'Take along the whole shelf as a file'));
    expect(file.scores.size).toBe(2);
    expect([...file.records.values()].some(({ value }) => canonical(value).includes('"to":"4"'))).toBe(true);

    await page.evaluate('isFull = false');
    await write(page, 'to', '5');
    await page.locator('.trouble').waitFor({ state: 'detached' });
    await kept(page);
    await page.reload();
    await settled(page);
    expect(await page.textContent('h1')).toBe('Long night');
    expect(await page.inputValue('[name=to]')).toBe('5');
    await context.close();
  });

  it.each([
    ['is switched off', 'Object.defineProperty(globalThis, "indexedDB", { value: undefined })'],
    [
      'is refused',
      'IDBFactory.prototype.open = () => { throw new DOMException("denied", "SecurityError"); }; ' +
        'Object.defineProperty(globalThis, "sessionStorage", { get: () => { throw new DOMException("denied", "SecurityError"); } })',
    ],
  ])('works in memory where storage %s, and says so', async (_, script) => {
    const context = await fresh();
    await context.addInitScript(script);
    const page = await opened(context);
    expect(await page.locator('.trouble').textContent()).toContain(
      'This browser keeps nothing for this page',
    );
    await write(page, 'to', '12');
    await settled(page);
    const file = contentOf(await takenAlong(page, 'Take along the whole shelf as a file'));
    expect([...file.records.values()].some(({ value }) => canonical(value).includes('"to":"12"'))).toBe(true);
    await context.close();
  });

  it('leaves the shelf of a newer Levare alone', async () => {
    const context = await fresh();
    const page = await context.newPage();
    await page.goto(`${app.address}hearing.html`);
    await page.evaluate(
      `new Promise((resolve) => {
        indexedDB.open('levare', 99).onsuccess = ({ target }) => { target.result.close(); resolve(null); };
      })`,
    );
    await page.goto(app.address);
    await settled(page);
    expect(await page.locator('.trouble').textContent()).toContain('A newer Levare has the shelf');
    const version = await page.evaluate<number>(
      'indexedDB.databases().then((all) => all.find(({ name }) => name === "levare").version)',
    );
    expect(version).toBe(99);
    await context.close();
  });

  it('is worked by keys alone; what is removed is asked about and can be put back', async () => {
    const context = await fresh();
    const page = await opened(context);
    await page.getByRole('button', { name: 'The shelf' }).focus();
    await page.keyboard.press('Enter');
    await page.waitForSelector('main.shelf');
    const focused = (): Promise<string> =>
      page.evaluate('document.activeElement.ariaLabel ?? document.activeElement.textContent');
    await until(page, 'document.activeElement.textContent === "Back to the music"');
    await page.keyboard.press('Tab');
    expect(await focused()).toBe('Name of the ensemble');
    await page.keyboard.type('At home');
    await page.keyboard.press('Tab');
    expect(await focused()).toBe('Open Lanterns on the Towpath');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    expect(await focused()).toBe('Take along Lanterns on the Towpath as a file');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Space');
    await until(page, 'document.activeElement.textContent === "No, keep"');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await until(page, 'document.querySelector(".piece") === null');
    await page.getByRole('button', { name: 'Put it back' }).focus();
    await page.keyboard.press('Enter');
    await until(page, 'document.querySelector(".piece") !== null');
    expect(await page.inputValue('[aria-label="Name of the ensemble"]')).toBe('At home');
    await page.goBack();
    await settled(page);
    expect(await page.textContent('h1')).toBe('Lanterns on the Towpath');
    await context.close();
  });

  it.each([
    ['laptop', 1366, 768],
    ['tablet', 834, 1112],
    ['telephone', 390, 844],
  ])('names its controls, keeps contrast and room for fingers on a %s', async (_, width, height) => {
    const context = await fresh({ viewport: { width, height }, hasTouch: width < 900 });
    const page = await opened(context);
    await page.getByText('This piece').click();
    await page.locator('.drills summary').click();
    const check = async (): Promise<void> => {
      const contrasts =
        await page.evaluate<{ kind: string; ratio: number; what: string }[]>('levareTest.contrasts()');
      expect(contrasts.length).toBeGreaterThan(15);
      // WCAG 2.2, 1.4.3 and 1.4.11, and 2.5.5 for targets, as for the page.
      expect(contrasts.filter(({ kind, ratio }) => ratio < (kind === 'text' ? 4.5 : 3))).toStrictEqual([]);
      const targets =
        await page.evaluate<{ what: string; width: number; height: number }[]>('levareTest.targets()');
      expect(
        targets.filter(({ what, height: high }) => high < 43.5 && what !== 'About hearing'),
      ).toStrictEqual([]);
      expect(await page.locator('body').ariaSnapshot()).not.toMatch(
        /- (?:textbox|combobox|button|link|img)(?:\s|:|$)(?! ?")/m,
      );
      expect(await page.evaluate<boolean>('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
    };
    await check();
    const shelf = page.getByRole('button', { name: 'The shelf' });
    await (width < 900 ? shelf.tap() : shelf.click());
    await page.waitForSelector('main.shelf');
    await page.locator('.pieces summary').first().click();
    await page.getByText('New bar plan').click();
    await write(page, 'new-ensemble', 'The Canal Trio');
    await until(page, 'document.querySelectorAll(".ensemble").length === 2');
    await page.getByRole('button', { name: 'Remove Lanterns on the Towpath' }).click();
    await check();
    const open = page.getByRole('button', { name: 'Open Lanterns on the Towpath' });
    await (width < 900 ? open.tap() : open.click());
    await settled(page);
    await context.close();
  });
});
