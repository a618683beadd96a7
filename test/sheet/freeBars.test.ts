/** Bars without metre on the page: engraved, and no metre is printed that the score has not. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { nodeEngraver } from '../../src/host/node/engraver.ts';
import { nodePdf } from '../../src/host/node/pdf.ts';
import { writeMusicXml } from '../../src/score/write/musicxml.ts';
import { withMetres } from '../../src/sheet/freeBars.ts';
import { makeSheet, usualSheet } from '../../src/sheet/index.ts';
import { sheetScore } from '../../src/sheet/sheetScore.ts';
import { beats, F } from '../../src/units/index.ts';
import { count, scoreFrom, workedFrom } from './support.ts';

const engraver = nodeEngraver();
afterAll(() => engraver.close());

const odd = () =>
  scoreFrom(new Uint8Array(readFileSync(path.resolve('test', 'score', 'formats', 'odd.musicxml'))));

/** Index of the one bar of the odd piece that has no metre. */
const free = 12;

describe('bars without metre', () => {
  it('are where this test says', () => {
    const { bars } = odd();
    expect(bars.flatMap(({ metre, index }) => (metre.components.length === 0 ? [index] : []))).toEqual([
      free,
    ]);
  });

  it.each([`@${free}-@${free}`, `@${free - 1}-@${free}`, `@${free}-@${free + 1}`, 'all'])(
    'are engraved, every note of them: bars %s',
    async (bars) => {
      const made = await makeSheet(workedFrom(odd(), { bars }), null, usualSheet, engraver, nodePdf.faces);
      expect(made.ok ? '' : made.error.message).toBe('');
      if (!made.ok) return;
      const all = made.value.pages.join('');
      for (const { element } of made.value.notes)
        expect(count(all, new RegExp(`id="${element}"`, 'g'))).toBe(1);
      expect(made.problems.filter(({ code }) => code === 'note-not-engraved')).toEqual([]);
    },
  );

  it('print no metre of their own, and the one after them prints its own', () => {
    const sheet = sheetScore(workedFrom(odd(), { bars: `@${free}-@${free + 1}` }), {
      parts: null,
      others: 'rests',
    });
    const xml = withMetres(writeMusicXml(sheet.score).text, sheet.score.bars);
    expect(xml).not.toContain('senza-misura');
    const parts = sheet.score.parts.length;
    // The file itself says 1800 divisions of 360 a quarter: 5/4; 6/8 stands before and after it.
    expect(count(xml, /<time print-object="no"><beats>5<\/beats><beat-type>4<\/beat-type><\/time>/g)).toBe(
      parts,
    );
    expect(count(xml, /<time>\s*<beats>6<\/beats>/g)).toBeGreaterThanOrEqual(parts);
  });

  it('of several lengths in a row each have their own', () => {
    const sheet = sheetScore(workedFrom(odd(), { bars: `@${free}-@${free}` }), {
      parts: null,
      others: 'rests',
    });
    const bar = sheet.score.bars[sheet.score.bars.length - 1];
    if (bar === undefined) throw new Error('no bar');
    const lengths = [F.fraction(3, 4), F.fraction(5, 12), F.fraction(5, 12), F.fraction(11, 16)];
    const bars = lengths.map((length, index) => ({ ...bar, index, length: beats(length) }));
    const measure = '<measure number="1"></measure>';
    const first = '<measure number="1"><attributes><time> <senza-misura/> </time></attributes></measure>';
    const xml = withMetres(`<part>${first}${measure.repeat(3)}</part>`, bars);
    // 5/12 is 26 2/3 sixty-fourths.
    expect(
      [...xml.matchAll(/<beats>(\d+)<\/beats><beat-type>(\d+)</g)].map(([, n, d]) => `${n}/${d}`),
    ).toEqual(['3/4', '27/64', '11/16']);
  });
});
