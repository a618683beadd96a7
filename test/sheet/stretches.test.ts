/** A long drill's page in stretches: the same bars, notes, clicks and signs as the page in one go. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import {
  holdPiece,
  liveDrill,
  makePageStretch,
  type DrillRequest,
  type Screen,
} from '../../src/desk/index.ts';
import { nodeEngraver } from '../../src/host/node/engraver.ts';

const engraver = nodeEngraver();
afterAll(() => engraver.close());

const options = { staff: 7, width: 200 };

const piece = (() => {
  const held = holdPiece(readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml')));
  if (!held.ok) throw new Error(held.error.message);
  return held.value;
})();

const stretched = async (request: DrillRequest, size: number) => {
  const made = liveDrill(piece, request, 48_000);
  if (!made.ok) throw new Error(made.error.message);
  const { live, worked } = made.value;
  const part = async (first: number, last: number): Promise<Screen> => {
    const screen = await makePageStretch(worked, { first, last }, options, engraver);
    if (!screen.ok) throw new Error(screen.error.message);
    return screen.value;
  };
  const count = live.pageBars.length;
  const parts: Screen[] = [];
  for (let first = 0; first < count; first += size)
    parts.push(await part(first, Math.min(count, first + size) - 1));
  return { live, whole: await part(0, count - 1), parts };
};

const barsOf = (screens: readonly Screen[]) =>
  screens.flatMap(({ systems }) => systems.flatMap(({ bars }) => bars));
const idsOf = (screens: readonly Screen[], pattern: RegExp) =>
  screens.flatMap(({ systems }) =>
    systems.flatMap(({ svg }) => [...svg.matchAll(pattern)].map(([, id]) => id)),
  );

describe("a drill's page in stretches", () => {
  it.each([
    { bars: 'all', click: 'weak' },
    { bars: '38-45', click: 'every', tempo: ['72'] },
    { bars: '10-17', click: 'every', upbeat: '1/4', keep: '1/8', times: 2 },
  ])('shows what the page in one go shows: $bars, $click', async (request) => {
    const { live, whole, parts } = await stretched(request, 5);
    expect(parts.length).toBeGreaterThan(1);
    const plain = (screens: readonly Screen[]) =>
      barsOf(screens).map(({ barIndex, number, beats }) => [
        barIndex,
        number,
        ...beats.map(({ beat, clicked }) => `${beat}${clicked ? '!' : ''}`),
      ]);
    expect(plain(parts)).toStrictEqual(plain([whole]));
    expect(plain(parts).map(([index]) => index)).toStrictEqual(live.pageBars.map(({ barIndex }) => barIndex));
    // Each click of the first time through has its tick, once, under the id that it has on the whole page.
    const ticks = / id="((?:tick|recount)-\d+)"/g;
    expect(idsOf(parts, ticks)).toStrictEqual(idsOf([whole], ticks));
    expect(new Set(idsOf(parts, ticks))).toStrictEqual(new Set(live.ticks));
    // No id stands twice on the page, and each written note stands where its stretch is.
    const ids = idsOf(parts, / id="([^"]+)"/g);
    expect(new Set(ids).size).toBe(ids.length);
    const notes = (screens: readonly Screen[]) =>
      screens
        .flatMap((screen) =>
          screen.notes.map(({ note, part, bar, kept }) => `${note ?? ''} ${part} ${bar} ${kept}`),
        )
        .sort();
    expect(notes(parts).filter((one) => !one.startsWith(' '))).toStrictEqual(
      notes([whole]).filter((one) => !one.startsWith(' ')),
    );
  });

  it('counts in at its beginning alone, and ends at its end alone', async () => {
    const { parts } = await stretched({ bars: '10-17', click: 'weak' }, 4);
    const [first, second] = parts;
    const words = (screen: Screen | undefined): string =>
      (screen?.systems ?? []).map(({ svg }) => svg.replace(/<[^>]*>/g, ' ')).join(' ');
    expect(words(first)).toMatch(/one\s+two/);
    expect(words(second)).not.toMatch(/one|two/);
    expect(second?.systems[0]?.from).toBe('14');
  });
});
