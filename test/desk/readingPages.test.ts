/** A reading on the pages of its drill: marks as long as the milliseconds are many, where their notes stand, and what they say. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  parseReading,
  pieceHash,
  readingCsv,
  readingColumns,
  readingPages,
  usualDrill,
} from '../../src/desk/index.ts';
import type { Reading } from '../../src/desk/reading.ts';
import { noteMarks } from '../../src/desk/readingNoteMarks.ts';
import { readPiece } from '../../src/desk/readOnce.ts';
import type { ReadingPages } from '../../src/desk/readingPages.ts';
import { workOut } from '../../src/drill/workOut.ts';
import { nodeEngraver, nodePdf } from '../../src/host/node/index.ts';
import { meets, type Box } from '../../src/sheet/skyline.ts';
import { allOf, isOf, readSvg, type Shape } from '../../src/sheet/svg.ts';
import { pdfLanguage } from '../support/pdfCatalog.ts';

const bytes = new Uint8Array(readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml')));
const kept = parseReading(
  JSON.parse(readFileSync(path.resolve('test', 'desk', 'fixtures', 'levare.reading.4.json'), 'utf8')),
);
if (!kept.ok) throw new Error(kept.error.message);
const drill = {
  ...usualDrill,
  format: 'levare.drill/2' as const,
  score: { sha256: pieceHash(bytes), title: '', file: 'score.musicxml' },
  bars: '10-12',
  click: 'every',
};

/** Of the kept reading: a note unsure, one missing, and the clarinet 40 ms behind in bar 11. */
const reading: Reading = {
  ...kept.value,
  notes: kept.value.notes.map((note, i) => ({
    ...note,
    state: i === 3 ? ('unsure' as const) : i === 5 ? ('missing' as const) : ('heard' as const),
    perceived: i === 5 ? null : note.expected + (note.part === 'P2' && note.bar === '11' ? 0.04 : 0),
    perceivedUncertainty: 0.006,
  })),
};

const engraver = nodeEngraver();
afterAll(() => engraver.close());
let made: ReadingPages;
let pages: readonly Shape[];
beforeAll(async () => {
  const result = await readingPages(
    { bytes, drill },
    reading,
    { language: 'en' },
    { engraver, pdf: nodePdf },
  );
  if (!result.ok) throw new Error(result.error.message);
  made = result.value;
  pages = made.sheet.pages.map((svg) => {
    const read = readSvg(svg);
    if (!read.ok) throw new Error(read.error.message);
    return read.value;
  });
}, 60_000);

const marks = (kind: string): readonly Shape[] =>
  pages.flatMap((page) => allOf(page, (one) => one.attributes['data-kind'] === kind));
const ends = (path_: Shape | undefined): readonly number[] =>
  [...(path_?.attributes['d'] ?? '').matchAll(/[ML](-?[\d.]+) /g)].map(([, x]) => Number(x));
const said = (mark: Shape, what: string): string =>
  mark.children.find(({ name }) => name === what)?.text ?? '';

describe('the pages of a reading', () => {
  it('have each mark once, with a name, a text and a note, and leave none out', () => {
    expect(made.sheet.left).toEqual([]);
    const all = pages.flatMap((page) => allOf(page, (one) => isOf(one, 'reading')));
    expect(all.map(({ attributes }) => attributes['id']).sort()).toEqual(
      made.sheet.drawn.map(({ id }) => id).sort(),
    );
    for (const mark of all) {
      expect(said(mark, 'title')).not.toBe('');
      expect(said(mark, 'desc')).not.toBe('');
      expect(`${said(mark, 'title')} ${said(mark, 'desc')}`).not.toMatch(/%|NaN|undefined|late|early/);
    }
    for (const mark of marks('apart')) expect(mark.attributes['data-note']).toMatch(/^P[12]-m1[012]-n\d+$/);
  });

  it('strokes are as long as the milliseconds are many: 7 mm are 50 ms', () => {
    const apart = marks('apart');
    expect(apart.length).toBeGreaterThan(5);
    let told = 0;
    for (const mark of apart) {
      const [value, low, high] = ['data-ms', 'data-low', 'data-high'].map((name) =>
        Number(mark.attributes[name]),
      );
      const stroke = ends(mark.children.find((one) => isOf(one, 'by')));
      const thin = ends(mark.children.find((one) => isOf(one, 'unsure-by')));
      const [at = 0] = ends(mark.children.find((one) => isOf(one, 'note-place')));
      expect((thin[0] ?? 0) - at).toBeCloseTo(14 * (low ?? 0), 0);
      expect((thin[1] ?? 0) - at).toBeCloseTo(14 * (high ?? 0), 0);
      const sure = (low ?? 0) > 0 || (high ?? 0) < 0;
      // What is not to be told from together has no stroke.
      expect(stroke.length).toBe(sure ? 2 : 0);
      if (!sure) continue;
      told += 1;
      expect((stroke[1] ?? 0) - (stroke[0] ?? 0)).toBeCloseTo(14 * (value ?? 0), 0);
    }
    expect(told).toBeGreaterThan(2);
  });

  it('whoever comes after the others is right of the note, whoever comes before left of it, by half of 40 ms each', () => {
    const values = (part: string): readonly number[] =>
      marks('apart')
        .filter(({ attributes }) => attributes['data-part'] === part)
        .map(({ attributes }) => Math.round(Number(attributes['data-ms'])))
        .filter((value) => value !== 0);
    expect(new Set(values('P2'))).toEqual(new Set([20]));
    expect(new Set(values('P1'))).toEqual(new Set([-20]));
  });

  it('each player has a hue and a line of their own, the same wherever they play', () => {
    const hues = ['P1', 'P2'].map(
      (part) =>
        new Set(
          marks('apart')
            .filter(({ attributes }) => attributes['data-part'] === part)
            .flatMap(({ children }) => children.flatMap(({ attributes }) => attributes['stroke'] ?? [])),
        ),
    );
    expect(hues.map(({ size }) => size)).toEqual([1, 1]);
    expect(hues[0]).not.toEqual(hues[1]);
  });

  it('what was not surely heard has a question mark and says so', () => {
    const [unsure] = marks('unsure');
    const [missing] = marks('missing');
    expect(unsure === undefined ? '' : said(unsure, 'desc')).toBe('the beginning was not surely heard');
    expect(missing === undefined ? '' : said(missing, 'desc')).toBe('not found in the recording');
  });

  it('what was heard roughly has a sign of its own, and says how roughly or why', () => {
    const piece = readPiece(bytes);
    const worked = piece.ok ? workOut(piece.value.score, drill, 48_000) : piece;
    if (!worked.ok) throw new Error(worked.error.message);
    const roughly = (perceivedUncertainty: number): string | undefined => {
      const notes = reading.notes.map((note, i) =>
        i === 3 ? { ...note, state: 'rough' as const, perceivedUncertainty } : note,
      );
      const marked = noteMarks(worked.value, { ...reading, notes }, 'en');
      expect(marked.some(({ kind }) => kind === 'unsure')).toBe(false);
      return marked.find(({ kind }) => kind === 'rough')?.desc;
    };
    // 1.96 standard deviations of 30 ms; of 5 ms it would be sure, were it surely this note.
    expect(roughly(0.03)).toBe('the beginning was heard only roughly, to within 59 ms: nothing rests on it');
    expect(roughly(0.005)).toBe(
      'the beginning was heard only roughly, to within 10 ms if it is this note\u2019s: nothing rests on it',
    );
  });

  it('no two marks of one system stand on each other', () => {
    for (const page of pages)
      for (const pencil of allOf(page, (one) => one.name === 'g' && one.attributes['class'] === 'pencil')) {
        const boxes = allOf(pencil, (one) => isOf(one, 'apart')).map((mark): Box => {
          const [left = 0, right = 0] = ends(mark.children.find((one) => isOf(one, 'unsure-by')));
          const y = Number(
            /M\S+ (\S+)/.exec(
              mark.children.find((one) => isOf(one, 'unsure-by'))?.attributes['d'] ?? '',
            )?.[1],
          );
          return { left, right, top: y - 10, bottom: y + 10 };
        });
        boxes.forEach((box, i) => {
          for (const other of boxes.slice(i + 1)) expect(meets(box, other)).toBe(false);
        });
      }
  });

  it('no hand-over touches printed words: "light, as one player" stands under one', () => {
    let held = 0;
    for (const page of pages)
      for (const system of allOf(page, ({ children }) =>
        children.some(({ attributes }) => attributes['class'] === 'pencil'),
      )) {
        const words = allOf(system, (one) => isOf(one, 'dir')).flatMap((dir) =>
          allOf(dir, ({ name }) => name === 'text').map(({ attributes, children }): Box => {
            const size = Number(children[0]?.attributes['font-size']);
            const [left, y] = [Number(attributes['x']), Number(attributes['y'])];
            const width = 0.5 * size * (children[0]?.text.length ?? 0);
            return { left, right: left + width, top: y - 0.7 * size, bottom: y + 0.22 * size };
          }),
        );
        for (const tick of allOf(system, (one) => isOf(one, 'seam'))) {
          const ys = [...(tick.attributes['d'] ?? '').matchAll(/[ML]\S+ (\S+)/g)].map(([, y]) => Number(y));
          const xs = ends(tick);
          if (ys.length === 0) continue;
          const air = 40;
          const box: Box = {
            left: Math.min(...xs),
            right: Math.max(...xs),
            top: Math.min(...ys) - air,
            bottom: Math.max(...ys) + air,
          };
          for (const text of words) {
            if (text.left < box.right && box.left < text.right) held += 1;
            expect(meets(text, box)).toBe(false);
          }
        }
      }
    expect(held).toBeGreaterThan(0);
  });

  it('the words of the findings stand in the margin, right of the music, numbered as on it', () => {
    const words = marks('words');
    const told = reading.findings.filter((one) => one.told).slice(0, 7);
    expect(words).toHaveLength(Math.max(1, told.length));
    for (const mark of words)
      for (const text of allOf(mark, ({ name }) => name === 'text'))
        expect(Number(text.attributes['x'])).toBeGreaterThan(12_900);
    expect(pages.flatMap((page) => allOf(page, (one) => isOf(one, 'word-number')))).toHaveLength(
      words.length,
    );
  });

  it('are the same bytes each time, PDF and SVG', async () => {
    expect(made.files.map(({ name }) => name)).toEqual([
      'reading.pdf',
      ...made.sheet.pages.map((_, i) => `reading-${i + 1}.svg`),
    ]);
    const again = await readingPages(
      { bytes, drill },
      reading,
      { language: 'en' },
      { engraver, pdf: nodePdf },
    );
    expect(again.ok && again.value.files).toEqual(made.files);
    const [svg] = made.sheet.pages;
    await expect(svg).toMatchFileSnapshot('snapshots/reading-page.svg');
  }, 60_000);

  it('in German say the same in German, and one finding alone where one is asked for', async () => {
    const german = await readingPages(
      { bytes, drill },
      reading,
      { language: 'de', most: 1 },
      { engraver, pdf: nodePdf },
    );
    if (!german.ok) throw new Error(german.error.message);
    expect(german.value.sheet.drawn.filter(({ kind }) => kind === 'words')).toHaveLength(1);
    const [first] = german.value.sheet.drawn.filter(({ kind }) => kind === 'apart');
    expect(`${first?.title ?? ''}: ${first?.desc ?? ''}`).toMatch(
      /Takt 1\d, Schlag .*(den anderen|zusammen)/,
    );
    const [pdf] = german.value.files.find(({ name }) => name === 'reading.pdf')?.chunks ?? [];
    expect(pdfLanguage(pdf ?? new Uint8Array())).toBe('de');
    expect(german.value.sheet.pages.join('')).toContain('Takte ');
  }, 60_000);

  it('are refused where the score is another one', async () => {
    const other = new Uint8Array([...bytes, 10]);
    const result = await readingPages(
      { bytes: other, drill },
      reading,
      { language: 'en' },
      { engraver, pdf: nodePdf },
    );
    expect(!result.ok && result.error.code).toBe('score-changed');
  });
});

describe('the table of a reading', () => {
  it('has every figure with its interval, a line each, and cells that no spreadsheet takes for a formula', () => {
    const [head = '', ...rows] = readingCsv({
      ...kept.value,
      pairs: kept.value.pairs.map((pair) => ({ ...pair, parts: ['=1+1', 'a,"b"'] as const })),
    })
      .trimEnd()
      .split('\r\n');
    expect(head.split(',')).toEqual([...readingColumns]);
    const onsets = rows.filter((row) => /^note-\w+,perceived,s,/.test(row));
    expect(onsets).toHaveLength(kept.value.notes.filter(({ perceived }) => perceived !== null).length);
    const [mean] = kept.value.pairs.flatMap((pair) => pair.mean ?? []);
    const line = rows.find((row) => row.startsWith('pair,mean,ms,'));
    expect(line).toContain('\'=1+1,"a,""b""",');
    expect(line).toContain(String(Number((mean?.value ?? 0).toPrecision(9))));
    expect(rows.filter((row) => row.startsWith('tempo,tempo,'))).toHaveLength(kept.value.tempo.length);
  });
});
