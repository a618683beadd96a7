/**
 * Reading a take of a minute, one microphone for all: in the built app, from the touch to what was heard, against the same recording heard by the
 * program; both against the length of the take. By the clock, since players wait by the clock, with what else the machine did beside it.
 * Needs /usr/bin/chromium; says so where it is absent.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import path from 'node:path';
import { chromium } from 'playwright-core';
import { listening, staticServer } from '../scripts/static-server.mjs';
import { median, printRatios } from './measure.mjs';

const root = path.resolve(import.meta.dirname, '..');
const browserProgram = '/usr/bin/chromium';
const levare = path.join(root, 'bin', 'levare.js');
const demo = path.join(root, 'demo', 'lanterns-on-the-towpath.musicxml');
const [from, to, tempo, runs] = ['1', '24', '96', 3];

const node = (...args) =>
  execFileSync(process.execPath, args, { cwd: root, maxBuffer: 1 << 28, stdio: 'pipe' });

const timed = async (task) => {
  const begun = performance.now();
  await task();
  return performance.now() - begun;
};

const settled = (page) => page.waitForSelector('.sheet[aria-busy=false] .system svg', { timeout: 120_000 });

/** A page with the take brought in, on which it can be listened to again and again. */
const readyPage = async (page, wav) => {
  await settled(page);
  for (const [name, text] of [
    ['from', from],
    ['to', to],
    ['tempo', tempo],
    ['times', '1'],
  ]) {
    await page.fill(`[name="${name}"]`, text);
    await page.keyboard.press('Enter');
  }
  await page.selectOption('[name=keep]', 'all');
  await page.selectOption('[name=click]', 'every');
  await settled(page);
  await page.locator('.takes > details > summary').click();
  await page.setInputFiles('[name=bring-takes]', [wav]);
  await page.getByRole('button', { name: /^What happened in/ }).click();
  await page.waitForSelector('.heard[data-stage=there] .system svg', { timeout: 300_000 });
  await page.locator('input[name=led]').first().check();
  await page.getByRole('button', { name: 'Show what happened' }).click();
};

/** From the touch until what was heard is there to be drawn; and the longest time in which neither bar nor clock moved. */
const watch = `new Promise((resolve) => {
  const begun = performance.now();
  let [moved, longest, shown] = [begun, 0, ''];
  const look = () => {
    const now = performance.now();
    const next = (document.querySelector('.heard progress')?.value ?? '') + ' ' + (document.querySelector('.heard [role=timer]')?.textContent ?? '');
    if (next !== shown) {
      longest = Math.max(longest, now - moved);
      [moved, shown] = [now, next];
    }
    const stage = document.querySelector('.heard')?.dataset.stage;
    if (stage !== 'hearing' && now - begun > 100) resolve([now - begun, longest]);
    else setTimeout(look, 20);
  };
  look();
})`;

/** Seconds of processor that the browser's pages and their threads have had, by its own count. */
const processor = async (cdp) => {
  const { processInfo } = await cdp.send('SystemInfo.getProcessInfo');
  return processInfo.filter(({ type }) => type === 'renderer').reduce((sum, { cpuTime }) => sum + cpuTime, 0);
};

export const benchTake = async () => {
  if (!existsSync(browserProgram)) {
    console.log(`There is no ${browserProgram}: nothing is measured.`);
    return;
  }
  const place = mkdtempSync(path.join(tmpdir(), 'levare-bench-'));
  const drill = path.join(place, 'drill');
  const asked = [
    '--bars',
    `${from}-${to}`,
    '--keep',
    'all',
    '--click',
    'every',
    '--tempo',
    tempo,
    '--times',
    '1',
  ];
  node(levare, 'drill', demo, ...asked, '--words', 'none', '--paper', 'none', '--out', drill);
  const wav = path.join(drill, 'full.wav');
  const seconds = statSync(wav).size / (2 * 48_000);
  const app = path.join(place, 'app');
  node(
    path.join(root, 'node_modules', 'vite', 'bin', 'vite.js'),
    'build',
    '--outDir',
    app,
    '--logLevel',
    'error',
  );
  const server = staticServer(app);
  const address = `http://localhost:${await listening(server, 0, 0)}/`;
  const browser = await chromium.launch({
    executablePath: browserProgram,
    args: ['--no-sandbox', '--disable-gpu', '--autoplay-policy=no-user-gesture-required'],
  });
  const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
  await page.goto(address);
  await readyPage(page, wav);
  const cdp = await browser.newBrowserCDPSession();
  const [inNode, inBrowser, still, worked] = [[], [], [], []];
  for (let run = 0; run < runs; run++) {
    inNode.push(await timed(() => Promise.resolve(node(levare, 'hear', wav, '--drill', drill, '--json'))));
    await page.getByRole('button', { name: 'listen anew' }).click();
    const before = await processor(cdp);
    const [time, longest] = await page.evaluate(watch);
    worked.push((await processor(cdp)) - before);
    inBrowser.push(time);
    still.push(longest);
    await page.waitForSelector('.heard[data-stage=there] .system svg', { timeout: 300_000 });
  }
  const [own, theirs] = [median(inNode), median(inBrowser)];
  printRatios(`A take of ${seconds.toFixed(1)} s, ${runs} runs in turn`, {
    'the program, with its start': own,
    'the app': theirs,
  });
  console.log(
    `  Of the take's length: the program ${(own / seconds / 1000).toFixed(2)}, the app ${(theirs / seconds / 1000).toFixed(2)}`,
  );
  console.log(
    `  Processor time of the app while it read: ${median(worked).toFixed(1)} s, ${(median(worked) / seconds).toFixed(2)} of the take's length`,
  );
  console.log(
    `  Longest time in which nothing moved on the page: ${(Math.max(...still) / 1000).toFixed(1)} s`,
  );
  console.log(
    `  Load of the machine in the last minute and five: ${loadavg()
      .slice(0, 2)
      .map((one) => one.toFixed(1))
      .join(', ')}`,
  );
  await browser.close();
  server.closeAllConnections();
  server.close();
  rmSync(place, { recursive: true, force: true });
};
