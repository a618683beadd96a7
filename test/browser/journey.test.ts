/**
 * A player's whole job with a score, from opening it to taking the shelf along: by mouse, by keyboard alone, and by touch. What is looked
 * at is what comes of it: the page, the timeline, the printed page, the file.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readShelfFile, timelineSchema } from '../../src/desk/index.ts';
import { byKeys, byMouse, byTouch, type Hands } from './hands.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-journey-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

/** The demo under another name, so that it is a piece of its own. */
const title = 'Evening at the lock';
const score = path.join(place, 'evening.musicxml');
const demo = readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml'), 'utf8');
writeFileSync(score, demo.replaceAll('Lanterns on the Towpath', title));

const button = (page: Page, name: string | RegExp): Locator =>
  page.getByRole('button', typeof name === 'string' ? { name, exact: true } : { name });

/** Opens a fold; once more where the page moved under the hand. */
const unfold = async ({ page, press }: Hands, words: string | RegExp): Promise<void> => {
  const fold = page.locator('summary').filter({ hasText: words });
  const isOpen = (): Promise<boolean> =>
    page.locator('details[open] > summary').filter({ hasText: words }).isVisible();
  for (let touches = 0; !(await isOpen()); touches++) {
    if (touches > 2) throw new Error(`The fold ${String(words)} does not open.`);
    await press(fold);
    await page.waitForTimeout(100);
  }
};

const bar = (page: Page, number: number): Locator => page.locator('.bar').and(button(page, `Bar ${number}`));

const beat = (page: Page, number: number, which: string): Locator =>
  page.locator('.beat').and(button(page, new RegExp(`^Bar ${number} beat ${which},`)));

const value = (page: Page, name: string): Promise<string> => page.inputValue(`[name="${name}"]`);

const passage = async (page: Page): Promise<string> =>
  `${await value(page, 'from')}-${await value(page, 'to')}`;

const passageIs = (page: Page, from: string, to: string): Promise<void> =>
  until(
    page,
    `document.querySelector('[name=from]')?.value === '${from}' && document.querySelector('[name=to]')?.value === '${to}'`,
    60_000,
  );

const taken = async (hands: Hands, name: string | RegExp): Promise<string> => {
  const saved = hands.page.waitForEvent('download', { timeout: 120_000 });
  await hands.press(button(hands.page, name));
  return (await saved).path();
};

interface Made {
  readonly tempi: readonly [number, number];
  readonly bars: readonly number[];
}

/** What a drill's own times are, by hand: two tempi, twice each, weak beats, one more click on 1 of bar 53, and an upbeat of a quarter. */
const hasTimes = (file: string, { tempi, bars }: Made): void => {
  const { clicks } = timelineSchema.parse(JSON.parse(readFileSync(file, 'utf8')));
  const heard = clicks.filter(({ kind }) => kind === 'click');
  const beatsOf = (number: number): readonly string[] => (number === 53 ? ['1', '2', '4'] : ['2', '4']);
  const [first = 0] = bars;
  const one = [
    `${first - 1} 4`,
    ...bars.flatMap((number) => beatsOf(number).map((which) => `${number} ${which}`)),
  ];
  expect(heard.map((click) => `${click.bar} ${click.beat}`)).toStrictEqual([...one, ...one, ...one, ...one]);
  // From the upbeat's click to that on 2 of the first bar it is two quarters.
  for (const [time, tempo] of [0, 1, 2, 3].map((n) => [n, tempi[n < 2 ? 0 : 1]] as const)) {
    const [upbeat, second] = heard.slice(time * one.length);
    expect((second?.time ?? 0) - (upbeat?.time ?? 0)).toBeCloseTo(120 / tempo, 9);
  }
};

const idle = (page: Page): Promise<void> => settled(page);

/** The job; each step is looked at. */
const wholeJob = async (hands: Hands): Promise<void> => {
  const { page } = hands;
  // A score, and a place that was found in it.
  await hands.give(score);
  await until(page, `document.querySelector('h1').textContent === '${title}'`, 60_000);
  await idle(page);
  await page.locator('.places li').first().waitFor({ timeout: 60_000 });
  await unfold(hands, /more in the piece/);
  await hands.press(button(page, /bars 52 to 56: one line of sixteenths/));
  await passageIs(page, '52', '56');
  await idle(page);
  expect(await page.locator('.sheet .system').allTextContents()).not.toStrictEqual([]);

  // The drill.
  await hands.choose('keep', 'the line of sixteenths');
  await hands.choose('click', 'on the weak beats');
  await hands.write('tempo', '72 80');
  await hands.write('times', '2');
  await unfold(hands, 'more about the drill');
  await hands.choose('upbeat', 'a quarter');
  await idle(page);
  await hands.press(beat(page, 53, '1'));
  await until(page, `document.querySelector('[name=own-click]')?.value === 'weak,53:1 2 4'`, 60_000);
  await idle(page);
  await beat(page, 53, '1').and(page.locator('[aria-pressed=true]')).waitFor();

  // A marking of one's own.
  await unfold(hands, 'Our own markings');
  await hands.choose('marking-kind', 'words');
  await hands.write('marking-text', 'listen');
  await hands.choose('marking-part', 'all parts');
  await hands.press(button(page, /^then touch its/));
  await hands.press(beat(page, 54, '3'));
  await until(page, `document.querySelector('.sheet .own')?.textContent === 'listen'`, 60_000);
  await idle(page);

  // Its times are those that were asked for.
  await unfold(hands, 'Files of this drill');
  hasTimes(await taken(hands, /timeline\.json/), { tempi: [72, 80], bars: [52, 53, 54, 55, 56] });

  // On the stand: it plays, and stops.
  await hands.press(button(page, 'Put it on the stand'));
  await page.waitForSelector('.on-stand .system svg');
  await until(page, `document.querySelector('.foot .tempo').textContent === '72 · 80'`);
  expect(await page.locator('.on-stand .own').first().textContent()).toBe('listen');
  await hands.play();
  await hands.stop();
  await until(page, `document.querySelector('.inked') === null`, 30_000);
  await hands.press(button(page, 'leave'));
  await idle(page);

  // Again from bar 54, slower.
  await hands.press(bar(page, 54));
  await passageIs(page, '54', '56');
  await hands.press(button(page, 'slower'));
  await until(page, `document.querySelector('[name=tempo]').value !== '72 80'`);
  await idle(page);
  await hands.play();
  await hands.stop();
  await until(page, `document.querySelector('.play').textContent === 'Play'`, 30_000);
  await unfold(hands, 'Files of this drill');
  hasTimes(await taken(hands, /timeline\.json/), { tempi: [69, 76], bars: [54, 55, 56] });

  // On the stand to the next place, and to the one before.
  await hands.press(button(page, 'Put it on the stand'));
  await page.waitForSelector('.on-stand .system svg');
  const shown = `(document.querySelector('.on-stand div.system')?.getAttribute('aria-label') ?? '')`;
  await hands.press(button(page, 'next place'));
  await until(
    page,
    `[...document.querySelectorAll('.on-stand div.system')].some((one) => one.ariaLabel.includes('57'))`,
    60_000,
  );
  await hands.play();
  await hands.stop();
  await until(page, `document.querySelector('.inked') === null`, 30_000);
  await hands.press(button(page, 'place before'));
  await until(page, `!${shown}.includes('57') && ${shown} !== ''`, 60_000);
  await hands.press(button(page, 'leave'));
  await idle(page);
  expect(await passage(page)).toBe('52-56');

  // On paper.
  await unfold(hands, 'Files of this drill');
  const pdf = await taken(hands, /score\.pdf/);
  const paper = execFileSync('pdftotext', ['-layout', pdf, '-'], { encoding: 'utf8' });
  expect(paper).toContain(title);
  expect(paper).toContain('listen');
  expect(paper).toMatch(/\b52\b/);

  // After loading anew all is there.
  await until(page, `document.querySelector('.kept-state').dataset.unkept === 'false'`, 30_000);
  await page.reload();
  await settled(page);
  expect(await page.textContent('h1')).toBe(title);
  expect(await passage(page)).toBe('52-56');
  for (const [name, kept] of [
    ['keep', '1/16'],
    ['own-click', 'weak,53:1 2 4'],
    ['tempo', '69 76'],
    ['times', '2'],
    ['upbeat', '1/4'],
  ] as const)
    expect(await value(page, name), name).toBe(kept);
  await until(page, `document.querySelector('.sheet .own')?.textContent === 'listen'`, 30_000);

  // The shelf goes along.
  await hands.press(button(page, 'The shelf'));
  await page.waitForSelector('main.shelf');
  const read = readShelfFile(readFileSync(await taken(hands, 'Take along the whole shelf as a file')));
  if (!read.ok) throw new Error(read.error.message);
  expect(read.problems).toStrictEqual([]);
  const all = [...read.value.records.values()].map(({ value: record }) => JSON.stringify(record));
  expect(all.filter((text) => text.includes(title))).toHaveLength(1);
  expect(all.find((text) => text.includes(title))).toContain('weak,53:1 2 4');
  expect(all.filter((text) => text.includes('"listen"'))).toHaveLength(1);
  expect([...read.value.scores.values()].map((bytes) => Buffer.from(bytes).toString())).toContain(
    readFileSync(score, 'utf8'),
  );
};

const ways: readonly (readonly [string, BrowserContextOptions, (page: Page) => Hands])[] = [
  ['by mouse', { viewport: { width: 1366, height: 768 } }, byMouse],
  ['by keyboard alone', { viewport: { width: 1366, height: 768 } }, byKeys],
  ['by touch', { viewport: { width: 834, height: 1112 }, hasTouch: true }, byTouch],
];

describe.skipIf(!hasBrowser)('the whole job', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 120_000);
  afterAll(() => app.close());

  it.each(ways)(
    '%s',
    async (_, options, handsOf) => {
      const context = await app.browser.newContext({ ...options, acceptDownloads: true });
      const said: string[] = [];
      context.on('console', (message) => {
        if (['error', 'warning'].includes(message.type())) said.push(message.text());
      });
      const page = await context.newPage();
      page.on('pageerror', (error) => said.push(error.message));
      await page.goto(app.address);
      await settled(page);
      await wholeJob(handsOf(page));
      expect(said).toStrictEqual([]);
      await context.close();
    },
    300_000,
  );
});
