/** Recording in the built app: what is kept is what the microphone gave, whatever happens to page, disk and microphone. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { performedSchema, type Performed } from '../../src/desk/index.ts';
import { fedNoise, lasting, placeOf, processesOf, savedBy, wavOf, type Wav } from './fed.ts';
import { hasBrowser, openApp, settled, until, type App } from './open.ts';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

type Files = readonly (readonly [name: string, bytes: number])[];

describe.skipIf(!hasBrowser)('recording', () => {
  let app: App;
  beforeAll(async () => {
    app = await openApp(['--use-fake-device-for-media-stream']);
  }, 60_000);
  afterAll(() => app.close());

  /** A browser of one's own that may hear; with axe, and the tests' microphone. */
  const fresh = async (options: BrowserContextOptions = {}): Promise<BrowserContext> => {
    const context = await app.browser.newContext({
      viewport: { width: 1366, height: 768 },
      acceptDownloads: true,
      permissions: ['microphone'],
      ...options,
    });
    for (const script of ['inPage.js', 'microphone.js'])
      await context.addInitScript({ path: path.resolve('test', 'browser', script) });
    await context.addInitScript(axe);
    return context;
  };
  const opened = async (context: BrowserContext, microphone = 'noise'): Promise<Page> => {
    const page = await context.newPage();
    await page.goto(`${app.address}?microphone=${microphone}`);
    await settled(page);
    return page;
  };
  const write = async (page: Page, name: string, text: string): Promise<void> => {
    await page.fill(`[name="${name}"]`, text);
    await page.keyboard.press('Enter');
  };
  /** One bar at 240, clicked and counted in: a few seconds. */
  const short = async (page: Page, times = '1'): Promise<void> => {
    await write(page, 'from', '12');
    await write(page, 'to', '12');
    await write(page, 'tempo', '240');
    await write(page, 'times', times);
    await settled(page);
  };
  const record = async (page: Page): Promise<void> => {
    const button = page.locator('.start-more').getByRole('button', { name: 'Play and record' });
    await button.press('Enter');
    await until(
      page,
      `['.recording-sign [role=timer]', '.asks', '.recording .error'].some((one) => document.querySelector(one) !== null)`,
    );
  };
  /** Through all that is asked before the first take. */
  const agree = async (page: Page): Promise<void> => {
    await record(page);
    await page.getByRole('button', { name: 'Everyone agrees' }).click();
    await page.getByText('Play your loudest bars.').waitFor();
  };
  const running = (page: Page): Promise<void> =>
    until(page, 'document.querySelector(".recording-sign [role=timer]") !== null');
  const kept = (page: Page): Promise<void> =>
    until(page, '/recorded\\./.test(document.querySelector(".recorded").textContent)', 20_000);
  const files = (page: Page): Promise<Files> => page.evaluate<Files>('levareMicrophone.files()');
  const openTakes = async (page: Page): Promise<void> => {
    await page.locator('.takes > details > summary').click();
    await page.locator('[data-take] summary').first().waitFor();
    for (const summary of await page.locator('[data-take] summary').all()) await summary.click();
  };
  const soundOf = async (page: Page): Promise<Wav> => wavOf(await savedBy(page, /^Take along .* as a sound/));
  const timesOf = async (page: Page): Promise<Performed> =>
    performedSchema.parse(JSON.parse((await savedBy(page, /^Its times/)).toString()));
  const blamed = (page: Page): Promise<readonly string[]> =>
    page.evaluate<readonly string[]>(
      `axe.run(document).then(({ violations }) => violations.map(({ id, nodes }) => id + ' ' + nodes[0].html))`,
    );
  /** Every sample is the microphone's, from the first on. */
  const isNoise = ({ samples, rate, whole }: Wav): void => {
    expect(whole).toBe(true);
    const noise = fedNoise(30 * rate);
    const at = placeOf(samples, noise);
    expect(at).toBeGreaterThanOrEqual(0);
    const wrong: number[] = [];
    samples.forEach((value, n) => {
      if (value !== noise[(at + n) % noise.length]) wrong.push(n);
    });
    const [first = -1, last = -1] = [wrong[0], wrong.at(-1)];
    expect(wrong.length, `from ${first} to ${last} of ${samples.length}, ${samples[first]}`).toBe(0);
  };

  it('asks first, looks at the level, and keeps every sample while the page hangs', async () => {
    const context = await fresh();
    const page = await opened(context);
    await short(page, '2');
    await record(page);
    expect(await page.locator('.asks').textContent()).toContain('Ask everyone');
    // Nobody has been asked to hear yet.
    expect(await page.evaluate('levareMicrophone.asked.length')).toBe(0);
    expect(await blamed(page)).toEqual([]);
    await page.getByRole('button', { name: 'Everyone agrees' }).press('Enter');
    await page.getByText('Good.').waitFor();
    const wanted = await page.evaluate<string>('levareMicrophone.asked[0]');
    for (const name of ['echoCancellation', 'noiseSuppression', 'autoGainControl'])
      expect(wanted).toContain(`"${name}":false`);
    expect(await blamed(page)).toEqual([]);

    await page.locator('.start-more').getByRole('button', { name: 'Play and record' }).press('Enter');
    await running(page);
    expect(await page.locator('.recording-sign').textContent()).toMatch(
      /^Recording.*microphone is on.*0:0\d/,
    );
    expect(await blamed(page)).toEqual([]);
    await page.evaluate('levareTest.hang()');
    await pause(3000);
    expect(await page.evaluate<number>('levareTest.letGo()')).toBeGreaterThan(2);
    await kept(page);
    await openTakes(page);
    const sound = await soundOf(page);
    isNoise(sound);
    expect(sound.samples.length / sound.rate).toBeGreaterThan(4);
    expect(await blamed(page)).toEqual([]);

    // The second take needs one touch; it is named, heard, and deleted at once and for good.
    await page.getByLabel(/^Name of the take/).fill('With Anna');
    await record(page);
    await running(page);
    await page.keyboard.press('Escape');
    await kept(page);
    expect(await page.locator('[data-take]').count()).toBe(2);
    await page.reload();
    await settled(page);
    await openTakes(page);
    await page.getByRole('button', { name: 'Listen to With Anna' }).click();
    await page.getByRole('button', { name: 'stop', exact: true }).click();
    expect((await files(page)).length).toBe(4);
    for (const left of [2, 0]) {
      await page
        .getByRole('button', { name: /^Delete / })
        .first()
        .click();
      await page.getByRole('button', { name: 'Yes, delete' }).click();
      await until(page, `document.querySelectorAll('[data-take]').length === ${left / 2}`);
      expect((await files(page)).length).toBe(left);
    }
    await context.close();
  });

  it('knows what sounded and when: the clicks lie in the recording on the very samples, over a change of tempo and a new start', async () => {
    const context = await fresh();
    const page = await opened(context, 'loudspeaker');
    await page.selectOption('[name=counts]', 'clicked');
    await short(page, '2');
    await agree(page);
    await page.locator('.start-more').getByRole('button', { name: 'Play and record' }).press('Enter');
    await until(page, 'document.querySelector(".tick.inked") !== null');
    await write(page, 'tempo', '200');
    await until(page, 'document.querySelector("[name=tempo]").value === "200"');
    await kept(page);
    await openTakes(page);
    const { samples, rate } = await soundOf(page);
    const performed = await timesOf(page);
    expect([performed.rate, performed.samples, performed.ended]).toEqual([rate, samples.length, 'played']);
    expect(performed.runs.length).toBe(2);
    const [first, second] = performed.runs;
    expect(second?.from).toBe(first?.to);
    const clicks = performed.runs.flatMap((run) => run.clicks);
    expect(clicks.length).toBeGreaterThan(10);
    expect(clicks.some(({ word }) => word !== null)).toBe(true);
    // Each click begins on its sample; before the first and a tenth of a second after each all is silent.
    for (const { sample } of clicks) {
      expect(samples.subarray(sample, sample + 8).some((value) => value !== 0)).toBe(true);
      expect(samples.subarray(sample - 8, sample).every((value) => value === 0)).toBe(true);
    }
    expect(samples.subarray(0, clicks[0]?.sample).every((value) => value === 0)).toBe(true);
    const heard = samples.filter((value, n) => value !== 0 && samples[n - 1] === 0).length;
    expect(heard).toBeGreaterThanOrEqual(clicks.length);
    expect(
      performed.runs.every(({ bars }) => bars.every(({ number }) => ['11', '12'].includes(number))),
    ).toBe(true);
    await context.close();
  });

  it('says what is the matter with the microphone, keeps what came before it went, and goes on while the page is frozen', async () => {
    const context = await fresh();
    const page = await opened(context, 'real');
    await short(page, '20');
    await context.clearPermissions();
    await record(page);
    await page.getByRole('button', { name: 'Everyone agrees' }).click();
    await page.locator('[data-code="microphone-refused"]').waitFor();
    await context.grantPermissions(['microphone']);
    for (const [error, code] of [
      ['NotReadableError', 'microphone-busy'],
      ['NotFoundError', 'microphone-missing'],
      ['TypeError', 'microphone-unknown'],
    ] as const) {
      await page.evaluate(`levareMicrophone.error = '${error}'`);
      await page.locator('.start-more').getByRole('button', { name: 'Play and record' }).press('Enter');
      await page.locator(`[data-code="${code}"]`).waitFor();
    }
    expect(await blamed(page)).toEqual([]);
    // The drill is there as ever.
    await page.locator('.play').press('Enter');
    await until(page, 'document.querySelector(".play").textContent === "Stop"');
    await page.keyboard.press('Escape');

    // A microphone of another rate is brought to the file's.
    await page.evaluate("levareMicrophone.error = null; levareMicrophone.kind = 'slow'");
    await page.locator('.start-more').getByRole('button', { name: 'Play and record' }).press('Enter');
    await page.getByText('Too loud').waitFor();
    await page.locator('.start-more').getByRole('button', { name: 'Play and record' }).press('Enter');
    await running(page);
    await pause(2500);
    await page.keyboard.press('Escape');
    await kept(page);
    await openTakes(page);
    const tone = await soundOf(page);
    // Its pitch, by the middle one of the distances between rises: the test's own microphone may skip on a busy machine.
    const rises: number[] = [];
    for (let n = tone.rate; n < 2 * tone.rate; n++)
      if ((tone.samples[n - 1] ?? 0) < 0 && (tone.samples[n] ?? 0) >= 0) rises.push(n);
    const periods = rises.slice(1).map((n, i) => n - (rises[i] ?? 0));
    const middle = periods.sort((x, y) => x - y)[Math.floor(periods.length / 2)] ?? 0;
    expect(Math.abs(middle - tone.rate / 440)).toBeLessThanOrEqual(1);

    await page.evaluate("levareMicrophone.kind = 'noise'");
    const cut = async (why: string, act: string): Promise<void> => {
      await record(page);
      await running(page);
      await pause(700);
      await page.evaluate(act);
      await page.locator(`[data-cut="${why}"]`).waitFor();
      expect(await page.locator(`[data-cut="${why}"]`).textContent()).toContain('kept');
      await until(page, 'document.querySelector(".recording-sign [role=timer]") === null');
      await page.keyboard.press('Escape');
      await until(page, 'document.querySelector(".play").textContent === "Play"');
    };
    await cut('microphone-gone', 'levareMicrophone.unplug()');
    await cut('asleep', 'levareMicrophone.suspend()');
    expect(await page.locator('[data-take]').count()).toBe(3);

    await record(page);
    await running(page);
    const devtools = await context.newCDPSession(page);
    await devtools.send('Page.setWebLifecycleState', { state: 'frozen' });
    await pause(2000);
    await devtools.send('Page.setWebLifecycleState', { state: 'active' });
    await page.keyboard.press('Escape');
    await kept(page);
    expect(await page.locator('[data-take]').count()).toBe(4);
    for (const summary of (await page.locator('[data-take] summary').all()).slice(0, 3))
      await summary.click();
    for (const button of (await page.getByRole('button', { name: /^Take along .* as a sound/ }).all()).slice(
      0,
      3,
    )) {
      const saved = page.waitForEvent('download');
      await button.click();
      isNoise(wavOf(readFileSync(await (await saved).path())));
    }
    await context.close();
  });

  it('offers what was recorded when the browser was killed, a second lost at most, and ends where the disk is full', async () => {
    const folder = mkdtempSync(path.join(tmpdir(), 'levare-killed-'));
    let context = await lasting(folder);
    let page = await opened(context);
    await short(page, '20');
    await agree(page);
    await page.locator('.start-more').getByRole('button', { name: 'Play and record' }).press('Enter');
    await running(page);
    await pause(2500);
    const [own] = processesOf(folder);
    const time = await page.locator('.recording-sign [role=timer]').textContent();
    process.kill(own ?? 0, 'SIGKILL');
    await context.close().catch(() => undefined);
    while (processesOf(folder).length > 0) await pause(50);

    context = await lasting(folder);
    page = await opened(context);
    await page.getByText('was cut off').waitFor();
    await page.getByRole('button', { name: 'Keep it as a take' }).click();
    await openTakes(page);
    const sound = await soundOf(page);
    isNoise(sound);
    const lived = Number(time?.split(':')[1]);
    expect(lived).toBeGreaterThan(1);
    expect(sound.samples.length / sound.rate).toBeGreaterThan(lived - 1);
    const performed = await timesOf(page);
    expect([performed.ended, performed.runs.length]).toEqual(['cut-off', 1]);

    const devtools = await context.newCDPSession(page);
    const { origin } = new URL(app.address);
    const { usage } = await page.evaluate<{ usage: number }>('navigator.storage.estimate()');
    await devtools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: usage + 4_500_000 });
    // The browser noted on the device that everyone agrees, or had not come to it when it was killed.
    await record(page);
    if ((await page.locator('.asks').count()) > 0) {
      const agrees = page.getByRole('button', { name: 'Everyone agrees' });
      if ((await agrees.count()) > 0) await agrees.click();
      await page.getByText('Good.').waitFor();
      await page.locator('.start-more').getByRole('button', { name: 'Play and record' }).press('Enter');
    }
    await page.locator('[data-cut="no-room"]').waitFor({ timeout: 60_000 });
    await page.keyboard.press('Escape');
    expect(await page.locator('[data-take]').count()).toBe(2);
    await page.locator('[data-take] summary').first().click();
    const saved = page.waitForEvent('download');
    await page
      .getByRole('button', { name: /^Take along .* as a sound/ })
      .first()
      .click();
    isNoise(wavOf(readFileSync(await (await saved).path())));
    await devtools.send('Storage.overrideQuotaForOrigin', { origin });

    // A window that is killed, and what it recorded thrown away.
    await record(page);
    await running(page);
    void devtools.send('Page.crash').catch(() => undefined);
    await page.waitForEvent('crash');
    const last = await opened(context);
    await last.getByRole('button', { name: 'Delete it' }).click();
    await until(last, 'document.querySelector("[data-found]") === null');
    expect((await files(last)).length).toBe(4);
    await context.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('records each start on the stand by pedal, on a telephone, from a real microphone; recordings from elsewhere are laid to it', async () => {
    const context = await fresh({ viewport: { width: 844, height: 390 }, hasTouch: true });
    const page = await opened(context, 'real');
    await short(page);
    await page.getByText('Put it on the stand').tap();
    await page.waitForSelector('.on-stand .system svg');
    const word = page.getByRole('button', { name: 'record each start' });
    await word.tap();
    await page.getByRole('button', { name: 'Everyone agrees' }).tap();
    await page.getByText('Play your loudest bars.').waitFor();
    expect(await blamed(page)).toEqual([]);
    await page.locator('.asks').getByRole('button', { name: 'record each start' }).tap();
    await page.keyboard.press('PageDown');
    await running(page);
    expect(await blamed(page)).toEqual([]);
    await kept(page);
    await page.keyboard.press('Space');
    await running(page);
    // Longer than from one of its beeps to the next.
    await pause(1500);
    await page.locator('.on-stand .music').tap();
    await kept(page);
    const small = await page.evaluate<readonly { height: number }[]>('levareTest.targets()');
    expect(Math.min(...small.map(({ height }) => height))).toBeGreaterThanOrEqual(44);
    await page.getByRole('button', { name: 'leave' }).tap();
    await settled(page);
    await page.locator('.takes > details > summary').click();
    await page.locator('[data-take] summary').first().click();
    expect(await page.locator('[data-take]').count()).toBe(2);
    const { samples, whole } = await soundOf(page);
    expect(whole).toBe(true);
    // The browser's own test microphone beeps once a second.
    expect(samples.some((value) => Math.abs(value) > 0.05)).toBe(true);

    const phone = Buffer.from('not read here, kept as it is');
    await page.setInputFiles('[data-take] input[type=file]', [
      { name: 'anna.m4a', mimeType: 'audio/mp4', buffer: phone },
      { name: 'ben.m4a', mimeType: 'audio/mp4', buffer: phone },
    ]);
    await page.getByRole('button', { name: 'Listen to ben.m4a' }).waitFor();
    expect(await savedBy(page, /^Take along anna\.m4a/)).toEqual(phone);
    await page.getByLabel('Who is heard in anna.m4a').selectOption({ index: 1 });
    await page.getByRole('button', { name: 'Delete ben.m4a' }).tap();
    await page.getByRole('button', { name: 'Yes, delete' }).tap();
    await page.getByRole('button', { name: 'Listen to ben.m4a' }).waitFor({ state: 'detached' });
    expect((await files(page)).filter(([name]) => name.endsWith('.m4a')).length).toBe(1);
    const targets = await page.evaluate<readonly { what: string; height: number }[]>('levareTest.targets()');
    expect(targets.filter(({ what, height }) => height < 44 && what !== 'About hearing')).toEqual([]);
    expect(await blamed(page)).toEqual([]);
    await context.close();
  });
});
