/**
 * Playing order of every shared MusicXML file with repeats, endings or jumps, held against Verovio's expansion. Where
 * Verovio is not right, the table gives the order by hand and its reason, which can be checked in the file: "MusicXML"
 * is the W3C MusicXML 4.0 specification; the headings ("II. Menuetto") and words ("D.C. al Fine") are printed there.
 */
import { readFileSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { playingOrder } from '../../src/score/playing.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { sharedData } from '../shared.ts';
import { expanded, meiOf } from '../support/verovio.ts';

/** Bars from 1 in written order, runs joined: "1-4 2-3". */
const runs = (played: readonly number[]): string => {
  const parts: [number, number][] = [];
  for (const bar of played) {
    const last = parts.at(-1);
    if (last?.[1] === bar) last[1] = bar + 1;
    else parts.push([bar + 1, bar + 1]);
  }
  return parts.map(([a, b]) => (a === b ? String(a) : `${a}-${b}`)).join(' ');
};

const movement = 'MusicXML, sound: "Dacapo indicates to go back to the beginning of the movement"';

const differing: Readonly<Record<string, { readonly played: string; readonly reason: string }>> = {
  '34b-Colors.xml': {
    played: '1-13 12 14',
    reason:
      'Verovio has 13 of the 14 measures; the order is the same: repeat from 12, first ending 13, second 14.',
  },
  '45f-Repeats-InvalidEndings.xml': {
    played: '1-2 1-2 1-2 5-8 6 8-14',
    reason:
      'By its own description signs "that don\'t make sense". MusicXML, ending: the number "indicates which times the ending is played": bar 2 three times, bar 7 the first time only, while bar 8 stands under no bracket and is played both times.',
  },
  '45i-Repeats-Nested.xml': {
    played: '1-3 3-4 1 5 5-7',
    reason:
      'By its own description two endings with a repeat nested in each, of bar 3 and of bar 5; Verovio ignores the repeat sign of bar 4 that ends the first ending.',
  },
  'sq10490761.mxl': {
    played: '1-68 1-161 69-178 162-169 179-225 162-169 226-271 162-169 179',
    reason: `Bar 162 is headed "II. Rondeau". The repeats of bars 68 and 161 are of the first movement and taken once each; "D.C. al Fine" in 271 goes back to 162 (${movement}) and stops at "Fine" in 179.`,
  },
  'sq12701461.mxl': {
    played: '1-90 1-212 91-333 213-224',
    reason: `Bar 213 is headed "II. Rondo", bar 333 says "Rondo D.C. al Fine". ${movement}.`,
  },
  'sq15230467.mxl': {
    played:
      '1-28 1-67 29-102 68-151 103-159 152-179 160-187 180-203 152-179 204-212 204-237 213-246 238-261 204-275',
    reason: `Bars 68, 152 and 204 are headed "II.", "III. Menuetto" and "IV. Rondo"; the repeats that end in 102 and 159 have no beginning and go back to these, and "Menuetto D.C." in 203 goes back to 152. ${movement}. Verovio stops at the fine of the menuetto and leaves the Rondo out.`,
  },
  'sq8438915.mxl': {
    played: '1-39 1-80 40-88 81-87 89-112 81-87 113-121 81-87 122-130 81-88',
    reason: `Bar 81 is headed "II. Rondeau", so its endings go back there and "D.C. al Fine" in 130 too. ${movement}.`,
  },
  'sq8806134.mxl': {
    played:
      '1-25 1-66 26-80 67-102 81-110 103-122 111-122 67-102 123-148 123-184 149-193 185-216 194-215 217-233 218-257 234-257 185-215 217 258-284 258-335 285-335',
    reason: `Bars 67, 123, 185 and 258 are headed "II. Menuetto", "III.", "IV. Menuetto" and "V. Finale". ${movement}. Verovio stops at the first fine and leaves three movements out.`,
  },
};

const files = (folder: string): string[] =>
  sharedData === null
    ? []
    : readdirSync(path.join(sharedData, 'scores', folder))
        .filter((name) => /\.(xml|musicxml|mxl)$/.test(name))
        .map((name) => path.join(sharedData ?? '', 'scores', folder, name));

describe.skipIf(sharedData === null)('playing order beside Verovio', () => {
  const compared: string[] = [];
  it('agrees, or differs for the reason given', { timeout: 120_000 }, async () => {
    for (const file of [...files('musicxml-suite'), ...files('openscore-quartets')]) {
      const bytes = new Uint8Array(readFileSync(file));
      const read = readScore(bytes);
      if (!read.ok) continue;
      const signs = read.value.bars.some(
        (bar) => bar.repeatStart || bar.repeatEnd > 0 || bar.ending !== null || bar.jumps.length > 0,
      );
      if (!signs) continue;
      const name = path.basename(file);
      const mei = await meiOf(bytes, name.endsWith('.mxl'));
      const theirs = mei === null ? 'not read' : runs(expanded(mei));
      const ours = runs(playingOrder(read.value).order.visits.map(({ barIndex }) => barIndex));
      compared.push(name);
      const known = differing[name];
      expect(`${name}: ${ours}`).toBe(`${name}: ${known?.played ?? theirs}`);
      // The table holds nothing that is no longer so.
      if (known !== undefined) expect(`${name}: ${theirs}`).not.toBe(`${name}: ${known.played}`);
    }
  });
  it('has met every file of the table, and others', () => {
    expect(Object.keys(differing).filter((name) => !compared.includes(name))).toEqual([]);
    expect(compared.length).toBeGreaterThan(Object.keys(differing).length);
  });
});
