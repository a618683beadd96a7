/** The music for a screen, engraved on Node: which tick belongs to which click. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { holdPiece, liveDrill, makeScreen, type DrillRequest } from '../../src/desk/index.ts';
import { nodeEngraver } from '../../src/host/node/engraver.ts';

const engraver = nodeEngraver();
afterAll(() => engraver.close());

const demo = readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml'));

const shown = async (request: DrillRequest) => {
  const piece = holdPiece(demo);
  if (!piece.ok) throw new Error(piece.error.message);
  const made = liveDrill(piece.value, request, 48_000);
  if (!made.ok) throw new Error(made.error.message);
  const screen = await makeScreen(made.value.worked, { staff: 7, width: 200 }, engraver);
  if (!screen.ok) throw new Error(screen.error.message);
  return { screen: screen.value, clicks: made.value.live.clicks, ticks: made.value.live.ticks };
};

it('every click has a tick; later repetitions pass over the ticks of the first, at the same beats', async () => {
  const { screen, clicks, ticks } = await shown({
    bars: '10-13',
    click: 'weak',
    tempo: ['72', '80'],
    times: 2,
  });
  expect(ticks).toHaveLength(clicks.length);
  expect(ticks).not.toContain(null);
  expect(new Set(clicks.map(({ rep }) => rep))).toStrictEqual(new Set([1, 2, 3, 4]));
  const ofRep = (rep: number) =>
    clicks.flatMap((click, i) =>
      click.rep === rep && click.word === null ? [`${click.bar ?? ''} ${click.beat} ${ticks[i] ?? ''}`] : [],
    );
  for (const rep of [2, 3, 4]) expect(ofRep(rep)).toStrictEqual(ofRep(1));
  const drawn = screen.systems.flatMap(({ svg }) =>
    [...svg.matchAll(/ id="(tick-\d+)"/g)].map(([, id]) => id),
  );
  expect(new Set(drawn)).toStrictEqual(new Set(ticks));
});

it('a fermata that is counted again has a sign that its clicks share', async () => {
  const { screen, clicks, ticks } = await shown({ bars: '42-45', click: 'every' });
  const again = clicks.flatMap(({ bar, word }, i) => (bar !== null || word === null ? [] : [ticks[i]]));
  expect(again).not.toContain(null);
  expect(ticks.filter((id) => id?.startsWith('recount') === true).length).toBeGreaterThan(1);
  const drawn = screen.systems.flatMap(({ svg }) =>
    [...svg.matchAll(/ id="((?:tick|recount)-\d+)"/g)].map(([, id]) => id),
  );
  for (const id of again) expect(drawn).toContain(id);
});

it('systems tell the bars that they hold', async () => {
  const { screen } = await shown({ bars: '10-17' });
  const { systems } = screen;
  expect(systems.length).toBeGreaterThan(1);
  expect(systems[0]?.from).toBe('10');
  expect(systems.at(-1)?.to).toBe('17');
  systems.forEach(({ from }, i) => {
    if (i > 0) expect(Number(from)).toBe(Number(systems[i - 1]?.to) + 1);
  });
});
