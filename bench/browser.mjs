/**
 * The page in a browser: sizes of what is loaded, the first page of a short and of a long score once they are read, that of the
 * whole piece as a drill, and frames a
 * second while it plays. Needs /usr/bin/chromium; says so where it is absent.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { chromium } from 'playwright-core';
import { extractScore } from '../dist/drill/extract.js';
import { workOut } from '../dist/drill/workOut.js';
import { readScore } from '../dist/score/read/recognise.js';
import { writeMusicXml } from '../dist/score/write/musicxml.js';
import { listening, staticServer } from '../scripts/static-server.mjs';
import { plainDrill, value } from './drills.mjs';
import { median, printRatios } from './measure.mjs';
import { demo, largestQuartet } from './scores.mjs';

const root = fileURLToPath(new URL('..', import.meta.url));
const program = '/usr/bin/chromium';

const build = (folder) =>
  execFileSync(
    process.execPath,
    [
      path.join(root, 'node_modules', 'vite', 'bin', 'vite.js'),
      'build',
      '--outDir',
      folder,
      '--logLevel',
      'error',
    ],
    { cwd: root, env: { ...process.env, NODE_ENV: 'production' } },
  );

/** When each file is loaded. */
const kinds = [
  ['the page', /^(index-|.*\.html|style|index.*css|offline)/],
  ['the desk (score, drill)', /^desk\.worker/],
  ['the loudspeaker and its parts', /^(clicks\.worklet|parts\.worker)/],
  ['the engraver, for the first page', /^verovio/],
  ['PDF, when pages are wanted', /^print\.worker/],
  ['PNG, when a figure is wanted so', /^index_bg.*\.wasm$/],
  ['fonts for PDF, when pages are wanted', /^(tinos|noto-music).*\.woff$/],
  ['fonts for the page, by need', /\.woff2$/],
  ['old-style fonts that nobody asks for', /\.woff$/],
];

const printSizes = (folder) => {
  const files = [folder, path.join(folder, 'assets')].flatMap((place) =>
    readdirSync(place)
      .map((name) => path.join(place, name))
      .filter((file) => statSync(file).isFile()),
  );
  const rows = new Map();
  for (const file of files) {
    const name = path.basename(file);
    const kind =
      kinds.find(([, pattern]) => pattern.test(name))?.[0] ??
      'the rest (demo, icons, chunks that are shared)';
    const bytes = readFileSync(file);
    const row = rows.get(kind) ?? { files: 0, plain: 0, packed: 0 };
    rows.set(kind, {
      files: row.files + 1,
      plain: row.plain + bytes.length,
      packed: row.packed + gzipSync(bytes).length,
    });
  }
  console.log('\nSizes in kB: plain, and as gzip packs them');
  const kilo = (bytes) => (bytes / 1000).toFixed(0).padStart(7);
  for (const [kind, { files: count, plain, packed }] of [...rows].sort((a, b) => b[1].plain - a[1].plain))
    console.log(`  ${kind.padEnd(50)} ${String(count).padStart(3)} files ${kilo(plain)} ${kilo(packed)}`);
};

/** The first so many bars of the largest quartet as a file of its own. */
const firstBars = (score, bars) => {
  const last = Math.min(bars, score.bars.length) - 1;
  const part = extractScore(value(workOut(score, plainDrill(`@0-@${last}`), 48_000)));
  return {
    name: `${last + 1} bars`,
    last: part.bars.at(-1).number,
    buffer: Buffer.from(writeMusicXml(part).text),
  };
};

/** Notes when the title of a new piece is shown (it has been read), and when its first system is. */
const watch = `new Promise((resolve) => {
  const seen = {};
  const look = () => {
    const now = performance.now();
    if (seen.read === undefined && document.querySelector('.system svg') === null) seen.read = now;
    if (seen.read !== undefined && document.querySelector('.system svg') !== null) {
      observer.disconnect();
      resolve(now - seen.read);
    }
  };
  const observer = new MutationObserver(look);
  observer.observe(document.body, { subtree: true, childList: true, characterData: true });
})`;

const settled = (page) => page.waitForSelector('.sheet[aria-busy=false] .system svg', { timeout: 120_000 });

const firstPage = async (page, { name, buffer }) => {
  const seen = page.evaluate(watch);
  await page.setInputFiles('[name=score]', { name: `${name}.musicxml`, mimeType: 'text/xml', buffer });
  const time = await seen;
  await settled(page);
  return time;
};

/** From the wish to the beginning of the page: what is worked out and engraved before anything new is seen. */
const watchDrill = `new Promise((resolve) => {
  const begun = performance.now();
  let worked = false;
  const observer = new MutationObserver(() => {
    const busy = ['drill', 'engraving'].includes(document.querySelector('.sheet')?.dataset.busy);
    worked ||= busy;
    if (!worked || busy) return;
    observer.disconnect();
    resolve(performance.now() - begun);
  });
  observer.observe(document.body, { subtree: true, childList: true, attributes: true });
})`;

/** What sounds is kept with each piece, so that it has to be asked for in each. */
const partsSound = async (page, which) => {
  await page.selectOption('[name=sounding]', which);
  await settled(page);
};

/** The whole piece as a drill, parts sounding, where its first bars stood; then those again. */
const wholeDrill = async (page, bars) => {
  const ask = async (to) => {
    const seen = page.evaluate(watchDrill);
    await page.fill('[name=to]', String(to));
    await page.keyboard.press('Enter');
    const time = await seen;
    await settled(page);
    return time;
  };
  await partsSound(page, 'on');
  const time = await ask(bars);
  await ask(8);
  await partsSound(page, 'off');
  return time;
};

const frames = `new Promise((resolve) => {
  const times = [];
  const begun = performance.now();
  const look = (now) => {
    times.push(now);
    if (now - begun < 8000) requestAnimationFrame(look);
    else resolve(times);
  };
  requestAnimationFrame(look);
})`;

const printFrames = async (page) => {
  await page.locator('.play').focus();
  await page.keyboard.press('Space');
  const times = await page.evaluate(frames);
  await page.keyboard.press('Escape');
  const steps = times.slice(1).map((time, i) => time - times[i]);
  const seconds = (times.at(-1) - times[0]) / 1000;
  console.log('\nFrames while it plays, with the parts (Chromium without a window asks for 60 a second)');
  console.log(
    `  ${(steps.length / seconds).toFixed(1)} a second; median ${median(steps).toFixed(1)} ms, longest ${Math.max(...steps).toFixed(0)} ms`,
  );
};

export const benchBrowser = async () => {
  if (!existsSync(program)) {
    console.log(`There is no ${program}: nothing is measured.`);
    return;
  }
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-bench-'));
  build(folder);
  printSizes(folder);
  const server = staticServer(folder);
  const address = `http://localhost:${await listening(server, 0, 0)}/`;
  const args = ['--no-sandbox', '--disable-gpu', '--autoplay-policy=no-user-gesture-required'];
  const browser = await chromium.launch({ executablePath: program, args });
  const page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
  await page.goto(address);
  await settled(page);
  await page.selectOption('[name=sounding]', 'on');
  await settled(page);
  await printFrames(page);
  const whole = value(readScore(largestQuartet() ?? demo));
  const scores = [firstBars(whole, 50), firstBars(whole, 600)];
  const times = new Map(scores.map(({ name }) => [name, []]));
  const drills = new Map(scores.map(({ name }) => [name, []]));
  for (const score of scores) await firstPage(page, score);
  for (let run = 0; run < 5; run++)
    for (const score of scores) {
      times.get(score.name).push(await firstPage(page, score));
      drills.get(score.name).push(await wholeDrill(page, score.last));
    }
  const figures = Object.fromEntries([...times].map(([name, list]) => [`of ${name}`, median(list)]));
  printRatios('The first page once the score is read', figures);
  const wholes = Object.fromEntries([...drills].map(([name, list]) => [`of ${name}`, median(list)]));
  printRatios('The first page of the whole piece as a drill', wholes);
  await browser.close();
  server.closeAllConnections();
  server.close();
  rmSync(folder, { recursive: true, force: true });
};
