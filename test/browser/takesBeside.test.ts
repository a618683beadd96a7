/** Takes from elsewhere in the built app: one recording for each player, two takes beside each other, names, seats, and what counts no more. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { asInScore, hear, heldBytes, parseReading, playedDrill, type Reading } from '../../src/desk/index.ts';
import { nodeSounds } from '../../src/host/node/index.ts';
import { ok } from '../../src/units/index.ts';
import { demoBytes, knownTake, wavOf as wavFile } from '../support/knownTake.ts';
import { savedBy, wavOf } from './fed.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** What the page asks of its drill. */
const texts = {
  bars: '19-20',
  keep: 'all',
  click: 'every',
  tempo: '108',
  times: '2',
  'count-in': 'auto',
  tacet: 'none',
  upbeat: 'auto',
  count: 'auto',
};
/** Milliseconds by which the second player comes after the first, in the one take and in the other; the other's tempo. */
const late = { phones: 30, room: -40 } as const;
const slower = '96';
/** Seconds by which the second telephone was started before the first. */
const earlier = 0.731;
/** Metres to the one microphone; sound needs 2.9 ms for a metre. */
const seats = { P1: 1, P2: 4 } as const;
const seen = 2.9 * (seats.P2 - seats.P1);

type Recording = readonly [name: string, bytes: Uint8Array<ArrayBuffer>];

const startedEarlier = (bytes: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> => {
  const { samples } = wavOf(Buffer.from(bytes));
  const shift = Math.round(48_000 * earlier);
  const longer = new Float32Array(samples.length + shift);
  longer.set(samples, shift);
  return wavFile(longer);
};

const inNode = async (
  asked: typeof texts,
  recordings: readonly Recording[],
  distances: ReadonlyMap<string, number>,
): Promise<Reading> => {
  const drill = playedDrill(demoBytes, { kind: 'asked', texts: asked, settings: asInScore });
  if (!drill.ok) throw new Error(drill.error.message);
  const heard = await hear(
    recordings.map(([name, bytes]) => ({
      name,
      part: null,
      read: () => Promise.resolve(ok(heldBytes(bytes))),
    })),
    { bytes: demoBytes, drill: drill.value.drill },
    { with: null, distances },
    nodeSounds,
  );
  if (!heard.ok) throw new Error(heard.error.message);
  return heard.value;
};

const meanOf = ({ pairs }: Reading): number => pairs[0]?.mean?.value ?? NaN;

describe.skipIf(!hasBrowser)('takes from elsewhere', () => {
  const place = mkdtempSync(path.join(tmpdir(), 'levare-takes-'));
  let app: App;
  let page: Page;
  let said: readonly string[];
  let phones: readonly Recording[];
  let room: Recording;
  beforeAll(async () => {
    const apart = knownTake(texts, { P2: late.phones });
    const [flute, clarinet] = [apart.each.get('P1'), apart.each.get('P2')];
    if (flute === undefined || clarinet === undefined) throw new Error('no parts');
    phones = [
      ['Anna.wav', flute],
      ['Ben.wav', startedEarlier(clarinet)],
    ];
    room = ['room.wav', knownTake({ ...texts, tempo: slower }, { P2: late.room }).all];
    for (const [name, bytes] of [...phones, room]) writeFileSync(path.join(place, name), bytes);
    app = await openApp();
    ({ page, said } = await app.open());
    await page.locator('details.settings > summary').click();
    for (const [part, name] of [
      ['P1', 'Anna'],
      ['P2', 'Ben'],
    ] as const)
      await write(`plays-${part}`, name);
    for (const [name, text] of [
      ['from', '19'],
      ['to', '20'],
      ['tempo', texts.tempo],
      ['times', texts.times],
    ] as const)
      await write(name, text);
    await page.selectOption('[name=keep]', 'all');
    await page.selectOption('[name=click]', 'every');
    await settled(page);
    await page.locator('.takes > details > summary').click();
  }, 240_000);
  afterAll(async () => {
    await app.close();
    rmSync(place, { recursive: true, force: true });
  });

  const write = async (name: string, text: string): Promise<void> => {
    await page.fill(`[name="${name}"]`, text);
    await page.keyboard.press('Enter');
  };
  const bring = async (...names: readonly string[]): Promise<void> => {
    const before = await page.locator('[data-take]').count();
    await page.setInputFiles(
      '[name=bring-takes]',
      names.map((name) => path.resolve(place, name)),
    );
    await page.locator('[data-take]').nth(before).waitFor();
  };
  const shown = (): Promise<void> =>
    until(page, `document.querySelector('.heard[data-stage=there] .system svg') !== null`, 120_000);
  const listenTo = async (name: RegExp): Promise<void> => {
    await page.getByRole('button', { name }).press('Enter');
    await shown();
    await page.locator('input[name=led][value=unsure]').press('Space');
    await page.getByRole('button', { name: 'Show what happened' }).press('Enter');
    await page.locator('.found').waitFor();
    await page.locator('summary').filter({ hasText: 'Take along' }).click();
  };
  const blamed = (): Promise<readonly string[]> =>
    page.evaluate<readonly string[]>(
      `axe.run(document).then(({ violations }) => violations.map(({ id, nodes }) => id + ' ' + nodes[0].html))`,
    );
  const saved = async (): Promise<Reading> => {
    const read = parseReading(JSON.parse((await savedBy(page, /^the reading \(JSON\)/)).toString()));
    if (!read.ok) throw new Error(read.error.message);
    return read.value;
  };
  const back = async (): Promise<void> => {
    await page.getByRole('button', { name: 'back to the drill' }).press('Enter');
    await settled(page);
  };

  it('lays a telephone for each player on one clock, whoever was named first, and calls them as they wish', async () => {
    // Their names say whose they are, though Ben's comes first.
    await bring('Ben.wav', 'Anna.wav');
    await page.locator('[data-take] summary').click();
    const of = await page.evaluate<readonly string[]>(
      `[...document.querySelectorAll('[data-sound]')].map((one) => one.querySelector('.file-name').textContent + ' ' + one.querySelector('select').value)`,
    );
    expect([...of].sort()).toEqual(['Anna.wav P1', 'Ben.wav P2']);
    await listenTo(/^What happened in (Ben|Anna)\.wav and 1 more/);
    const [reading, told] = [await saved(), await inNode(texts, phones, new Map())];
    const own = ({ id, state, perceived }: Reading['notes'][number]) => [id, state, perceived?.toFixed(9)];
    expect(reading.notes.map(own)).toStrictEqual(told.notes.map(own));
    expect(Math.abs(meanOf(reading) + late.phones)).toBeLessThan(12);
    const [first = 0, second = 0] = reading.clock.map(({ offset }) => offset);
    expect(Math.abs(second - first - earlier)).toBeLessThan(0.001);
    expect(await page.locator('section.below').textContent()).toContain('on one clock');
    expect(reading.parts.map(({ name }) => name)).toEqual(['Flute', 'Clarinet in B♭']);
    await page.selectOption('[name=names]', 'players');
    await shown();
    const named = await saved();
    expect(named.parts.map(({ name, file }) => [name, file])).toEqual([
      ['Anna', 'P1'],
      ['Ben', 'P2'],
    ]);
    await until(page, `/Anna|Ben/.test(document.querySelector('.found').textContent)`);
    // What the rule makes of the take stands there, and goes when the take does not count.
    await page.locator('.proposal').waitFor();
    await page.getByRole('button', { name: 'leave this whole take out' }).press('Enter');
    await page.locator('.proposal').waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'count this take again' }).press('Enter');
    await page.locator('.proposal').waitFor();
    await page.locator('summary').filter({ hasText: 'Where you sat' }).click();
    for (const part of ['P1', 'P2'] as const) await write(`seat-${part}`, String(seats[part]));
    await page.evaluate(axe);
    expect(await blamed()).toEqual([]);
    await back();
    expect(await blamed()).toEqual([]);
  }, 240_000);

  it('hears one microphone from where the players sat, with another take beside it', async () => {
    await write('tempo', slower);
    await settled(page);
    await bring('room.wav');
    await listenTo(/^What happened in room\.wav/);
    const asked = { ...texts, tempo: slower };
    const [reading, told] = [await saved(), await inNode(asked, [room], new Map(Object.entries(seats)))];
    expect(meanOf(reading)).toBeCloseTo(meanOf(told), 6);
    // The second player sat further away: what came late through the air did not come late.
    const { low = NaN, high = NaN } = reading.pairs[0]?.mean ?? {};
    expect(low).toBeLessThan(-late.room + seen);
    expect(high).toBeGreaterThan(-late.room + seen);
    const other = await page.locator('[name=beside] option').nth(1).getAttribute('value');
    await page.selectOption('[name=beside]', other ?? '');
    await until(page, `document.querySelector('.heard[data-stage=there] g.reading.beside') !== null`, 60_000);
    await page.locator('summary').filter({ hasText: 'All numbers' }).click();
    const row = page.locator('.numbers tr').filter({ hasText: 'first less second' }).first();
    await row.waitFor();
    const cells = await row.locator('td.number').allTextContents();
    const numbers = cells.slice(0, 2).map((text) => Number(/[\d.]+/.exec(text.replace('−', '-'))?.[0]));
    expect(Math.abs((numbers[0] ?? NaN) - Math.abs(meanOf(reading)))).toBeLessThan(0.1);
    expect(Math.abs((numbers[1] ?? NaN) - late.phones)).toBeLessThan(12);
    await back();
  }, 240_000);

  it('says in plain words when a recording is of something else; AAC is taken apart where the browser can', async () => {
    await bring(path.resolve('test', 'listen', 'fixtures', 'bursts.m4a'));
    await page.getByRole('button', { name: /^What happened in bursts\.m4a/ }).press('Enter');
    const wrong = page.locator('.heard .error');
    await wrong.waitFor({ timeout: 60_000 });
    expect(['take-other-piece', 'sound-kind']).toContain(await wrong.getAttribute('data-code'));
    expect(said).toEqual([]);
  }, 120_000);
});
