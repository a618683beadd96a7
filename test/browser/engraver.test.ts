/**
 * The engraver's thread in a real browser, where a score makes it loop or break: a plain problem after the time limit,
 * the page lives, and the next score has a fresh thread. The rule is our own; no outside source.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium, type Browser, type Page } from 'playwright-core';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { listening, staticServer } from '../../scripts/static-server.mjs';
import { hasBrowser, program } from './open.ts';

describe.skipIf(!hasBrowser)('in the browser', () => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-engraver-'));
  const server = staticServer(folder);
  let browser: Browser;
  let page: Page;

  beforeAll(async () => {
    await build({
      configFile: false,
      root: path.resolve('test', 'browser', 'engraver'),
      logLevel: 'error',
      base: './',
      worker: { format: 'es' },
      build: { outDir: folder, emptyOutDir: true, target: 'es2022', chunkSizeWarningLimit: 8000 },
    });
    const address = `http://localhost:${await listening(server, 0, 0)}/`;
    browser = await chromium.launch({ executablePath: program, args: ['--no-sandbox', '--disable-gpu'] });
    page = await browser.newPage();
    await page.goto(address);
  });
  afterAll(async () => {
    await browser.close();
    server.close();
    server.closeAllConnections();
    rmSync(folder, { recursive: true, force: true });
  });

  const engraved = (deed: string, texts: readonly string[]): Promise<unknown> =>
    page.evaluate(`levareEngraved(${JSON.stringify(deed)}, ${JSON.stringify(texts)})`);

  it('loops and breaks cost one score each', async () => {
    expect(await engraved('well', ['a', 'loop', 'b', 'throw', 'c'])).toEqual({
      told: ['engraved', 'engraving-timeout', 'engraved', 'engraving-failed', 'engraved'],
      threads: 3,
    });
  });

  it.each([
    ['loop at the start', 'engraving-timeout'],
    ['break at the start', 'engraving-failed'],
  ])('a thread with a "%s" is replaced', async (deed, code) => {
    expect(await engraved(deed, ['a', 'b'])).toEqual({ told: [code, 'engraved'], threads: 2 });
  });
});
