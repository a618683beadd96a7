/** Without a network: the built app after its first visit, with its server gone. Service Workers (W3C). */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium as playwright, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keptFile, outdated } from '../../src/host/browser/offlineFiles.ts';
import { listening, staticServer } from '../../scripts/static-server.mjs';
import { putApp } from '../support/builtApp.ts';
import { hasBrowser, program, settled, until } from './open.ts';

describe('the rule', () => {
  const files = new Set(['index.html', 'assets/a.js']);
  const scope = 'https://host.example/levare/';
  const asked = (url: string, method = 'GET') => keptFile({ method, url }, scope, files);
  it('answers for files of the app, whatever stands behind the question mark', () => {
    expect(asked(scope)).toBe('index.html');
    expect(asked(`${scope}?a=b#c`)).toBe('index.html');
    expect(asked(`${scope}assets/a.js`)).toBe('assets/a.js');
  });
  it.each([
    ['another app on the host', 'https://host.example/other/'],
    ['another host', 'https://elsewhere.example/levare/assets/a.js'],
    ['no file of the app', `${scope}assets/b.js`],
  ])('leaves alone: %s', (_, url) => expect(asked(url)).toBeNull());
  it('leaves alone what is sent', () => expect(asked(scope, 'POST')).toBeNull());
  it('lets go of older builds only', () => {
    expect(outdated(['levare-1', 'levare-2', 'photographs'], '2')).toEqual(['levare-1']);
  });
});

describe.skipIf(!hasBrowser)('in the browser', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-offline-'));
  const profile = mkdtempSync(path.join(tmpdir(), 'levare-profile-'));
  let server = staticServer(folder);
  let [port, address] = [0, ''];
  let browser: Browser;

  const cut = async (): Promise<void> => {
    server.closeAllConnections();
    await new Promise((resolve) => server.close(resolve));
  };
  const mend = async (): Promise<void> => {
    server = staticServer(folder);
    await listening(server, port, 0);
  };
  const kept = (page: Page, state: string): Promise<void> =>
    until(page, `document.querySelector('.kept')?.dataset.kept === '${state}'`, 60_000);

  beforeAll(async () => {
    await putApp(folder);
    await listening(server, 0, 0);
    port = (server.address() as AddressInfo).port;
    address = `http://localhost:${port}/`;
    browser = await playwright.launch({
      executablePath: program,
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
      ],
    });
  });
  afterAll(async () => {
    await browser.close();
    server.closeAllConnections();
    server.close();
    for (const place of [folder, profile]) rmSync(place, { recursive: true, force: true });
  });

  it('opens, engraves and makes files with its server gone', async () => {
    const context = await browser.newContext({ acceptDownloads: true });
    const page = await context.newPage();
    const said: string[] = [];
    page.on('pageerror', (error) => said.push(error.message));
    await page.goto(address);
    await settled(page);
    await kept(page, 'kept');
    await cut();
    await expect(fetch(address)).rejects.toThrow();
    await page.reload();
    await settled(page);
    await page.fill('input[name=from]', '2');
    await page.fill('input[name=to]', '5');
    await page.press('input[name=to]', 'Enter');
    await until(page, `document.querySelector('.system')?.getAttribute('aria-label').includes('2')`);
    await settled(page);
    await page.getByText('Files of this drill').click();
    const saved = page.waitForEvent('download', { timeout: 120_000 });
    await page.getByRole('button', { name: 'score.pdf' }).click();
    expect(readFileSync(await (await saved).path(), 'latin1')).toMatch(/^%PDF-/);
    const fresh = await context.newPage();
    await fresh.goto(`${address}hearing.html`);
    await fresh.waitForSelector('h1');
    expect(said).toEqual([]);
    await context.close();
    await mend();
  });

  it('goes over to a newer build when its last page is closed, and never in the midst', async () => {
    const context = await browser.newContext();
    const page = await context.newPage();
    await page.goto(address);
    await kept(page, 'kept');
    const index = path.join(folder, 'index.html');
    writeFileSync(
      index,
      readFileSync(index, 'utf8').replace('<title>Levare</title>', '<title>Newer</title>'),
    );
    const keeper = path.join(folder, 'offline.js');
    const script = readFileSync(keeper, 'utf8');
    // The digest of another build.
    writeFileSync(keeper, script.replace(/`[0-9a-f]{16}`/, '`0123456789abcdef`'));
    expect(readFileSync(keeper, 'utf8')).not.toBe(script);
    await page.reload();
    await kept(page, 'newer');
    const older = await page.evaluate<string>(`fetch('./').then((answer) => answer.text())`);
    expect(older).toContain('<title>Levare</title>');
    await page.close();
    // The browser goes over some time after its last page is closed: a page that is opened at once may be an older one still.
    const opened = async (): Promise<string> => {
      const next = await context.newPage();
      await next.goto(address);
      const text = await next.evaluate<string>(`fetch('./').then((answer) => answer.text())`);
      await next.close();
      return text;
    };
    await expect.poll(opened, { timeout: 30_000, interval: 500 }).toContain('<title>Newer</title>');
    await context.close();
  });
});
