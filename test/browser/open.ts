/** The built app in Debian's Chromium, served as `./start` serves it. */
import { copyFileSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { chromium as playwright, type Browser, type Page } from 'playwright-core';
import { listening, staticServer } from '../../scripts/static-server.mjs';
import { putApp } from '../support/builtApp.ts';

/** Debian's browser. */
export const program = '/usr/bin/chromium';

/** Whether the browser is there; says once that its tests are skipped where it is not. */
export const hasBrowser = existsSync(program);
if (!hasBrowser) console.log(`There is no ${program}: the tests in the browser are skipped.`);

/** Switches of the browser. Sound begins without a touch, so that a test can play at once. */
export const switches = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--autoplay-policy=no-user-gesture-required',
];

export interface OpenPage {
  readonly page: Page;
  /** What the console said, warnings and errors. */
  readonly said: readonly string[];
  /** Addresses that were asked for. */
  readonly asked: readonly string[];
}

export interface App {
  readonly browser: Browser;
  readonly address: string;
  /** A fresh page on which the demo stands, with the tests' own script in front of the app's. */
  readonly open: (width?: number, height?: number) => Promise<OpenPage>;
  readonly close: () => Promise<void>;
}

/** Serves the built app, and starts the browser. Sound begins without a touch, so that a test can play at once. `more`: further switches of the browser. */
export const openApp = async (more: readonly string[] = []): Promise<App> => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-app-'));
  await putApp(folder);
  // The tap is put beside this copy of the app: the page's policy takes it from its own origin only.
  copyFileSync(path.resolve('test', 'browser', 'tap.js'), path.join(folder, 'tap.js'));
  const server = staticServer(folder);
  const address = `http://localhost:${await listening(server, 0, 0)}/`;
  const browser = await playwright.launch({
    executablePath: program,
    args: [...switches, ...more],
  });
  const open = async (width = 1366, height = 768): Promise<OpenPage> => {
    const page = await browser.newPage({ viewport: { width, height }, acceptDownloads: true });
    const said: string[] = [];
    const asked: string[] = [];
    page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) said.push(message.text());
    });
    page.on('pageerror', (error) => said.push(error.message));
    page.context().on('request', (request) => asked.push(request.url()));
    await page.addInitScript({ path: path.resolve('test', 'browser', 'inPage.js') });
    await page.goto(address);
    await settled(page);
    return { page, said, asked };
  };
  const close = async (): Promise<void> => {
    await browser.close();
    server.close();
    server.closeAllConnections();
    rmSync(folder, { recursive: true, force: true });
  };
  return { browser, address, open, close };
};

/** Waits until the page shows its music and nothing is being worked on; only a hang should meet the limit, on a busy machine too. */
export const settled = async (page: Page): Promise<void> => {
  await page.waitForSelector('.sheet[aria-busy=false] .system svg', { timeout: 120_000 });
};

/** Waits until an expression is true in the page. (The page's policy forbids the usual way, which evaluates there.) */
export const until = async (page: Page, expression: string, limit = 10_000): Promise<void> => {
  for (let waited = 0; waited < limit; waited += 50) {
    if (await page.evaluate<boolean>(expression)) return;
    await pause(50);
  }
  throw new Error(`Waited ${limit} ms in vain for ${expression}`);
};
