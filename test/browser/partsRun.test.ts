/** Parts in the audio thread, fed by the rendering one, block by block and without a browser. */
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { atNextBar, atNextTime } from '../../src/app/switching.ts';
import { PartsFeed } from '../../src/host/browser/partsFeed.ts';
import { SoundRun } from '../../src/host/browser/soundRun.ts';
import type { Balance } from '../../src/host/browser/clickMessages.ts';
import { liveClicks } from '../../src/sound/live.ts';
import { liveParts, partsBlocks, type LiveParts } from '../../src/sound/liveParts.ts';
import { renderParts } from '../../src/sound/parts/mix.ts';
import type { Samples } from '../../src/units/index.ts';
import { music, partOf, type TestNote } from '../sound/music.ts';

const rate = 44_100;
const block = 128;
const players = [partOf('wind.flutes.flute', 'P1'), partOf('strings.cello', 'P2')];
const notes: readonly TestNote[] = [0, 1, 2, 3].flatMap((n): readonly TestNote[] => [
  { part: 'P1', at: `${2 * n}/7`, length: '1/7', midi: 72 + n },
  { part: 'P2', at: `${2 * n + 1}/7`, length: '1/9', midi: 48 + n },
]);
const timeline = music(notes, '5/4', rate);

const parts = (): LiveParts =>
  liveParts(timeline, players, { reference: 440, shapes: new Map(), ceiling: 0.3 }).parts;

/** Each part as the renderer of files makes it, whose onsets an independent program reads (test/sound/parts.test.ts). */
const files = (): readonly Float64Array[] => {
  const made = renderParts(timeline, players, 0.3, { seating: 'apart' });
  if (!made.ok) throw new Error(made.error.message);
  const out = players.map(() => new Float64Array(made.value.frames));
  let at = 0;
  for (const samples of made.value.blocks) {
    samples.forEach((value, i) => out[i % 2]?.fill(value, at + (i >> 1), at + (i >> 1) + 1));
    at += samples.length / 2;
  }
  return out;
};

const usual: Balance = { click: 1, parts: [1, 1], place: 'centre' };

const silence = (): ReturnType<typeof liveClicks> =>
  liveClicks({ ...timeline, clicks: [{ sample: 0 as Samples, first: true }] });

/** Plays a run and feeds it as the rendering thread does, `behind` blocks of the audio thread late. */
const played = (
  balanceAt: (block: number) => Balance,
  { from = 0, starved = false }: { readonly from?: number; readonly starved?: boolean } = {},
): { readonly left: Float32Array; readonly right: Float32Array; readonly late: number } => {
  const clicks = silence();
  if (!clicks.ok) throw new Error(clicks.error.message);
  const feed = new PartsFeed(parts(), from);
  const head = feed.next();
  const run = new SoundRun({ run: 1, clicks: clicks.value, head, from }, 0, balanceAt(0));
  const blocks = Math.ceil((clicks.value.length - from) / block);
  const [left, right] = [new Float32Array(blocks * block), new Float32Array(blocks * block)];
  let late = 0;
  for (let i = 0; i < blocks; i++) {
    if (!starved && i % 32 === 0) for (const more of feed.until(from + i * block)) run.parts?.take(more);
    const cut = <T>(of: { subarray(a: number, b: number): T }): T => of.subarray(i * block, (i + 1) * block);
    run.addTo(cut(left), cut(right), i * block, balanceAt(i));
    late += run.parts?.takeLate() ?? 0;
  }
  return { left, right, late };
};

const most = (values: ArrayLike<number>): number =>
  Array.from(values).reduce((a, b) => Math.max(a, Math.abs(b)), 0);

describe('what is heard of the parts', () => {
  const whole = files();

  it('is what the files hold, but for the loudness', () => {
    const quiet = played(() => ({ ...usual, click: 0 }));
    expect(quiet.late).toBe(0);
    const sum = Float64Array.from(whole[0] ?? [], (value, n) => value + (whole[1]?.[n] ?? 0));
    const scale = most(quiet.left) / most(sum);
    expect(scale).toBeGreaterThan(0);
    const off = sum.map((value, n) => value * scale - (quiet.left[n] ?? 0));
    // Single precision is all that goes to the loudspeaker.
    expect(most(off)).toBeLessThan(1e-6);
    expect(quiet.right).toStrictEqual(quiet.left);
  });

  it('never passes the ceiling with every part at its loudest', () => {
    expect(most(played(() => ({ ...usual, click: 0 })).left)).toBeLessThanOrEqual(0.3);
  });

  it('has the click alone on the left where that is wanted', () => {
    const apart = played(() => ({ ...usual, place: 'left' }));
    const click = played(() => ({ ...usual, parts: [0, 0] }));
    const music = played(() => ({ ...usual, click: 0 }));
    expect(apart.left).toStrictEqual(click.left);
    expect(apart.right).toStrictEqual(music.left);
  });

  it('is one player only where the other is silent', () => {
    const alone = played(() => ({ ...usual, click: 0, parts: [1, 0] }));
    const scale = most(alone.left) / most(whole[0] ?? []);
    const off = (whole[0] ?? new Float64Array()).map((value, n) => value * scale - (alone.left[n] ?? 0));
    expect(most(off)).toBeLessThan(1e-6);
  });

  it('changes its loudness without a crack', () => {
    const step = (sound: Float32Array): number =>
      sound.reduce(
        (high, value, i) => (i === 0 ? 0 : Math.max(high, Math.abs(value - (sound[i - 1] ?? 0)))),
        0,
      );
    const steady = played(() => ({ ...usual, click: 0 }));
    const swung = played((i) => ({ ...usual, click: 0, parts: i % 40 < 20 ? [1, 1] : [0, 0] }));
    expect(step(swung.left)).toBeLessThan(step(steady.left) * 1.2);
  });

  it('is silent and told where the rendering thread does not come along', () => {
    const starved = played(() => ({ ...usual, click: 0 }), { starved: true });
    expect(starved.late).toBe(parts().length - 8192);
    expect(most(starved.left.subarray(8192 + block))).toBe(0);
  });

  it('can begin where a note begins, as if all before it had been left out', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 3 }), (n) => {
        // The flute's notes begin on seconds 2n/7, when the cello has been silent since 1/63 s.
        const from = Math.floor(((2 * n) / 7) * rate + 0.5);
        const late = played(() => ({ ...usual, click: 0 }), { from });
        const all = played(() => ({ ...usual, click: 0 }));
        const off = late.left
          .map((value, i) => value - (all.left[from + i] ?? 0))
          .subarray(0, parts().length - from);
        expect(most(off)).toBeLessThan(1e-6);
      }),
      { numRuns: 4 },
    );
  });

  it('comes in blocks that follow one another', () => {
    let at = 0;
    for (const { from, length } of partsBlocks(parts())) {
      expect(from).toBe(at);
      at += length;
    }
    expect(at).toBe(parts().length);
  });
});

describe('where one drill is left for another', () => {
  const bar = (sample: number, rep: number, barIndex: number) => ({
    sample,
    rep,
    barIndex,
    number: String(barIndex),
  });
  const now = {
    ends: [1000, 2100, 3200],
    bars: [bar(0, 1, 4), bar(500, 1, 5), bar(1100, 2, 4), bar(1600, 2, 5)],
  };
  const other = { ends: [900], bars: [bar(100, 1, 5), bar(500, 2, 4)] };
  // At 1000 Hz: 150 samples are needed to go over.
  test.each([
    [0, 1000],
    [850, 1000],
    [851, 2100],
    [1951, null],
    [3100, null],
  ])('the next time through, heard at %d: %s', (heard, at) => {
    expect(atNextTime(now, heard, 1000)).toEqual(at === null ? null : { at, from: 0 });
  });
  test('the next bar that both have', () => {
    expect(atNextBar(now, other, 0, 1000)).toEqual({ at: 500, from: 100 });
    expect(atNextBar(now, other, 360, 1000)).toEqual({ at: 1600, from: 100 });
    expect(atNextBar(now, other, 1500, 1000)).toBeNull();
  });
});
