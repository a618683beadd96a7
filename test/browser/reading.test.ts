/** A take of known truth, heard in the built app: the page says what the command line's function says, and that lies around the truth. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  asInScore,
  chartWidth,
  hear,
  heldBytes,
  parseReading,
  playedDrill,
  readingCharts,
  type Reading,
} from '../../src/desk/index.ts';
import { nodePng, nodeSounds } from '../../src/host/node/index.ts';
import { ok } from '../../src/units/index.ts';
import { demoBytes, knownTake } from '../support/knownTake.ts';
import { savedBy } from './fed.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What the page asks of its drill; the second player comes 30 ms after the first. */
const texts = {
  bars: '20-22',
  keep: 'all',
  click: 'every',
  tempo: '108',
  times: '1',
  'count-in': 'auto',
  tacet: 'none',
  upbeat: 'auto',
  count: 'auto',
};
const late = 30;

/** In place of the loudspeaker: what would be played, and how. */
const listening = `
  window.listened = [];
  HTMLMediaElement.prototype.play = function () {
    window.listened.push({ at: this.currentTime, speed: this.playbackRate, pitch: this.preservesPitch });
    return Promise.resolve();
  };`;

interface Listened {
  readonly at: number;
  readonly speed: number;
  readonly pitch: boolean;
}

describe.skipIf(!hasBrowser)('a take that is heard', () => {
  const place = mkdtempSync(path.join(tmpdir(), 'levare-reading-'));
  const file = path.join(place, 'both.wav');
  let app: App;
  let page: Page;
  let asked: readonly string[];
  let said: readonly string[];
  let told: Reading;
  beforeAll(async () => {
    const take = knownTake(texts, { P2: late });
    writeFileSync(file, take.all);
    const drill = playedDrill(demoBytes, { kind: 'asked', texts, settings: asInScore });
    if (!drill.ok) throw new Error(drill.error.message);
    const heard = await hear(
      [{ name: 'both.wav', part: null, read: () => Promise.resolve(ok(heldBytes(take.all))) }],
      { bytes: demoBytes, drill: drill.value.drill },
      { with: null },
      nodeSounds,
    );
    if (!heard.ok) throw new Error(heard.error.message);
    told = heard.value;
    app = await openApp();
    ({ page, asked, said } = await app.open());
    await page.addInitScript(axe);
    await page.addInitScript(listening);
    await page.reload();
    await settled(page);
    for (const [name, text] of [
      ['from', '20'],
      ['to', '22'],
      ['tempo', texts.tempo],
    ] as const) {
      await page.fill(`[name="${name}"]`, text);
      await page.keyboard.press('Enter');
    }
    await page.selectOption('[name=keep]', 'all');
    await page.selectOption('[name=click]', 'every');
    await settled(page);
    await page.locator('.takes > details > summary').click();
    await page.setInputFiles('[name=bring-takes]', [file]);
    await page.locator('[data-take]').waitFor();
  }, 240_000);
  afterAll(async () => {
    await app.close();
    rmSync(place, { recursive: true, force: true });
  });

  const blamed = (): Promise<readonly string[]> =>
    page.evaluate<readonly string[]>(
      `axe.run(document).then(({ violations }) => violations.map(({ id, nodes }) => id + ' ' + nodes[0].html))`,
    );
  const open = (): Promise<void> => page.getByRole('button', { name: /^What happened in/ }).press('Enter');
  const shown = (): Promise<void> =>
    until(page, `document.querySelector('.heard[data-stage=there] .system svg') !== null`, 120_000);
  const saved = async (): Promise<Reading> => {
    const read = parseReading(JSON.parse((await savedBy(page, /^the reading \(JSON\)/)).toString()));
    if (!read.ok) throw new Error(read.error.message);
    return read.value;
  };

  it('is left at once, and leaves nothing behind', async () => {
    await open();
    await page.getByText('Listening to the recording').waitFor();
    expect(await blamed()).toEqual([]);
    await page.getByRole('button', { name: 'leave it' }).press('Enter');
    await settled(page);
    const left = (): number => page.workers().filter((one) => one.url().includes('hear.worker')).length;
    for (let waited = 0; left() > 0 && waited < 100; waited += 1) await page.waitForTimeout(50);
    expect(left()).toBe(0);
  }, 60_000);

  it('stays folded until the players have said what they heard', async () => {
    await open();
    // The page answers while the ear works.
    expect(await page.evaluate('1 + 1')).toBe(2);
    await shown();
    expect(await page.locator('.mark').count()).toBe(0);
    expect(
      await page.evaluate(
        `[...document.querySelectorAll('g.reading, g.word-number')].every((one) => getComputedStyle(one).visibility === 'hidden')`,
      ),
    ).toBe(true);
    const show = page.getByRole('button', { name: 'Show what happened' });
    expect(await show.isDisabled()).toBe(true);
    expect(await blamed()).toEqual([]);
    await page.locator('input[name=led][value=P1]').press('Space');
    await page.locator('.where').first().focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Enter');
    await page.getByText('in bar 21').waitFor();
    await show.press('Enter');
    await page.locator('.found').waitFor();
    expect(await page.locator('.youheard').textContent()).toContain('Flute ahead and in bar 21');
    expect(await page.locator('.found li').count()).toBe(1);
    expect(await blamed()).toEqual([]);
  }, 180_000);

  it('says the numbers of the command line, and they lie around the truth', async () => {
    await page.locator('summary').filter({ hasText: 'Take along' }).click();
    const reading = await saved();
    const own = ({ id, state, perceived, perceivedUncertainty }: Reading['notes'][number]) => ({
      id,
      state,
      perceived: perceived?.toFixed(9),
      by: perceivedUncertainty?.toFixed(9),
    });
    expect(reading.notes.map(own)).toStrictEqual(told.notes.map(own));
    const [pair] = reading.pairs;
    expect(pair?.n).toBeGreaterThan(4);
    expect(pair?.mean?.value).toBeCloseTo(told.pairs[0]?.mean?.value ?? 0, 6);
    // First less second: the first player is ahead by what the take was made with.
    expect(pair?.mean?.low).toBeLessThan(-late);
    expect(pair?.mean?.high).toBeGreaterThan(-late);
    expect(Math.abs((pair?.mean?.value ?? 0) + late)).toBeLessThan(12);
    const marks = await page.evaluate<readonly string[]>(
      `[...document.querySelectorAll('g.reading[data-part=P2][data-ms]')].map((one) => one.dataset.ms)`,
    );
    expect(marks.length).toBeGreaterThan(4);
    // Each of two lies half of the distance from their middle.
    const middle = marks.map(Number).sort((a, b) => a - b)[marks.length >> 1] ?? 0;
    expect(Math.abs(middle - late / 2)).toBeLessThan(6);
    const csv = (await savedBy(page, /^the table \(CSV\)/)).toString();
    expect(csv).toContain(`pair,mean,ms,P1,P2`);
    // A figure is the very picture of the command line, as SVG and as PNG.
    await page.locator('summary').filter({ hasText: 'Figures' }).click();
    const [tempo] = readingCharts(reading, 'en');
    const drawn = await nodePng.make(tempo?.svg ?? '', chartWidth({ svg: tempo?.svg ?? '' }));
    expect((await savedBy(page, /^Tempo by bar: take along as SVG/)).toString()).toBe(tempo?.svg);
    expect(drawn.ok && (await savedBy(page, /^Tempo by bar: take along as PNG/)).equals(drawn.value)).toBe(
      true,
    );
    expect((await savedBy(page, /^the pages \(PDF\)/)).subarray(0, 5).toString()).toBe('%PDF-');
    expect((await savedBy(page, /^the sound \(WAV\)/)).equals(readFileSync(file))).toBe(true);
    expect((await savedBy(page, /^the sound, packed/)).subarray(0, 4).toString()).toBe('fLaC');
  }, 120_000);

  it('lets each mark be heard, by keys and by touch, slower at the same pitch', async () => {
    const listened = (): Promise<readonly Listened[]> =>
      page.evaluate<readonly Listened[]>('window.listened');
    const mark = page.locator('.mark[aria-label^="Flute, bar 20, beat 1."]').first();
    await mark.focus();
    await page.keyboard.press('Enter');
    await until(page, 'window.listened.length === 1');
    const note = told.notes.find(({ part, bar, beat }) => part === 'P1' && bar === '20' && beat === '1');
    const [clock] = told.clock;
    const at = (clock?.offset ?? 0) + (note?.perceived ?? 0) - 0.5;
    expect((await listened())[0]?.at).toBeCloseTo(at, 2);
    expect((await listened())[0]).toMatchObject({ speed: 1, pitch: true });
    await page.getByRole('button', { name: /^Listen slower/ }).press('Enter');
    await until(page, 'window.listened.length === 2');
    expect((await listened())[1]).toMatchObject({ speed: 0.5, pitch: true });
    await page.keyboard.press('Escape');
    await mark.focus();
    await page.keyboard.press('ArrowRight');
    expect(await page.evaluate(`document.activeElement.classList.contains('mark')`)).toBe(true);
    // A touch means the mark that is nearest.
    const drawn = page.locator('g.reading[data-part=P2][data-ms]').nth(2);
    const box = await drawn.boundingBox();
    if (box === null) throw new Error('no mark');
    await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2 + 4);
    await until(page, 'window.listened.length === 3');
    const title = (await drawn.locator('title').first().textContent()) ?? '';
    expect(await page.locator('.chosen-mark').textContent()).toContain(title);
    expect(await blamed()).toEqual([]);
  }, 60_000);

  it('leaves out what the players say was not so, and keeps what was heard', async () => {
    await page.locator('.mark[aria-label^="Flute, bar 20, beat 1."]').first().focus();
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: /^that is not what happened/ }).press('Enter');
    await page.getByText('One note is left out').waitFor();
    await shown();
    const without = await saved();
    const gone = without.notes.filter(({ state }, i) => state !== told.notes[i]?.state);
    expect(gone.map(({ part, bar, beat }) => `${part} ${bar} ${beat}`)).toEqual(['P1 20 1']);
    expect(without.pairs[0]?.n).toBe((told.pairs[0]?.n ?? 0) - 1);
    await page.getByRole('button', { name: 'put them back' }).press('Enter');
    await shown();
    expect((await saved()).pairs[0]?.n).toBe(told.pairs[0]?.n);
  }, 60_000);

  it('is there after loading anew, in figures and numbers, with nothing asked from elsewhere', async () => {
    await page.reload();
    await settled(page);
    await page.locator('.takes > details > summary').click();
    await open();
    await shown();
    await page.locator('.found').waitFor();
    // The music has the page, the words its margin.
    const [music, margin] = [
      await page.locator('.heard .page').boundingBox(),
      await page.locator('.heard .margin').boundingBox(),
    ];
    expect(music?.width).toBeGreaterThan(900);
    expect(margin?.x).toBeGreaterThan((music?.x ?? 0) + (music?.width ?? 0));
    for (const words of ['Figures', 'All numbers', 'What was assumed'])
      await page.locator('summary').filter({ hasText: words }).click();
    await page.locator('.chart svg').first().waitFor();
    expect(await page.locator('.numbers tbody tr').count()).toBeGreaterThan(10);
    expect(await blamed()).toEqual([]);
    await page.getByRole('button', { name: 'back to the drill' }).press('Enter');
    await settled(page);
    expect(
      asked.filter((address) => !address.startsWith(app.address) && !address.startsWith('blob:')),
    ).toEqual([]);
    expect(said).toEqual([]);
  }, 60_000);
});
