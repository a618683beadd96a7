/**
 * Letting go, the whole job: a piece in, its places found, a plan made, changed, printed and gone through, three takes of known truth that the
 * ear reads, one step on, one back, the journal, and what each player takes home: by touch on a tablet. By keyboard alone the same steps and plan
 * by the players' own ears.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readShelfFile } from '../../src/desk/index.ts';
import { knownTake } from '../support/knownTake.ts';
import { byKeys, byTouch, type Hands } from './hands.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-letting-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');
const has = (program: string): boolean => spawnSync(program, ['--version']).error === undefined;

const button = (page: Page, name: string | RegExp): Locator =>
  page.getByRole('button', typeof name === 'string' ? { name, exact: true } : { name });

const blamed = (page: Page): Promise<unknown> =>
  page.evaluate(
    `axe.run(document).then(({ violations }) => violations.map(({ id, nodes }) => [id, ...nodes.map(({ html }) => html.slice(0, 160))]))`,
  );

/** What can be touched within an element and is lower than 44 px (WCAG 2.5.5; narrower words are as long as they are). */
const small = (page: Page, within: string): Promise<unknown> =>
  page.evaluate(
    `[...document.querySelectorAll('${within} :is(button, select, summary, textarea, label:has([type=checkbox]), input:not([type=checkbox], [type=file]))')]
      .filter((one) => one.offsetParent !== null && one.getBoundingClientRect().height < 43.9)
      .map((one) => one.outerHTML.slice(0, 120))`,
  );

/** Opens a fold; once more where the page moved under the hand. */
const fold = async ({ page, press }: Hands, words: string | RegExp): Promise<void> => {
  const summary = page.locator('summary').filter({ hasText: words });
  const isOpen = (): Promise<boolean> =>
    page.locator('details[open] > summary').filter({ hasText: words }).isVisible();
  for (let touches = 0; !(await isOpen()); touches++) {
    if (touches > 2) throw new Error(`The fold ${String(words)} does not open.`);
    await press(summary);
    await page.waitForTimeout(100);
  }
};

const stepIs = (page: Page, words: string): Promise<void> =>
  until(
    page,
    `document.querySelector('.steps-list [aria-current=step]')?.textContent.startsWith(${JSON.stringify(words)})`,
    60_000,
  );
const proposed = (page: Page): Promise<string | null> =>
  page.locator('.proposal [role=status]').textContent();

/** A place, its steps: twice held and on, twice not yet and back. */
const upAndBack = async (hands: Hands): Promise<void> => {
  const { page, press } = hands;
  await page.locator('.places li').first().waitFor({ timeout: 60_000 });
  await fold(hands, /more in the piece/);
  await press(button(page, /bars 52 to 56: one line of sixteenths/));
  await until(page, `document.querySelector('[name=from]').value === '52'`, 60_000);
  await fold(hands, 'Steps');
  const steps = await page.locator('.steps-list button').allTextContents();
  expect(steps[0]).toMatch(/^the line of sixteenths alone, click /);
  expect(steps.at(-2)).toBe('counted in, then no click');
  expect(steps.at(-1)).toMatch(/ cues, nobody counts$/);

  const once = steps.findIndex((words) => words.startsWith('click once a bar'));
  const tempo = / (\d+)$/.exec(steps[once] ?? '')?.[1];
  expect(steps[once + 1]).toBe(`click every second bar, ${String(tempo)}`);
  await press(page.locator('.steps-list button').nth(once));
  await stepIs(page, 'click once a bar');
  expect(await page.inputValue('[name=click]')).toBe('bar');
  expect(await page.inputValue('[name=tempo]')).toBe(tempo);
  await press(button(page, 'it held'));
  await until(page, `document.querySelector('.proposal')?.textContent.startsWith('Stay: it held once')`);
  await press(button(page, 'it held'));
  await until(page, `document.querySelector('.proposal').textContent.startsWith('On')`);
  expect(await proposed(page)).toBe('On: it held twice in a row, now as you heard it.');
  await press(button(page, 'on').and(page.locator('.proposal button')));
  await stepIs(page, 'click every second bar');
  expect(await page.inputValue('[name=click]')).toBe('2bars');
  await press(button(page, 'not yet'));
  await until(page, `document.querySelector('.proposal').textContent.startsWith('Stay: it came apart once')`);
  await press(button(page, 'not yet'));
  await until(page, `document.querySelector('.proposal').textContent.startsWith('Back')`);
  await press(button(page, 'back').and(page.locator('.proposal button')));
  await stepIs(page, 'click once a bar');
  await settled(page);
};

/** What is recorded: the canon once at a quick tempo, so that a take lasts seconds. The step sets neither. */
const asRecorded = { bars: '17-21', tempo: '138', times: '1' };

/** Three takes, by the milliseconds by which each player comes after the click: two that hold, and one in which both come a seventh of a second late. */
const takes = [
  { name: 'first.wav', click: 'bar', late: { P2: 12 } },
  { name: 'second.wav', click: 'bar', late: { P1: 8 } },
  { name: 'third.wav', click: '2bars', late: { P1: 140, P2: 150 } },
] as const;

const recorded = (): void => {
  for (const { name, click, late } of takes) {
    const others = { keep: 'all', 'count-in': 'auto', tacet: 'none', upbeat: 'auto', count: 'auto' };
    writeFileSync(path.join(place, name), knownTake({ ...others, ...asRecorded, click }, late).all);
  }
};

const idsOf = (page: Page): Promise<readonly string[]> =>
  page.evaluate<readonly string[]>(
    `[...document.querySelectorAll('[data-take]')].map(({ dataset }) => dataset.take)`,
  );

/** Brings a recording of the drill in the margin, has it read, says what was heard; then the proposal stands there. */
const takeRead = async (hands: Hands, name: string): Promise<void> => {
  const { page, press } = hands;
  await hands.write('tempo', asRecorded.tempo);
  await hands.write('times', asRecorded.times);
  await settled(page);
  const before = new Set(await idsOf(page));
  await page.setInputFiles('[name=bring-takes]', path.join(place, name));
  await until(page, `document.querySelectorAll('[data-take]').length === ${before.size + 1}`);
  const id = (await idsOf(page)).find((one) => !before.has(one)) ?? '';
  await press(page.locator(`[data-take="${id}"]`).getByRole('button', { name: /^What happened in/ }));
  await until(page, `document.querySelector('.heard[data-stage=there] .system svg') !== null`, 120_000);
  // Ears first: nothing is proposed before the players have said what they heard.
  expect(await page.locator('.proposal').count()).toBe(0);
  await press(page.locator('label').filter({ has: page.locator('input[name=led][value=together]') }));
  await press(button(page, 'Show what happened'));
  await page.locator('.after-reading .proposal [role=status]').waitFor();
};

/** Three takes: twice held and on; then the bar lines come late, and the ensemble goes back though the rule would wait for one more. */
const onAndBack = async (hands: Hands): Promise<void> => {
  const { page, press } = hands;
  const back = async (): Promise<void> => {
    await press(button(page, 'back to the drill'));
    await settled(page);
  };
  await fold(hands, /more in the piece/);
  await press(button(page, /bars 17 to 21:/));
  await until(page, `document.querySelector('[name=from]').value === '17'`, 60_000);
  await fold(hands, 'Steps');
  await press(page.locator('.steps-list button').filter({ hasText: /^click once a bar/ }));
  await stepIs(page, 'click once a bar');
  await fold(hands, /^Recorded takes/);
  await takeRead(hands, 'first.wav');
  expect(await proposed(page)).toMatch(/^Stay: it held once/);
  await back();
  await takeRead(hands, 'second.wav');
  expect(await proposed(page)).toMatch(/^On: it held twice in a row/);
  expect(await small(page, '.after-reading')).toStrictEqual([]);
  expect(await blamed(page)).toStrictEqual([]);
  await press(button(page, 'on').and(page.locator('.proposal button')));
  await back();
  await stepIs(page, 'click every second bar');
  await takeRead(hands, 'third.wav');
  expect(await proposed(page)).toMatch(/^Stay: it came apart once/);
  await press(button(page, 'back').and(page.locator('.proposal button')));
  await back();
  await stepIs(page, 'click once a bar');
};

const minutes = (page: Page): Promise<number> =>
  page.evaluate<number>(
    `[...document.querySelectorAll('.plan-items input')].reduce((sum, { value }) => sum + Number(value), 0)`,
  );

/** `first`: what the plan is to begin with. */
const planned = async (hands: Hands, first: RegExp): Promise<void> => {
  const { page, press } = hands;
  await press(button(page, 'Plan'));
  await page.waitForSelector('main.plan');
  await press(button(page, 'Make a plan'));
  await page.waitForSelector('.plan-items li');
  expect(await minutes(page)).toBe(60);
  const items = page.locator('.plan-items .plan-what');
  const before = await items.allTextContents();
  expect(before[0]).toMatch(first);
  await press(button(page, /^later: 0:00/));
  await until(
    page,
    `document.querySelector('.plan-items .plan-what').textContent !== ${JSON.stringify(before[0])}`,
  );
  expect((await items.allTextContents()).slice(0, 2)).toStrictEqual([before[1], before[0]]);
  await hands.write('minutes-0', '15');
  await page.getByText('This is longer than the time there is.').waitFor();
  await press(button(page, /^leave out: 0:00/));
  await until(page, `document.querySelectorAll('.plan-items li').length === ${before.length - 1}`);
  expect(await small(page, 'main.plan')).toStrictEqual([]);
  expect(await blamed(page)).toStrictEqual([]);
};

const printed = async ({ page, press }: Hands): Promise<void> => {
  const saved = page.waitForEvent('download', { timeout: 120_000 });
  await press(button(page, 'Print it'));
  const paper = execFileSync('pdftotext', ['-layout', await (await saved).path(), '-'], { encoding: 'utf8' });
  expect(paper).toContain('Lanterns on the Towpath');
  expect(paper).toMatch(/0:00 .*bars 10–17/);
};

/** On the stand with the plan: what, how long, and on. */
const gone = async ({ page, press }: Hands): Promise<void> => {
  await press(button(page, 'Begin with it'));
  await page.waitForSelector('.on-stand .system svg', { timeout: 60_000 });
  expect(await page.locator('.plan-line').textContent()).toMatch(/^bars 10 to 17, \d+ minutes left/);
  expect(await blamed(page)).toStrictEqual([]);
  const next = page.locator('.plan-line button').first();
  const words = await next.textContent();
  await press(next);
  await until(
    page,
    `document.querySelector('.plan-line').textContent.startsWith(${JSON.stringify(words?.replace('then ', ''))})`,
  );
  await press(button(page, 'leave'));
  await settled(page);
  await press(button(page, 'leave the plan'));
  await until(page, `document.querySelector('.plan-line') === null`);
};

const written = async (hands: Hands): Promise<void> => {
  const { page, press } = hands;
  await press(button(page, 'Journal'));
  await page.waitForSelector('main.journal');
  await fold(hands, 'bars 17 to 21');
  const rows = await page.locator('.journal-place li li').allTextContents();
  expect(rows.map((text) => text.replace(/^.*?: /, ''))).toStrictEqual([
    'it held',
    'it held You go on.',
    'it came apart You go back.',
  ]);
  await page.fill('textarea', 'Breathe before 19.');
  await press(button(page, 'Keep it'));
  await page.getByText('Breathe before 19.').waitFor();
  await fold(hands, 'What is kept about each player');
  expect(await small(page, 'main.journal')).toStrictEqual([]);
  expect(await blamed(page)).toStrictEqual([]);
  const saved = page.waitForEvent('download');
  await press(button(page, 'Take the journal along as a file'));
  const file = await (await saved).path();
  const read = readShelfFile(readFileSync(file));
  if (!read.ok) throw new Error(read.error.message);
  const takes = [...read.value.records.values()].flatMap((one) =>
    one.kind === 'journal-take' ? [one.value] : [],
  );
  const inOrder = [...takes].sort((a, b) => a.nth - b.nth);
  expect(inOrder.map((take) => [take.told, take.proposed, take.decided])).toStrictEqual([
    ['', 'stay', ''],
    ['', 'on', 'on'],
    ['', 'stay', 'back'],
  ]);
  // What was written is what was played: at the bar lines the third take came later than the others by what it was made with.
  expect(inOrder.map(({ arrival }) => Math.round((arrival?.late.value ?? Number.NaN) / 50))).toStrictEqual([
    0, 0, 3,
  ]);
  // Rubbed out here, it does not come back with the file.
  await press(button(page, 'rub out: Breathe before 19.').or(button(page, /^Rub out/)));
  await until(page, `document.querySelector('.note-text') === null`);
  await page.setInputFiles('[name=bring-journal]', {
    name: 'ours.json',
    mimeType: 'application/json',
    buffer: readFileSync(file),
  });
  await page.locator('.journal [role=status]').first().waitFor({ state: 'attached' });
  await until(page, `location.hash === '#journal' && document.querySelector('main.journal') !== null`);
  await page.waitForTimeout(300);
  expect(await page.locator('.note-text').count()).toBe(0);
  expect(await page.locator('.journal-place summary').textContent()).toContain('(3 takes)');
  await press(button(page, 'Back to the music'));
  await settled(page);
};

const takenHome = async (hands: Hands): Promise<void> => {
  const { page, press } = hands;
  // Short, so that it is soon made.
  await hands.write('to', '53');
  await hands.write('from', '52');
  await hands.write('times', '1');
  await settled(page);
  await fold(hands, 'A pack for each player');
  await press(button(page, 'Make a pack for each player'));
  await press(button(page, 'call it off'));
  await button(page, 'call it off').waitFor({ state: 'detached' });
  await press(button(page, 'Make a pack for each player'));
  await page.locator('.take-home li').first().waitFor({ timeout: 120_000 });
  expect(await small(page, '.take-home')).toStrictEqual([]);
  const names = ['Flute', 'Clarinet in B♭'];
  for (const name of names) {
    const saved = page.waitForEvent('download');
    await press(button(page, new RegExp(`the pack of ${name}`)));
    const file = path.join(place, `${name}.zip`);
    await (await saved).saveAs(file);
    expect(execFileSync('unzip', ['-t', file], { encoding: 'utf8' })).toContain('No errors detected');
    const listed = execFileSync('unzip', ['-Z1', file], {
      encoding: 'utf8',
      env: { ...process.env, LC_ALL: 'C.UTF-8' },
    });
    expect(listed.trim().split('\n').sort()).toStrictEqual(
      [
        ...['click and others.flac', 'click and others.wav', 'click.flac', 'click.wav'],
        ...['music.mid', 'music.musicxml', 'my part.pdf'],
      ]
        .map((one) => `01 bars 52 to 53/${one}`)
        .concat('read me first.pdf', 'read me first.txt')
        .sort(),
    );
  }
  const open = path.join(place, 'open');
  execFileSync('unzip', ['-q', path.join(place, 'Flute.zip'), '-d', open]);
  const folder = path.join(open, '01 bars 52 to 53');
  expect(execFileSync('pdftotext', [path.join(folder, 'my part.pdf'), '-'], { encoding: 'utf8' })).toContain(
    'Flute',
  );
  // Xiph's own decoder compares the sound with the sum in its head.
  if (has('flac'))
    execFileSync('flac', [
      '-ts',
      path.join(folder, 'click.flac'),
      path.join(folder, 'click and others.flac'),
    ]);
  else console.log('There is no flac: packed sound is not looked into.');
};

describe.skipIf(!hasBrowser)('letting go in the app', () => {
  let app: App;
  beforeAll(async () => {
    recorded();
    app = await openApp();
  }, 300_000);
  afterAll(() => app.close());

  const opened = async (
    touch: boolean,
  ): Promise<{ readonly page: Page; readonly said: readonly string[] }> => {
    const viewport = touch ? { width: 834, height: 1112 } : { width: 1366, height: 768 };
    const context = await app.browser.newContext({ viewport, hasTouch: touch, acceptDownloads: true });
    await context.addInitScript(axe);
    const page = await context.newPage();
    const said: string[] = [];
    page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) said.push(message.text());
    });
    page.on('pageerror', (error) => said.push(error.message));
    await page.goto(app.address);
    await settled(page);
    return { page, said };
  };

  it('the whole job, by touch', async () => {
    const { page, said } = await opened(true);
    const hands = byTouch(page);
    await hands.give(demo);
    await settled(page);
    await page.locator('.places li').first().waitFor({ timeout: 60_000 });
    // Nothing is on its way yet: the weightiest place comes first.
    await planned(hands, /^bars 10 to 17/);
    await printed(hands);
    await gone(hands);
    await onAndBack(hands);
    expect(await small(page, '.steps')).toStrictEqual([]);
    expect(await blamed(page)).toStrictEqual([]);
    await written(hands);
    await takenHome(hands);
    expect(said).toStrictEqual([]);
    await page.context().close();
  }, 300_000);

  it('steps, ears and plan by keyboard alone', async () => {
    const { page, said } = await opened(false);
    const hands = byKeys(page);
    await upAndBack(hands);
    // What is on its way comes first.
    await planned(hands, /^bars 52 to 56/);
    await page.keyboard.press('Space');
    expect(await page.evaluate<string>('location.hash')).toBe('#plan');
    expect(said).toStrictEqual([]);
    await page.context().close();
  }, 300_000);
});
