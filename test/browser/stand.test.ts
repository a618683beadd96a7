/** The stand: how systems fill its screens, how it is turned, and how it is used with hands full. */
import fc from 'fast-check';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it, test } from 'vitest';
import { pageFor, standPages, systemAt, systemsOfBars } from '../../src/app/standPages.ts';
import { nextPlace } from '../../src/app/nextPlace.ts';
import { nextMark } from '../../src/app/tempoScale.ts';
import { hasBrowser, openApp, until, type App } from './open.ts';

describe('screens of the stand', () => {
  const heights = fc.array(fc.integer({ min: 1, max: 100 }), { minLength: 1, maxLength: 40 });
  test('hold every system, never more than have room, and turn with the last one kept', () => {
    fc.assert(
      fc.property(heights, fc.integer({ min: 1, max: 300 }), (list, room) => {
        const pages = standPages(list, room);
        pages.forEach(({ from, to }, i) => {
          const sum = list.slice(from, to).reduce((a, b) => a + b, 0);
          expect(sum <= room || to - from === 1).toBe(true);
          const before = pages[i - 1];
          if (before !== undefined)
            expect(from).toBe(before.to - before.from > 1 ? before.to - 1 : before.to);
        });
        expect(pages[0]?.from).toBe(0);
        expect(pages.at(-1)?.to).toBe(list.length);
        // Whatever system is heard is on the screen that is shown.
        list.forEach((_, system) => {
          const page = pages[pageFor(pages, system)];
          expect(page !== undefined && page.from <= system && system < page.to).toBe(true);
        });
      }),
    );
  });

  const system = (from: string, to: string) => ({
    svg: '',
    width: 1,
    height: 1,
    from,
    to,
    bars: [],
    tickLine: 0,
    places: [],
    heads: [],
  });
  const bar = (number: string, sample: number, rep = 1) => ({ number, sample, rep, barIndex: 0 });
  test('belong to what is heard, where bars come twice too', () => {
    const systems = [system('', ''), system('1', '2'), system('1', '2'), system('3', '3')];
    const marks = {
      ends: [500, 1100],
      bars: ['1', '2', '1', '2', '3'].flatMap((number, i) => [
        bar(number, i * 100),
        bar(number, 600 + i * 100, 2),
      ]),
    };
    const ofBars = systemsOfBars(systems, marks);
    expect(ofBars).toEqual([1, 1, 2, 2, 3]);
    const heard = [-50, 0, 199, 200, 450, 550, 799, 800, 1099];
    expect(heard.map((at) => systemAt(marks, ofBars, at))).toEqual([1, 1, 1, 2, 3, 1, 1, 2, 3]);
  });
});

describe('from place to place', () => {
  const place = (barIndex: number, bars: string) => ({ bars, from: { barIndex } });
  const list = [place(9, 'heaviest'), place(3, 'early'), place(9, 'second there'), place(20, 'late')];
  test('goes by the music, and of one bar takes the heaviest', () => {
    const from = (now: number, by: 1 | -1) => nextPlace(list, now, by)?.bars ?? null;
    expect([0, 3, 9, 20].map((now) => from(now, 1))).toEqual(['early', 'heaviest', 'late', null]);
    expect([3, 9, 20, 99].map((now) => from(now, -1))).toEqual([null, 'early', 'heaviest', 'late']);
  });
});

describe('a little slower or faster', () => {
  test('goes by the marks of the scale, and back again', () => {
    expect(nextMark(72, -1)).toBe(69);
    expect(nextMark(72, 1)).toBe(76);
    expect(nextMark(92.3, 1)).toBe(96);
    expect(nextMark(92.3, -1)).toBe(92);
    expect(nextMark(20, -1)).toBe(20);
    for (let mark = 20; nextMark(mark, 1) !== mark; mark = nextMark(mark, 1)) {
      expect(nextMark(nextMark(mark, 1), -1)).toBe(mark);
      // The larger steps are a tenth at most, so that nobody is thrown out.
      expect(nextMark(mark, 1) / mark).toBeLessThan(1.1);
    }
  });
});

describe.skipIf(!hasBrowser)('on the stand', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp();
  }, 180_000);
  afterAll(() => app.close());

  it('plays by pedal at once, turns with the music, goes slower at the next time through, and begins again', async () => {
    // A telephone held sideways: one system to a screen.
    const { page, said } = await app.open(844, 390);
    await page.locator('summary').filter({ hasText: 'Files of this drill' }).click();
    await page.fill('[name=times]', '2');
    await page.keyboard.press('Enter');
    await page.selectOption('[name=count-in]', 'none');
    await page.fill('[name=tempo]', '208');
    await page.keyboard.press('Enter');
    await page.waitForSelector('.sheet[aria-busy=false]');
    await page.getByText('Put it on the stand').click();
    const label = `(document.querySelector('.on-stand .system')?.getAttribute('aria-label') ?? '')`;
    await until(page, `${label}.includes('10')`, 30_000);
    await pause(1500);
    await page.keyboard.press('PageDown');
    await until(page, `!${label}.startsWith('Bar 10') && !${label}.startsWith('Bars 10')`, 30_000);
    await page.getByRole('button', { name: 'slower' }).click();
    await until(page, `document.querySelector('.foot .tempo').textContent === '200'`, 30_000);
    await until(page, `document.querySelector('.foot .state').textContent === ''`, 30_000);
    await page.keyboard.press('PageUp');
    await until(page, `${label}.includes('10')`, 30_000);
    await page.keyboard.press('Escape');
    await until(page, `document.querySelector('.foot .state').textContent === ''`);
    // Bars 10 to 17 are played; the demo has places before and after.
    await page.getByRole('button', { name: 'next place' }).click();
    await until(page, `!${label}.includes('10')`, 30_000);
    await page.getByRole('button', { name: 'place before' }).click();
    await page.getByRole('button', { name: 'leave' }).click();
    await page.waitForSelector('.margin');
    expect(await page.inputValue('[name=tempo]')).toContain('200');
    // Folds are as they were left.
    expect(await page.locator('details[open] > summary').allTextContents()).toEqual(['Files of this drill']);
    expect(said).toEqual([]);
    await page.close();
  });

  it('has words that a finger can hit, and a name for everything', async () => {
    const { page } = await app.open(390, 844);
    await page.getByText('Put it on the stand').click();
    await page.waitForSelector('.on-stand .system svg');
    for (const button of await page.locator('.foot button').all()) {
      const box = await button.boundingBox();
      expect(box?.height ?? 0).toBeGreaterThanOrEqual(44);
      expect(box?.width ?? 0).toBeGreaterThanOrEqual(44);
    }
    expect(await page.getByRole('region').getAttribute('aria-label')).toContain('stand');
    await page.close();
  });
});
