/** Ticks stand for the timeline's clicks, each once, at their exact places, over the notes that they belong to. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import fc from 'fast-check';
import type { DrillRequest } from '../../src/desk/request.ts';
import { nodeEngraver } from '../../src/host/node/engraver.ts';
import { nodePdf } from '../../src/host/node/pdf.ts';
import { writeMusicXml } from '../../src/score/write/musicxml.ts';
import { drawnPieces } from '../../src/sheet/clickLine.ts';
import { dressed } from '../../src/sheet/dress.ts';
import { makeSheet, usualSheet } from '../../src/sheet/index.ts';
import { sheetScore } from '../../src/sheet/sheetScore.ts';
import { beats, F, note } from '../../src/units/index.ts';
import { count, demo } from './support.ts';

const engraver = nodeEngraver();
afterAll(() => engraver.close());

const drills: readonly (readonly [string, DrillRequest])[] = [
  ['every beat, count-in of one bar', { bars: '10-17' }],
  ['weak beats, count-in of two bars', { bars: '10-17', click: 'weak' }],
  ['after the beat, from an upbeat', { bars: '48-51', click: 'after' }],
  ['a hemiola', { bars: '36-42', click: 'hemiola:40-41' }],
  ['eighths in 3/4', { bars: '26-33', click: '1/8' }],
  ['one in four bars, no count-in', { bars: '10-17', click: '4bars', countIn: 'none' }],
  ['a fermata after which a bar is counted again', { bars: '39-46' }],
];

describe('ticks', () => {
  let verovio: VerovioToolkit | undefined;
  beforeAll(async () => {
    verovio = new VerovioToolkit(await createVerovioModule());
  });

  it.each(drills)('stand on the timeline’s clicks: %s', (_, request) => {
    const worked = demo(request);
    const sheet = sheetScore(worked, { parts: null, others: 'rests' });
    verovio?.setOptions({ xmlIdChecksum: true, expandNever: true });
    expect(verovio?.loadData(dressed(writeMusicXml(sheet.score).text, sheet))).toBeTruthy();
    // Verovio's time map is the independent opinion: quarters from the beginning, as fractions.
    const map = verovio?.renderToTimemap({ useFractions: true }) ?? [];
    const places = new Map<string, string>();
    for (const { on = [], qfrac } of map)
      for (const id of on) places.set(id, F.format(F.div(F.fraction(qfrac[0], qfrac[1]), F.fraction(4))));

    const { clicks, bars } = worked.timeline;
    const hold = bars.filter(({ kind, rep }) => kind === 'hold' && rep === 1);
    clicks.forEach((click, i) => {
      if (click.rep !== 1) return;
      const inHold = hold.some(
        ({ start, length }) => F.atMost(start, click.at) && F.less(click.at, F.add(start, length)),
      );
      const before = hold.filter(({ start, length }) => F.atMost(F.add(start, length), click.at));
      const gone = before.reduce<F.Fraction>((sum, { length }) => F.add(sum, length), F.zero);
      expect(places.get(`tick-${i}`)).toBe(inHold ? undefined : F.format(F.sub(click.at, gone)));
    });
    const first = clicks.filter(({ rep }) => rep === 1).length;
    expect(sheet.ticks.map(({ click }) => click).toSorted((a, b) => a - b)).toEqual(
      Array.from({ length: first }, (__, i) => i),
    );
  });

  it.each(drills)(
    'are each one element, and nothing else of the click line is left: %s',
    async (_, request) => {
      const worked = demo(request);
      const made = await makeSheet(worked, null, usualSheet, engraver, nodePdf.faces);
      if (!made.ok) throw new Error(made.error.message);
      const { pages, ticks, notes } = made.value;
      const all = pages.join('');
      const elements = new Set(ticks.map(({ element }) => element));
      for (const element of elements) expect(count(all, new RegExp(`id="${element}"`, 'g'))).toBe(1);
      expect(count(all, /class="tick( first)?"/g)).toBe(
        [...elements].filter((id) => id.startsWith('tick')).length,
      );
      // Two players: two five-line staves in each bar, and no line of the click's own.
      const bars = count(all, /class="measure"/g);
      expect(count(all, /class="staff"/g)).toBe(2 * bars);
      expect(count(all, /class="notehead"/g)).toBe(
        notes.filter(({ note: sounding }) => sounding !== null).length,
      );
    },
  );

  it('stand over the middle of the notes on their beats', async () => {
    const worked = demo({ bars: '10-13' });
    const made = await makeSheet(worked, null, usualSheet, engraver, nodePdf.faces);
    if (!made.ok) throw new Error(made.error.message);
    const { pages, notes, ticks, staff } = made.value;
    const [page = ''] = pages;
    let compared = 0;
    for (const { element, click } of ticks) {
      const at = worked.timeline.clicks[click];
      const partner = worked.timeline.notes.find(
        (one) => at?.kind === 'click' && one.rep === 1 && F.equal(one.at, at.at),
      );
      const drawn = notes.find((one) => partner !== undefined && one.note === partner.note);
      if (drawn === undefined) continue;
      const tick = Number(new RegExp(`id="${element}"[^>]*><path d="M([\\d.]+)`).exec(page)?.[1]);
      const head = Number(
        new RegExp(`id="${drawn.element}".*?class="notehead"[^>]*><use[^>]*translate\\(([\\d.]+)`).exec(
          page,
        )?.[1],
      );
      // A black head is 1.18 spaces wide (SMuFL 1.4, noteheadBlack); within a tenth of a space.
      const space = (staff * 100) / 4;
      expect(Math.abs(tick - (head + 0.59 * space))).toBeLessThan(0.1 * space);
      compared++;
    }
    expect(compared).toBeGreaterThan(10);
  });
});

describe('drawn pieces', () => {
  it('last together exactly as long as the stretch', () => {
    const lengths = fc
      .tuple(fc.integer({ min: 1, max: 40 }), fc.constantFrom(1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 24, 48, 64))
      .map(([n, d]) => note(n, d));
    fc.assert(
      fc.property(lengths, (length) => {
        const pieces = drawnPieces(length) ?? [];
        const sum = pieces.reduce<F.Fraction>((total, piece) => F.add(total, piece.length), F.zero);
        expect(F.format(sum)).toBe(F.format(length));
      }),
    );
  });

  it('are none where no usual tuplet holds the stretch', () => {
    expect(drawnPieces(beats(F.fraction(1, 17)))).toBeNull();
  });
});
