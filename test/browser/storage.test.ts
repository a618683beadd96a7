/** A device that is really full, and windows that die while they write: what is said, what is lost, and how one goes on. */
import { randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readShelfFile, type ShelfContent } from '../../src/desk/index.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

/** A bar plan that takes so many bytes, and cannot be pressed together: its remarks are noise. */
const heavyPlan = (title: string, bytes: number): Buffer =>
  Buffer.from(
    [
      `title ${title}`,
      '1-8 3/4; tempo 1/4=100',
      ...Array.from({ length: Math.ceil(bytes / 80) }, () => `# ${randomBytes(39).toString('hex')}`),
      '',
    ].join('\n'),
  );

const give = (page: Page, title: string, bytes: number): Promise<void> =>
  page.setInputFiles('[name=score]', {
    name: 'plan.txt',
    mimeType: 'text/plain',
    buffer: heavyPlan(title, bytes),
  });

const write = async (page: Page, name: string, text: string): Promise<void> => {
  await page.fill(`[name="${name}"]`, text);
  await page.keyboard.press('Enter');
};

const titleIs = (page: Page, title: string): Promise<void> =>
  until(page, `document.querySelector('h1')?.textContent === ${JSON.stringify(title)}`, 60_000);

const kept = (page: Page): Promise<void> =>
  until(page, `document.querySelector('[data-unkept=false]') !== null`, 60_000);

const piecesOn = async (page: Page): Promise<string[]> => {
  await page.goto(`${page.url().split('#')[0] ?? ''}#shelf`);
  await page.locator('.piece').first().waitFor({ timeout: 60_000 });
  return (await page.locator('.piece').allTextContents()).sort();
};

const taken = async (page: Page): Promise<ShelfContent> => {
  const saved = page.waitForEvent('download');
  await page.locator('.trouble').getByRole('button').click();
  const read = readShelfFile(readFileSync(await (await saved).path()));
  if (!read.ok) throw new Error(read.error.message);
  expect(read.problems).toStrictEqual([]);
  return read.value;
};

const demo = 'Lanterns on the Towpath';

describe.skipIf(!hasBrowser)('storage', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 120_000);
  afterAll(() => app.close());

  /** What keeps the app for times without a network would take room of its own. */
  const fresh = (): Promise<BrowserContext> =>
    app.browser.newContext({ acceptDownloads: true, serviceWorkers: 'block' });
  const opened = async (context: BrowserContext): Promise<Page> => {
    const page = await context.newPage();
    await page.goto(app.address);
    await settled(page);
    return page;
  };
  const origin = (): string => app.address.slice(0, -1);
  /** Bytes that the browser gives the app; the demo takes a tenth of it. */
  const quotaSize = 200_000;

  it('that is full by the browser’s own count: said, nothing lost, worked on, taken along, and kept once there is room', async () => {
    const context = await fresh();
    const page = await context.newPage();
    // Before the first write: Chromium remembers for half a minute how much room there was. Holds as long as this session does.
    const devtools = await context.newCDPSession(page);
    await devtools.send('Storage.overrideQuotaForOrigin', { origin: origin(), quotaSize });
    await page.goto(app.address);
    await settled(page);
    await kept(page);
    await give(page, 'Long night', 400_000);
    await page.locator('.trouble[data-code=shelf-full]').waitFor({ timeout: 60_000 });
    const said = await page.locator('.trouble').textContent();
    await titleIs(page, 'Long night');
    await settled(page);
    // It is worked on in memory, and goes along whole.
    await write(page, 'to', '4');
    await settled(page);
    const file = await taken(page);
    expect([...file.scores.values()].map(({ length }) => length).some((length) => length > 400_000)).toBe(
      true,
    );
    expect(file.scores.size).toBe(2);
    expect([...file.records.values()].some(({ value }) => JSON.stringify(value).includes('"to":"4"'))).toBe(
      true,
    );
    // What was there before is there in another window, which is full too, and says nothing as long as it writes nothing.
    const other = await opened(context);
    expect(await piecesOn(other)).toStrictEqual([demo]);
    await other.close();
    // Room again.
    await devtools.send('Storage.overrideQuotaForOrigin', { origin: origin() });
    await write(page, 'to', '5');
    await page.locator('.trouble').waitFor({ state: 'detached' });
    await kept(page);
    await page.reload();
    await settled(page);
    expect(await page.textContent('h1')).toBe('Long night');
    expect(await page.inputValue('[name=to]')).toBe('5');
    expect(await piecesOn(page)).toStrictEqual([demo, 'Long night']);
    console.log(`a full device says: ${said ?? ''}`);
    expect(said).toMatch(/full|room/i);
    await context.close();
  }, 180_000);

  it('of a window that dies while it writes: each piece is there whole or not at all, and the next window opens', async () => {
    const context = await fresh();
    const first = await opened(context);
    await kept(first);
    await first.close();
    let whole = 0;
    const waits = [0, 60, 300, 2_000];
    for (const [i, wait] of waits.entries()) {
      const page = await opened(context);
      const devtools = await context.newCDPSession(page);
      const died = page.waitForEvent('crash');
      const title = `Piece ${i}`;
      const begun = titleIs(page, title).catch(() => undefined);
      await give(page, title, 2_000_000);
      await pause(wait);
      void devtools.send('Page.crash').catch(() => undefined);
      await died;
      await page.close();
      await begun;
      const next = await opened(context);
      expect(await next.locator('.trouble, .kept-state .error').count()).toBe(0);
      const pieces = await piecesOn(next);
      expect(pieces).toContain(demo);
      if (pieces.includes(title)) {
        whole += 1;
        await next.getByRole('button', { name: `Open ${title}`, exact: true }).click();
        await titleIs(next, title);
        await settled(next);
      }
      await next.close();
    }
    console.log(
      `windows that died while they wrote 2 MB: ${whole} of ${waits.length} pieces were whole, the others not there`,
    );
    await context.close();
  }, 300_000);

  it('in two windows: one dies while it writes, the other goes on and loses nothing', async () => {
    const context = await fresh();
    const [one, two] = [await opened(context), await opened(context)];
    await Promise.all([kept(one), kept(two)]);
    const devtools = await context.newCDPSession(one);
    await two.getByText('This piece').click();
    const died = one.waitForEvent('crash');
    await give(one, 'Lost or whole', 2_000_000);
    const named = two.fill('[name=piece-title]', 'Ours');
    await pause(30);
    void devtools.send('Page.crash').catch(() => undefined);
    await Promise.all([died, named]);
    await one.close();
    await write(two, 'from', '12');
    await kept(two);
    await two.reload();
    await settled(two);
    expect(await two.textContent('h1')).toBe('Ours');
    expect(await two.inputValue('[name=from]')).toBe('12');
    const rest = (await piecesOn(two)).filter((title) => title !== 'Ours');
    expect([[], ['Lost or whole']]).toContainEqual(rest);
    await context.close();
  }, 180_000);
});
