/** What can be touched on a screen's systems, and a score's bars as they are written, a stretch at a time. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import {
  holdPiece,
  liveDrill,
  makeScreen,
  makeStretch,
  touchedClick,
  type DrillRequest,
  type HeldPiece,
  type Screen,
} from '../../src/desk/index.ts';
import { nodeEngraver } from '../../src/host/node/engraver.ts';

const engraver = nodeEngraver();
afterAll(() => engraver.close());

const options = { staff: 7, width: 200 };

const held = (file: string): HeldPiece => {
  const piece = holdPiece(readFileSync(path.resolve('demo', file)));
  if (!piece.ok) throw new Error(piece.error.message);
  return piece.value;
};

const lanterns = held('lanterns-on-the-towpath.musicxml');

const shown = async (request: DrillRequest) => {
  const made = liveDrill(lanterns, request, 48_000);
  if (!made.ok) throw new Error(made.error.message);
  const screen = await makeScreen(made.value.worked, options, engraver);
  if (!screen.ok) throw new Error(screen.error.message);
  return { screen: screen.value, made: made.value };
};

const barsOf = ({ systems }: Screen) => systems.flatMap(({ bars }) => bars);

describe('the bars of a screen', () => {
  it('lie side by side on their systems, without the count-in', async () => {
    const { screen } = await shown({ bars: '10-17', click: 'weak' });
    expect(barsOf(screen).map(({ number }) => number)).toStrictEqual(
      [10, 11, 12, 13, 14, 15, 16, 17].map(String),
    );
    for (const { bars, width } of screen.systems) {
      bars.forEach(({ left, right }, i) => {
        expect(right).toBeGreaterThan(left);
        if (i > 0) expect(left).toBeCloseTo(bars[i - 1]?.right ?? 0, -1);
      });
      expect(bars.at(-1)?.right).toBeLessThan(width + 10);
    }
  });

  it('have a place for each beat, in order, on the tick where there is one', async () => {
    const { screen, made } = await shown({ bars: '10-17', click: 'weak' });
    for (const { beats, left, right } of barsOf(screen)) {
      expect(beats.map(({ beat }) => beat)).toStrictEqual(['1', '2', '3', '4']);
      expect(beats.map(({ clicked }) => clicked)).toStrictEqual([false, true, false, true]);
      const xs = [left, ...beats.map(({ x }) => x), right];
      expect(xs).toStrictEqual([...xs].sort((a, b) => a - b));
    }
    const ticks = screen.systems.flatMap(({ svg }) =>
      [...svg.matchAll(/class="tick[^>]*><path d="M([\d.]+) /g)].map(([, x]) => Number(x)),
    );
    const counted = made.live.clicks.filter(({ word }) => word !== null).length;
    expect(
      barsOf(screen).flatMap(({ beats }) => beats.filter(({ clicked }) => clicked).map(({ x }) => x)),
    ).toStrictEqual(ticks.slice(counted));
  });

  it('have the places between the beats where it clicks there', async () => {
    const { screen } = await shown({ bars: '10', click: 'after' });
    expect(barsOf(screen)[0]?.beats.map(({ beat, clicked }) => `${beat}${clicked ? '!' : ''}`)).toStrictEqual(
      [...['1', '1+1/2!', '2', '2+1/2!', '3', '3+1/2!', '4', '4+1/2!']],
    );
  });

  it('a touch on a beat is a click more or less in that bar', async () => {
    const { made } = await shown({ bars: '10-17', click: 'weak' });
    expect(touchedClick(made.worked, { barIndex: 11, beat: '1' })).toMatchObject({
      ok: true,
      value: 'weak,11:1 2 4',
    });
    expect(touchedClick(made.worked, { barIndex: 90, beat: '1' })).toMatchObject({
      ok: false,
      error: { code: 'bar-unknown' },
    });
  });
});

describe('a score as it is written', () => {
  it('comes in stretches that hold each bar once, repeats and endings as signs', async () => {
    const count = lanterns.read.score.bars.length;
    const seen: number[] = [];
    for (let first = 0; first < count; first += 12) {
      const last = Math.min(count, first + 12) - 1;
      const screen = await makeStretch(lanterns, { first, last }, options, engraver);
      if (!screen.ok) throw new Error(screen.error.message);
      seen.push(...barsOf(screen.value).map(({ barIndex }) => barIndex));
      for (const { svg } of screen.value.systems) expect(svg).not.toMatch(/ id="|class="tick/);
    }
    expect(seen).toStrictEqual(lanterns.read.score.bars.map(({ index }) => index));
  });
});
