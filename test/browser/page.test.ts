/** The page: what it shows, what it loads, how it is used without a mouse, and that it makes the command line's files. */
import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { optionsFor } from '../../src/app/size.ts';
import { holdPiece, liveDrill, livePlaces, makeScreen, timelineSchema } from '../../src/desk/index.ts';
import { nodeEngraver } from '../../src/host/node/engraver.ts';
import { levare } from '../cli/run.ts';
import { hasBrowser, openApp, settled, until, type App, type OpenPage } from './open.ts';

const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');
const place = mkdtempSync(path.join(tmpdir(), 'levare-page-'));
afterAll(() => rmSync(place, { recursive: true, force: true }));

/** The drill that the page opens on, made by the command line. */
const drillFolder = async (more: readonly string[] = []): Promise<string> => {
  const folder = path.join(place, `drill${more.join('')}`.replace(/\W/g, '-'));
  const usual = ['--bars', '10-17', '--keep', '1/8', '--click', 'weak'];
  const ran = await levare(['drill', demo, ...usual, ...more, '--out', folder]);
  expect(ran.code, ran.err).toBe(0);
  return folder;
};

/** How many clicks the command line makes of a drill. */
const clicksOf = async (bars: string, click: string): Promise<number> => {
  const folder = path.join(place, `count-${bars}-${click}`);
  const ran = await levare([
    'drill',
    demo,
    '--bars',
    bars,
    '--keep',
    '1/8',
    '--click',
    click,
    '--out',
    folder,
  ]);
  expect(ran.code, ran.err).toBe(0);
  const text = readFileSync(path.join(folder, 'timeline.json'), 'utf8');
  return timelineSchema.parse(JSON.parse(text)).clicks.length;
};

const ticksAre = (count: number): string => `document.querySelectorAll(".tick").length === ${count}`;

const sha256 = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex');

describe.skipIf(!hasBrowser)('the first page', () => {
  let app: App;
  let opened: OpenPage;
  beforeAll(async () => {
    app = await openApp();
    opened = await app.open();
  }, 180_000);
  afterAll(() => app.close());

  it('opens on the demo: title, players, the passage and a tick for each click of its drill', async () => {
    const { page } = opened;
    expect(await page.textContent('h1')).toBe('Lanterns on the Towpath');
    expect(await page.textContent('.players')).toBe('Flute and Clarinet in B♭');
    const folder = await drillFolder();
    const { clicks } = timelineSchema.parse(
      JSON.parse(readFileSync(path.join(folder, 'timeline.json'), 'utf8')),
    );
    const ticks = await page.evaluate<string[]>('levareTest.ticks()');
    expect(ticks).toHaveLength(clicks.length);
    expect(new Set(ticks).size).toBe(clicks.length);
    const numbers = await page.locator('.system').allTextContents();
    for (let bar = 10; bar <= 17; bar++) expect(numbers.join(' ')).toContain(String(bar));
    const box = await page.locator('.system svg').first().boundingBox();
    expect(box?.width).toBeGreaterThan(600);
    expect(box?.height).toBeGreaterThan(100);
  });

  it('engraves what Node engraves: every line, sign and word of the music in the same place', async () => {
    const { page } = opened;
    const { width, height, drawn } = await page.evaluate<{
      width: number;
      height: number;
      drawn: string[];
    }>('levareTest.drawn()');
    const piece = holdPiece(readFileSync(demo));
    if (!piece.ok) throw new Error(piece.error.message);
    const made = liveDrill(piece.value, { bars: '10-17', keep: '1/8', click: 'weak' }, 48_000);
    if (!made.ok) throw new Error(made.error.message);
    const engraver = nodeEngraver();
    const places = livePlaces(piece.value);
    if (!places.ok) throw new Error(places.error.message);
    const { marks } = places.value;
    const screen = await makeScreen(made.value.worked, optionsFor(width, height), engraver, marks);
    await engraver.close();
    if (!screen.ok) throw new Error(screen.error.message);
    const wanted = screen.value.systems.flatMap(({ svg }) =>
      [...svg.matchAll(/ (?:d|points|transform)="([^"]*)"|<tspan[^>]*>([^<]+)<\/tspan>/g)].map(
        ([, place, text]) => place ?? text ?? '',
      ),
    );
    expect(drawn.length).toBeGreaterThan(400);
    expect(drawn).toStrictEqual(wanted);
    // One to one: each written note is one element.
    for (const { element } of screen.value.notes)
      expect(await page.locator(`[id="${element}"]`).count()).toBe(1);
  });

  it('says nothing on the console and asks nobody but its own origin', () => {
    const { said, asked } = opened;
    expect(said).toStrictEqual([]);
    expect(asked.length).toBeGreaterThan(5);
    const strangers = asked.filter((url) => !url.startsWith(app.address) && !url.startsWith('blob:'));
    expect(strangers).toStrictEqual([]);
  });

  it('refuses what another origin would give', async () => {
    // Sabotage of the check above: the page's own policy stops a request before it leaves.
    const { page } = opened;
    const stopped = page.evaluate<string>(
      `new Promise((resolve) => {
        addEventListener('securitypolicyviolation', ({ effectiveDirective }) => resolve(effectiveDirective));
        fetch('http://localhost:1/').catch(() => setTimeout(resolve, 500, 'none'));
      })`,
    );
    expect(await stopped).toBe('connect-src');
  });

  it('makes the very bytes of the command line', async () => {
    const folder = await drillFolder();
    const { page } = opened;
    await page.getByText('Files of this drill').click();
    for (const name of ['click.wav', 'drill.mid', 'drill.musicxml', 'timeline.json']) {
      const saved = page.waitForEvent('download');
      await page.getByRole('button', { name }).click();
      const file = await (await saved).path();
      expect(`${name} ${sha256(file)}`).toBe(`${name} ${sha256(path.join(folder, name))}`);
    }
    const other = await drillFolder(['--tempo', '72']);
    expect(sha256(path.join(other, 'click.wav'))).not.toBe(sha256(path.join(folder, 'click.wav')));
  });

  it('names every control, shows text in enough contrast, and gives fingers room', async () => {
    const { page } = opened;
    const tree = await page.locator('body').ariaSnapshot();
    for (const line of [
      'heading "Lanterns on the Towpath" [level=1]',
      'textbox "From bar"',
      'textbox "To bar"',
      'combobox "Which notes are kept"',
      'combobox "Where it clicks"',
      'textbox "Tempo, or several, such as 72 80 88"',
      'textbox "How many times"',
      'combobox "Counting in"',
      'button "Play"',
      'link "About hearing"',
      'button "Open another score"',
    ])
      expect(tree).toContain(line);
    expect(tree).toMatch(/img "Bars 12 to \d+. Clicks: bar 12 beats 2 and 4;/);
    expect(tree).not.toMatch(/- (?:textbox|combobox|button|link|img)(?:\s|:|$)(?! ?")/m);

    const contrasts =
      await page.evaluate<{ what: string; kind: string; ratio: number }[]>('levareTest.contrasts()');
    expect(contrasts.length).toBeGreaterThan(60);
    // WCAG 2.2, 1.4.3 and 1.4.11: text 4.5 to 1, graphics 3 to 1.
    expect(contrasts.filter(({ kind, ratio }) => ratio < (kind === 'text' ? 4.5 : 3))).toStrictEqual([]);

    const targets =
      await page.evaluate<{ what: string; width: number; height: number }[]>('levareTest.targets()');
    expect(targets.length).toBeGreaterThan(10);
    // 44 px: WCAG 2.2, 2.5.5 (AAA). Links inside a sentence are excepted there.
    const small = targets.filter(({ what, height }) => height < 43.5 && what !== 'About hearing');
    expect(small).toStrictEqual([]);
  });

  it('is worked by keys alone', async () => {
    const { page } = await app.open();
    // The way to all bars, the choice of a place, then the music, then the margin.
    await page.locator('[name=at-place]').waitFor();
    for (let stop = 0; stop < 4; stop++) await page.keyboard.press('Tab');
    expect(await page.evaluate<string>('document.activeElement.name')).toBe('from');
    await page.keyboard.press('ArrowUp');
    await until(page, 'document.querySelector(".system [id]") !== null');
    await settled(page);
    expect(await page.inputValue('[name=from]')).toBe('11');
    await page.keyboard.press('Tab');
    await page.keyboard.type('12');
    await page.keyboard.press('Enter');
    await until(page, ticksAre(await clicksOf('11-12', 'weak')));
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    expect(await page.evaluate<string>('document.activeElement.name')).toBe('click');
    await page.keyboard.type('on every beat');
    await page.keyboard.press('Tab');
    await until(page, ticksAre(await clicksOf('11-12', 'every')));
    await settled(page);
    for (let stop = 0; stop < 3; stop++) await page.keyboard.press('Tab');
    // The focus is on "How many times", where a space means nothing: it plays.
    await page.keyboard.press('Space');
    await until(page, 'document.querySelector(".tick.inked") !== null');
    expect(await page.textContent('[role=status]')).toBe('It plays.');
    expect(await page.textContent('.play')).toBe('Stop');
    await page.keyboard.press('Escape');
    await until(page, 'document.querySelector(".play").textContent === "Play"');
    await until(page, 'levareTest.ticks(".inked").length === 0');
    await page.close();
  });

  it('moves nothing for those who asked for less motion', async () => {
    const { page } = opened;
    const transition = (): Promise<string> =>
      page.evaluate('getComputedStyle(document.querySelector(".tick path")).transitionDuration');
    expect(await transition()).toBe('0.12s');
    await page.emulateMedia({ reducedMotion: 'reduce' });
    expect(await transition()).toBe('0s');
    await page.emulateMedia({ reducedMotion: null });
  });

  it('says in plain words what cannot be, and goes on', async () => {
    const { page, said } = await app.open();
    await page.fill('[name=to]', '700');
    await page.keyboard.press('Enter');
    const alert = page.getByRole('alert');
    await alert.waitFor();
    expect(await alert.textContent()).toContain('700');
    await page.fill('[name=to]', '11');
    await page.keyboard.press('Enter');
    await alert.waitFor({ state: 'detached' });
    await page.setInputFiles('[name=score]', {
      name: 'shopping.txt',
      mimeType: 'text/plain',
      buffer: Buffer.from('eggs, flour'),
    });
    await alert.waitFor();
    expect(await page.textContent('h1')).toBe('Lanterns on the Towpath');
    await page.setInputFiles('[name=score]', {
      name: 'plan.txt',
      mimeType: 'text/plain',
      buffer: Buffer.from('1-4 3/4; tempo 1/4=100'),
    });
    await until(page, ticksAre(15));
    expect(said).toStrictEqual([]);
    await page.close();
  });

  it('shows the text about hearing', async () => {
    const page = await app.browser.newPage();
    await page.goto(`${app.address}hearing.html`);
    await page.waitForSelector('h1');
    expect(await page.textContent('h1')).toBe('Hearing');
    expect(await page.textContent('main')).toContain('85 dBA over 8 hours');
    await page.close();
  });
});
