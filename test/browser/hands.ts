/** A player's hands on the page, in three ways: by mouse, by keyboard alone, by touch. */
import type { Locator, Page } from 'playwright-core';
import { until } from './open.ts';

export interface Hands {
  readonly page: Page;
  /** A button, a bar, a beat, a fold. */
  readonly press: (what: Locator) => Promise<void>;
  /** A choice among words, by its words. */
  readonly choose: (name: string, words: string) => Promise<void>;
  readonly write: (name: string, text: string) => Promise<void>;
  /** Gives the page a file, from disk. */
  readonly give: (file: string) => Promise<void>;
  /** Starts, or stops, what is heard. */
  readonly play: () => Promise<void>;
  readonly stop: () => Promise<void>;
}

const field = (page: Page, name: string): Locator => page.locator(`[name="${name}"]`);

const written = (page: Page, name: string, text: string): Promise<void> =>
  until(page, `document.querySelector('[name="${name}"]')?.value === ${JSON.stringify(text)}`);

/** Picked on the control itself: the list that opens is the system's own, no part of the page. */
const picked = async (page: Page, name: string, words: string): Promise<void> => {
  await field(page, name).selectOption({ label: words });
};

const playing = (page: Page): Promise<void> =>
  until(page, `document.querySelector('.inked') !== null`, 60_000);

/** Where the page's own button to play is, or the music on the stand. */
const player = (page: Page): Locator => page.locator('.play, .on-stand .music');

export const byMouse = (page: Page): Hands => ({
  page,
  press: (what) => what.click(),
  choose: (name, words) => picked(page, name, words),
  write: async (name, text) => {
    await field(page, name).click({ clickCount: 3 });
    await page.keyboard.press('Control+a');
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
    await written(page, name, text);
  },
  // Dropped on the page, as the browser reports a file that is dragged from elsewhere.
  give: async (file) => {
    const devtools = await page.context().newCDPSession(page);
    const data = { items: [], files: [file], dragOperationsMask: 1 };
    for (const type of ['dragEnter', 'dragOver', 'drop'] as const)
      await devtools.send('Input.dispatchDragEvent', { type, x: 300, y: 300, data });
    await devtools.detach();
  },
  play: async () => {
    await player(page).click();
    await playing(page);
  },
  stop: () => player(page).click(),
});

export const byTouch = (page: Page): Hands => ({
  page,
  press: (what) => what.tap(),
  choose: async (name, words) => {
    await field(page, name).tap();
    await picked(page, name, words);
  },
  // The letters come from the keyboard on the glass.
  write: async (name, text) => {
    await field(page, name).tap();
    await page.keyboard.press('Control+a');
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
    await written(page, name, text);
  },
  give: async (file) => {
    const asked = page.waitForEvent('filechooser');
    await field(page, 'score').tap();
    await (await asked).setFiles(file);
  },
  play: async () => {
    await player(page).tap();
    await playing(page);
  },
  stop: () => player(page).tap(),
});

/** More stops of the Tab key than the page has. */
const mostStops = 400;

/** Goes with the Tab key to what `what` finds; where it is one of the bars or beats, with arrows from the music's one stop. */
const goTo = async (page: Page, what: Locator): Promise<void> => {
  const reached = async (): Promise<boolean> => (await what.and(page.locator(':focus')).count()) > 0;
  await what.waitFor();
  const inMusic = (await what.getAttribute('data-key')) !== null;
  const there = (): Promise<boolean> =>
    page.evaluate<boolean>(`document.activeElement?.matches('[data-key]') === true`);
  for (let stop = 0; !(await reached()); stop++) {
    if (stop > mostStops) throw new Error(`The Tab key does not come to ${String(what)}.`);
    if (inMusic && (await there())) break;
    await page.keyboard.press('Tab');
  }
  if (!inMusic || (await reached())) return;
  await page.keyboard.press('Home');
  const isBeat = (await what.getAttribute('data-beat')) !== null;
  const barOf = (): Promise<string> => page.evaluate<string>(`document.activeElement.dataset.bar`);
  const bar = (await what.getAttribute('data-bar')) ?? '';
  for (let step = 0; (await barOf()) !== bar; step++) {
    if (step > mostStops) throw new Error(`Arrow keys do not come to bar ${bar}.`);
    await page.keyboard.press('ArrowRight');
  }
  const onBeat = (): Promise<boolean> => page.evaluate<boolean>(`document.activeElement.matches('.beat')`);
  // From a bar, or from a note where notes can be touched, up to the beats.
  for (let step = 0; step < 8 && isBeat !== (await onBeat()); step++)
    await page.keyboard.press(isBeat ? 'ArrowUp' : 'ArrowDown');
  // Up from the middle of a bar leads to a beat in its middle, or where no count is that far.
  for (let step = 0; step < 8; step++) await page.keyboard.press('ArrowLeft');
  for (let step = 0; !(await reached()); step++) {
    if (step > mostStops) throw new Error(`Arrow keys do not come to ${String(what)}.`);
    await page.keyboard.press('ArrowRight');
  }
};

export const byKeys = (page: Page): Hands => ({
  page,
  press: async (what) => {
    await goTo(page, what);
    await page.keyboard.press('Enter');
  },
  choose: async (name, words) => {
    await goTo(page, field(page, name));
    await page.keyboard.type(words);
    await page.keyboard.press('Tab');
    await until(
      page,
      `document.querySelector('[name="${name}"]')?.selectedOptions[0]?.textContent === ${JSON.stringify(words)}`,
    );
  },
  write: async (name, text) => {
    await goTo(page, field(page, name));
    await page.keyboard.press('Control+a');
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
    await written(page, name, text);
  },
  give: async (file) => {
    const asked = page.waitForEvent('filechooser');
    await goTo(page, field(page, 'score'));
    await page.keyboard.press('Enter');
    await (await asked).setFiles(file);
  },
  play: async () => {
    // The space key means nothing of its own in the field for bars, which are digits.
    if ((await page.locator('.on-stand').count()) === 0) await goTo(page, field(page, 'from'));
    await page.keyboard.press('Space');
    await playing(page);
  },
  stop: () => page.keyboard.press('Escape'),
});
