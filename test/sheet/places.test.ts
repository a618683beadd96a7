/**
 * Places pencilled on pages, read back from the SVG: brackets reach from their first note to their last, above the right staff; ticks for
 * hand-overs stand at the note that takes over, between the two staves; nothing pencilled lies over anything else pencilled. The places are
 * the demo's, whose hand-overs its composer's tables tell (demo/README.md), and lines built at random, whose truth is how they were written.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { markOf, numbered } from '../../src/desk/placeMarks.ts';
import { findPages, pagesWith, toldIn, writtenRound, type FindPages } from '../../src/desk/placesPages.ts';
import { nodeEngraver } from '../../src/host/node/engraver.ts';
import { nodePdf } from '../../src/host/node/pdf.ts';
import type { Score } from '../../src/score/model.ts';
import { pointsOf } from '../../src/sheet/geometry.ts';
import type { PlaceMark } from '../../src/sheet/index.ts';
import { sheetScore } from '../../src/sheet/sheetScore.ts';
import { allOf, isOf, numberOf, readSvg, type Shape } from '../../src/sheet/svg.ts';
import { F, type Beats } from '../../src/units/index.ts';
import { lineScore } from '../lines/generatedScores.ts';
import { demoFile, pdfPicture, poppler, popplerText, inkOf } from './support.ts';

const engraver = nodeEngraver();
const ports = { engraver, pdf: nodePdf };
afterAll(() => engraver.close());

const bytesOf = ({ files }: FindPages, name: string): Uint8Array => {
  const chunks = files.find((file) => file.name === name)?.chunks ?? [];
  return [...chunks][0] ?? new Uint8Array();
};

interface Head {
  readonly x: number;
  readonly staff: number;
}

interface DrawnSystem {
  readonly shape: Shape;
  /** Top and bottom line of each staff. */
  readonly staves: readonly { readonly top: number; readonly bottom: number }[];
  /** Left edge of each note's head, by element id. */
  readonly heads: ReadonlyMap<string, Head>;
  /** Distance of two staff lines. */
  readonly space: number;
}

const systemsOf = (pages: FindPages): readonly DrawnSystem[] =>
  pages.files
    .filter(({ name }) => name.endsWith('.svg'))
    .flatMap(({ name }) => {
      const svg = readSvg(new TextDecoder().decode(bytesOf(pages, name)));
      if (!svg.ok) throw new Error(svg.error.message);
      return allOf(svg.value, (one) => isOf(one, 'system'));
    })
    .map((system) => {
      const heads = new Map<string, Head>();
      const staves: { top: number; bottom: number }[] = [];
      for (const measure of allOf(system, (one) => isOf(one, 'measure')))
        allOf(measure, (one) => isOf(one, 'staff')).forEach((staff, i) => {
          const ys = staff.children
            .filter((one) => one.name === 'path')
            .flatMap(pointsOf)
            .map(({ y }) => y);
          staves[i] = { top: Math.min(...ys), bottom: Math.max(...ys) };
          for (const note of allOf(staff, (one) => isOf(one, 'note'))) {
            const [head] = allOf(note, (one) => isOf(one, 'notehead')).flatMap((one) => one.children);
            const x = Number(/translate\(([-\d.]+)/.exec(head?.attributes['transform'] ?? '')?.[1]);
            heads.set(note.attributes['id'] ?? '', { x, staff: i });
          }
        });
      const first = staves[0] ?? { top: 0, bottom: 0 };
      return { shape: system, staves, heads, space: (first.bottom - first.top) / 4 };
    });

/** Element ids of a part's notes at a written moment, by a way of its own: the bars of a page are the score's, each once. */
const elementsAt = (score: Score, bars: string | null) => {
  const worked = writtenRound(score, bars);
  if (!worked.ok) throw new Error(worked.error.message);
  const { notes } = sheetScore(worked.value, { parts: null, others: 'rests' });
  const ids = new Map<string, string[]>();
  for (const { element, part, written } of notes) {
    const piece = score.parts.find(({ id }) => id === part)?.written.find(({ id }) => id === written);
    if (piece?.kind !== 'note') continue;
    const key = `${part} ${F.format(piece.onset)}`;
    ids.set(key, [...(ids.get(key) ?? []), element]);
  }
  return (parts: readonly string[], at: Beats): readonly string[] =>
    parts.flatMap((part) => ids.get(`${part} ${F.format(at)}`) ?? []);
};

/** A black head's width in staff spaces: SMuFL 1.4, noteheadBlack. */
const headWidth = 1.18;

const check = (score: Score, bars: string | null, pages: FindPages): { brackets: number; seams: number } => {
  const systems = systemsOf(pages);
  const elements = elementsAt(score, bars);
  const found = (id: string): { system: DrawnSystem; head: Head } => {
    for (const system of systems) {
      const head = system.heads.get(id);
      if (head !== undefined) return { system, head };
    }
    throw new Error(`no note ${id}`);
  };
  const staffPart = score.parts.flatMap(({ id, staves }) => Array.from({ length: staves }, () => id));
  let seams = 0;
  for (const mark of pages.drawn) {
    const label = (one: Shape): string =>
      allOf(one, ({ name }) => name === 'tspan')
        .map(({ text }) => text)
        .join('');
    const pieces = systems.flatMap((system) =>
      allOf(system.shape, (one) => isOf(one, 'place'))
        .filter((one) => one.attributes['id'] === mark.id || label(one) === `(${mark.label})`)
        .map((one) => ({ system, line: pointsOf(allOf(one, ({ name }) => name === 'path')[0] ?? one) })),
    );
    const uppermost = staffPart.findIndex((part) => mark.parts.includes(part));
    for (const { system, line } of pieces) {
      const ys = line.map(({ y }) => y);
      expect(Math.max(...ys)).toBeLessThanOrEqual(system.staves[uppermost]?.top ?? -Infinity);
      const above = system.staves[uppermost - 1];
      if (above !== undefined) expect(Math.min(...ys)).toBeGreaterThan(above.bottom);
    }
    const [first, last] = [elements(mark.parts, mark.from.at), elements(mark.parts, mark.to.at)];
    for (const id of first) {
      const { system, head } = found(id);
      const here = pieces.find((piece) => piece.system === system);
      expect(Math.min(...(here?.line ?? []).map(({ x }) => x))).toBeLessThanOrEqual(head.x);
    }
    for (const id of last) {
      const { system, head } = found(id);
      const here = pieces.find((piece) => piece.system === system);
      const end = Math.max(...(here?.line ?? []).map(({ x }) => x));
      expect(end).toBeGreaterThanOrEqual(head.x + headWidth * system.space * 0.95);
    }
    mark.seams.forEach((seam, i) => {
      const id = `${mark.id}-seam-${i + 1}`;
      const [taking = ''] = elements([seam.to], seam.at);
      const { system, head } = found(taking);
      const [tick] = allOf(system.shape, ({ attributes }) => attributes['id'] === id);
      const points = tick === undefined ? [] : pointsOf(tick);
      const [giving, taken] = points;
      if (giving === undefined || taken === undefined) throw new Error(`no tick ${id}`);
      seams++;
      // At the middle of the head that takes over, within a space; it leans from before.
      expect(Math.abs(taken.x - head.x - (headWidth / 2) * system.space)).toBeLessThan(system.space);
      expect(giving.x).toBeLessThan(taken.x);
      const giver = staffPart.indexOf(seam.from);
      const [upper, lower] = giver < head.staff ? [giver, head.staff] : [head.staff, giver];
      for (const { y } of points) {
        expect(y).toBeGreaterThanOrEqual(system.staves[upper]?.bottom ?? Infinity);
        expect(y).toBeLessThanOrEqual(system.staves[lower]?.top ?? -Infinity);
      }
      // Down to a taker below, up to one above.
      expect(Math.sign(taken.y - giving.y)).toBe(giver < head.staff ? 1 : -1);
    });
  }
  for (const { shape, space } of systems) {
    const boxes = allOf(shape, (one) => isOf(one, 'place')).map((one) => {
      const [line, text] = [
        allOf(one, ({ name }) => name === 'path')[0],
        allOf(one, ({ name }) => name === 'text')[0],
      ];
      const points = line === undefined ? [] : pointsOf(line);
      const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)];
      return {
        left: Math.min(...xs),
        right: Math.max(...xs),
        top: text === undefined ? 0 : numberOf(text, 'y') - space,
        bottom: Math.max(...ys),
      };
    });
    const over = boxes.flatMap((a, i) =>
      boxes
        .slice(i + 1)
        .filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom),
    );
    expect(over).toEqual([]);
  }
  return { brackets: pages.drawn.length, seams };
};

const asked = { bars: null, parts: null, kind: null };

describe('the demo with its places', () => {
  const bytes = new Uint8Array(readFileSync(demoFile));
  const told = toldIn(bytes, asked);
  if (!told.ok) throw new Error(told.error.message);
  const { score } = told.value.read;
  let made: FindPages | undefined;
  beforeAll(async () => {
    const result = await findPages(told.value, asked, null, ports);
    if (!result.ok) throw new Error(result.error.message);
    made = result.value;
  }, 120_000);
  const pages = (): FindPages => {
    if (made === undefined) throw new Error('not made');
    return made;
  };

  it('has a bracket for each place of the list but the small kinds, and a tick for each hand-over', () => {
    const large = told.value.told.filter(
      ({ place }) => !['tie-over-bar', 'upbeat-start'].includes(place.kind),
    );
    const { brackets, seams } = check(score, null, pages());
    expect(pages().left).toEqual([]);
    expect(brackets).toBe(large.length);
    // demo/README.md: 23 hand-overs in bars 10 to 17, 16 in bars 52 to 56; the finder tells others besides.
    expect(pages().drawn.find(({ from }) => from.barIndex === 10)?.seams).toHaveLength(23);
    expect(seams).toBeGreaterThanOrEqual(23 + 16);
    const numbers = pages().drawn.map(({ label }) => Number.parseInt(label, 10));
    expect(numbers).toEqual(large.map((_, i) => i + 1));
  });

  it('keeps the score’s repeat signs and endings, once above the players, and no clicks', () => {
    const all = systemsOf(pages()).map(({ shape }) => shape);
    const brackets = all.flatMap((one) => allOf(one, (inner) => isOf(inner, 'voltaBracket')));
    const endings = score.bars.filter(({ ending }) => ending !== null).length;
    expect(brackets).toHaveLength(endings);
    expect(all.flatMap((one) => allOf(one, (inner) => isOf(inner, 'tick')))).toEqual([]);
  });

  it('is the same bytes when made again', async () => {
    const again = await findPages(told.value, asked, null, ports);
    if (!again.ok) throw new Error(again.error.message);
    for (const { name } of pages().files)
      expect(Buffer.compare(bytesOf(again.value, name), bytesOf(pages(), name))).toBe(0);
  }, 120_000);

  it.skipIf(!poppler)('is a PDF with the labels and the key in it', () => {
    const pdf = bytesOf(pages(), 'places.pdf');
    const text = popplerText('pdftotext', ['-layout', '{}', '-'], pdf);
    const labels = pages().drawn.map(({ label }) => label.replace(/ Fl\..*| Cl\..*/, ''));
    const count = `${labels.length} places`;
    for (const words of [...labels, '(1 line)', 'takes over:', 'all bars', count])
      expect(text).toContain(words);
    const ink = inkOf(pdfPicture(pdf, 60));
    expect(ink).toBeGreaterThan(0.01);
    expect(ink).toBeLessThan(0.15);
  });

  it('takes bars, kinds and a number, and says what it leaves', async () => {
    const some = toldIn(bytes, { ...asked, bars: '10-25', kind: 'shared-line,tie-over-bar' });
    if (!some.ok) throw new Error(some.error.message);
    const result = await findPages(
      some.value,
      { ...asked, bars: '10-25', kind: 'tie-over-bar,shared-line' },
      1,
      ports,
    );
    if (!result.ok) throw new Error(result.error.message);
    expect(result.value.drawn.map(({ label }) => label)).toEqual(['1 line']);
    check(score, '10-25', result.value);
  }, 60_000);
});

describe('lines built at random', () => {
  it.each([3, 8, 21])(
    'have their bracket and their ticks where they were written: seed %i',
    async (seed) => {
      const { score, line } = lineScore(seed);
      if (line === null) throw new Error('no line');
      const barOf = (at: Beats): number => score.bars.findLastIndex(({ start }) => F.atMost(start, at));
      const mark: PlaceMark = {
        id: 'place-1',
        label: '1 line',
        parts: [...new Set(line.seams.flatMap(({ from, to }) => [from, to]))],
        from: { barIndex: barOf(line.from), at: line.from },
        to: { barIndex: barOf(line.to), at: line.to },
        seams: line.seams.map((seam) => ({ ...seam, barIndex: barOf(seam.at) })),
        line: 'plain',
      };
      const pages = await pagesWith(score, null, [mark], { manner: '', key: [] }, ports);
      if (!pages.ok) throw new Error(pages.error.message);
      expect(check(score, null, pages.value)).toEqual({ brackets: 1, seams: line.seams.length });
    },
    120_000,
  );
});

it('a score without parts has no page, and says so', async () => {
  const plan = toldIn(new TextEncoder().encode('1-8 4/4; 9-16 3/4; tempo 1/4=92'), asked);
  if (!plan.ok) throw new Error(plan.error.message);
  const made = await findPages(plan.value, asked, null, ports);
  expect(made.ok ? '' : made.error.code).toBe('places-no-staves');
});

it('small kinds have a word and no number', () => {
  const told = toldIn(
    new Uint8Array(readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml'))),
    asked,
  );
  if (!told.ok) throw new Error(told.error.message);
  const labels = numbered(told.value.told).map((one, i) => markOf(one, i, told.value.read.score).label);
  const small = labels.filter((label) => !/^\d/.test(label));
  expect(small.length).toBeGreaterThan(0);
  for (const label of small) expect(label).toMatch(/^(tie|upbeat)/);
});
