/** Pages as PDF, made in the browser: the same bytes as the command line's, by libraries that are loaded when they are wanted. */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { levarePages } from '../support/levarePages.ts';
import { pdfLanguage } from '../support/pdfCatalog.ts';
import { hasBrowser, openApp, settled, type App } from './open.ts';

const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');
const pages = levarePages();

/** Runs the command line with its pages into a folder. */
const levare = async (name: string, ...words: readonly string[]): Promise<string> => {
  const folder = path.join(pages.folder, name);
  const { code, err } = await pages.levare(...words, '--out', folder);
  expect(code, err).toBe(0);
  return folder;
};

/** The drill that the page opens on. */
const usual = ['drill', demo, '--bars', '10-17', '--keep', '1/8', '--click', 'weak'];

const sha256 = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex');

const taken = async (page: Page, name: string): Promise<string> => {
  const saved = page.waitForEvent('download', { timeout: 120_000 });
  await page.getByRole('button', { name }).click();
  return (await saved).path();
};

/** What other programs see in a PDF: Poppler. */
const textOf = (file: string): string =>
  execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
const pagesOf = (file: string): string =>
  /^Pages:\s+(\d+)$/m.exec(execFileSync('pdfinfo', [file], { encoding: 'utf8' }))?.[1] ?? '';

const forPages = /print\.worker|\.woff$/;

describe.skipIf(!hasBrowser)('taken along from the browser', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 180_000);
  afterAll(() => app.close());

  it('pages are the very bytes of the command line; what makes them comes when they are wanted', async () => {
    // The thread that keeps the app for times without a network would ask for every file.
    const context = await app.browser.newContext({ acceptDownloads: true, serviceWorkers: 'block' });
    const [said, asked]: [string[], string[]] = [[], []];
    context.on('console', (message) => {
      const ours = ['error', 'warning'].includes(message.type()) && !message.text().includes('Playwright');
      if (ours) said.push(message.text());
    });
    context.on('request', (request) => asked.push(request.url()));
    const page = await context.newPage();
    await page.goto(app.address);
    await settled(page);
    const drill = await levare('drill', ...usual);
    const places = await levare('places', 'find', demo);
    await page.getByText('Files of this drill').click();
    expect(asked.filter((url) => forPages.test(url))).toStrictEqual([]);
    for (const name of ['score.pdf', 'part-1-flute.pdf', 'part-2-clarinet-in-b.pdf', 'places.pdf']) {
      const [file, other] = [
        await taken(page, name),
        path.join(name === 'places.pdf' ? places : drill, name),
      ];
      expect(pagesOf(file)).toBe(pagesOf(other));
      expect(textOf(file)).toBe(textOf(other));
      expect(`${name} ${sha256(file)}`).toBe(`${name} ${sha256(other)}`);
      expect(textOf(file)).toContain('Lanterns on the Towpath');
    }
    expect(asked.filter((url) => forPages.test(url)).length).toBeGreaterThan(30);
    expect(asked.filter((url) => !url.startsWith(app.address) && !url.startsWith('blob:'))).toStrictEqual([]);
    // The content policy speaks on the console.
    expect(said).toStrictEqual([]);
    await context.close();
  });

  it('pages and the spoken count are German where the page is: the very bytes of the command line again', async () => {
    const context = await app.browser.newContext({ acceptDownloads: true, locale: 'de-DE' });
    const page = await context.newPage();
    await page.goto(app.address);
    await settled(page);
    const [drill, places] = await Promise.all([
      levare('ueben', ...usual, '--language', 'de'),
      levare('stellen', 'find', demo, '--language', 'de'),
    ]);
    await page.getByText('Dateien dieser Übung', { exact: true }).click();
    for (const name of ['score.pdf', 'places.pdf', 'full.wav', 'drill.musicxml']) {
      const file = await taken(page, name);
      const other = path.join(name === 'places.pdf' ? places : drill, name);
      if (name.endsWith('.pdf')) {
        expect(textOf(file)).toContain(name === 'score.pdf' ? 'Takte 10–17' : 'übernimmt:');
        expect(pdfLanguage(readFileSync(file))).toBe('de');
      }
      expect(`${name} ${sha256(file)}`).toBe(`${name} ${sha256(other)}`);
    }
    await context.close();
  });

  it('the text about hearing asks for neither the engraver nor the desk', async () => {
    const context = await app.browser.newContext({ serviceWorkers: 'block' });
    const asked: string[] = [];
    context.on('request', (request) => asked.push(request.url()));
    const page = await context.newPage();
    await page.goto(`${app.address}hearing.html`, { waitUntil: 'networkidle' });
    const heavy = /verovio|desk\.worker|print\.worker/;
    expect(asked.filter((url) => heavy.test(url))).toStrictEqual([]);
    // The page itself does ask for the engraver, and for nothing that makes PDFs.
    await page.goto(app.address);
    await settled(page);
    expect(asked.filter((url) => url.includes('verovio')).length).toBeGreaterThan(1);
    expect(asked.filter((url) => forPages.test(url))).toStrictEqual([]);
    await context.close();
  });

  it('sound with the parts is what the command line writes, as loud and as silent as the margin says', async () => {
    const { page } = await app.open();
    await page.selectOption('[name=sounding]', 'on');
    await settled(page);
    await page.getByText('Files of this drill').click();
    const plain = await levare('plain', ...usual);
    for (const name of ['full.wav', 'parts.wav'])
      expect(sha256(await taken(page, name))).toBe(sha256(path.join(plain, name)));
    await page.fill('[name=pitch]', '415');
    await page.keyboard.press('Enter');
    await page.selectOption('[name^=level-]:not([name=level-click]) >> nth=0', 'silent');
    await page.selectOption('[name=place]', 'left');
    await settled(page);
    const other = await levare('other', ...usual, '--pitch', '415', '--without', 'P1', '--place', 'left');
    for (const name of ['full.wav', 'parts.wav', 'click.wav']) {
      expect(`${name} ${sha256(await taken(page, name))}`).toBe(`${name} ${sha256(path.join(other, name))}`);
    }
    await page.close();
  });
});
