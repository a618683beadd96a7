/** The PDF files, read and drawn by poppler, and held against the pages' SVG as librsvg draws it. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeSheets, type SheetFolder } from '../../src/desk/sheet.ts';
import { nodeEngraver } from '../../src/host/node/engraver.ts';
import { nodePdf } from '../../src/host/node/pdf.ts';
import { usualSheet, type SheetOptions } from '../../src/sheet/index.ts';
import {
  demo,
  inkOf,
  librsvg,
  oneBar,
  pdfPicture,
  poppler,
  popplerText,
  svgPicture,
  type Grey,
} from './support.ts';

const engraver = nodeEngraver();
const ports = { engraver, pdf: nodePdf };
afterAll(() => engraver.close());

const made = async (
  worked: ReturnType<typeof demo>,
  options: SheetOptions = usualSheet,
): Promise<SheetFolder> => {
  const result = await makeSheets(worked, ports, options);
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};

const bytesOf = ({ files }: SheetFolder, index = 0): Uint8Array =>
  [...(files[index]?.chunks ?? [])][0] ?? new Uint8Array();

/**
 * Darkness around the points of a grid: where on the page the ink is. A pixel counts for the four points about it, the
 * nearer the more, so that a line half a pixel off makes no difference.
 */
const darkness = ({ width, pixels }: Grey, size: number): readonly number[] => {
  const columns = Math.ceil(width / size) + 1;
  const sums: number[] = [];
  pixels.forEach((pixel, i) => {
    if (pixel === 255) return;
    const [x, y] = [(i % width) / size, Math.floor(i / width) / size];
    const [column, row] = [Math.floor(x), Math.floor(y)];
    for (const [dx, dy] of [
      [0, 0],
      [1, 0],
      [0, 1],
      [1, 1],
    ] as const) {
      const weight = (1 - Math.abs(x - column - dx)) * (1 - Math.abs(y - row - dy));
      const point = (row + dy) * columns + column + dx;
      sums[point] = (sums[point] ?? 0) + (weight * (255 - pixel)) / 255 / (size * size);
    }
  });
  return sums;
};

describe.skipIf(!poppler)('a drill’s PDF files', () => {
  const request = { bars: '10-17', keep: '1/8', click: 'weak', tempo: ['72', '80', '88'], times: 3 };
  let folder: SheetFolder | undefined;
  beforeAll(async () => {
    folder = await made(demo(request));
  }, 60_000);
  const all = (): SheetFolder => {
    if (folder === undefined) throw new Error('not made');
    return folder;
  };

  it('are the score and one for each part', () => {
    expect(all().files.map(({ name }) => name)).toEqual([
      'score.pdf',
      'part-1-flute.pdf',
      'part-2-clarinet-in-b.pdf',
    ]);
    all().files.forEach(({ size }, i) => expect(size).toBe(bytesOf(all(), i).length));
  });

  it('say what the drill is', () => {
    const text = popplerText('pdftotext', ['-layout', '{}', '-'], bytesOf(all()));
    for (const words of [
      'Lanterns on the Towpath',
      'Score',
      'bars 10–17',
      '= 72 · 80 · 88',
      'eighths only · click on the weak beats · each 3 times',
      'Clarinet in B♭',
      'light, as one player',
    ])
      expect(text).toContain(words);
    expect(text).toMatch(/one\s+two\s+one\s+two\s+three\s+four/);
    for (const number of ['10', '11', '12', '13', '14', '15', '16', '17'])
      expect(text).toMatch(new RegExp(`(^|\\s)${number}(\\s|$)`, 'm'));
    expect(popplerText('pdftotext', ['{}', '-'], bytesOf(all(), 1))).toContain('Flute');
  });

  it('embed their fonts as subsets', () => {
    const rows = popplerText('pdffonts', ['{}'], bytesOf(all())).trim().split('\n').slice(2);
    expect(rows.length).toBeGreaterThan(2);
    for (const row of rows) expect(row).toMatch(/^[A-Z]{6}\+(Tinos|NotoMusic)\S*.*\syes yes yes\s/);
  });

  it('hold one upright A4 page with a title and no date of making', () => {
    const info = popplerText('pdfinfo', ['{}'], bytesOf(all()));
    expect(info).toMatch(/^Title:\s+Lanterns on the Towpath – Score$/m);
    expect(info).toMatch(/^Pages:\s+1$/m);
    // ISO 216: A4 is 210 mm by 297 mm, 595.28 by 841.89 points of 1/72 inch.
    expect(info).toMatch(/^Page size:\s+595\.2\d+ x 841\.89 pts \(A4\)/m);
    expect(info).toMatch(/^CreationDate:\s+Sat Jan  1 \d\d:\d\d:\d\d 2000/m);
  });

  it('are the same bytes when made again, by another engraver', async () => {
    const other = nodeEngraver();
    const again = await makeSheets(demo(request), { engraver: other, pdf: nodePdf });
    await other.close();
    if (!again.ok) throw new Error(again.error.message);
    all().files.forEach((_, i) => {
      expect(Buffer.compare(bytesOf(all(), i), bytesOf(again.value, i))).toBe(0);
    });
    expect(again.value.sheets.map(({ pages }) => pages)).toEqual(all().sheets.map(({ pages }) => pages));
  });

  it.skipIf(!librsvg)('draw what the SVG draws, in the same places', async () => {
    // Without its text, which librsvg draws in whatever font the system has.
    const music = (all().sheets[0]?.pages[0] ?? '').replace(/<text.*?<\/text>/g, '');
    const bytes = await nodePdf.make([{ svg: music }], { title: '', width: 210, height: 297 });
    if (!bytes.ok) throw new Error(bytes.error.message);
    const pdf = pdfPicture(bytes.value, 200);
    const svg = svgPicture(music, 200);
    expect([pdf.width, pdf.height]).toEqual([svg.width, svg.height]);
    // Points 5 mm apart may differ by a fortieth of full ink: a missing note head is 0.1.
    const [a, b] = [darkness(pdf, 40), darkness(svg, 40)];
    for (let i = 0; i < Math.max(a.length, b.length); i++)
      expect(Math.abs((a[i] ?? 0) - (b[i] ?? 0))).toBeLessThan(0.025);
    expect(inkOf(pdf) / inkOf(svg)).toBeGreaterThan(0.95);
    expect(inkOf(pdf) / inkOf(svg)).toBeLessThan(1.05);
  });

  it('are neither empty nor black: ink per page', () => {
    all().files.forEach((_, i) => {
      const ink = inkOf(pdfPicture(bytesOf(all(), i), 100));
      expect(ink).toBeGreaterThan(0.01);
      expect(ink).toBeLessThan(0.08);
    });
  });

  it('leave no hole between systems where a slur goes on from one to the next', async () => {
    // The demo's flute is slurred from bar 41 to 42, where a new system begins. 25.4 dots an inch: a row is 1 mm.
    const { width, pixels } = pdfPicture(bytesOf(await made(demo({ bars: '38-45' }))), 25.4);
    const inked = Array.from({ length: pixels.length / width }, (_, row) =>
      pixels.subarray(row * width, (row + 1) * width).some((pixel) => pixel < 200),
    );
    const rows = inked.flatMap((ink, row) => (ink ? [row] : []));
    const widest = Math.max(...rows.slice(1).map((row, i) => row - (rows[i] ?? row)));
    // Our own rule (src/sheet/paper.ts): systems stand at most 14 mm apart, measured between boxes and the control points
    // of curves, which lie some millimetres beyond the ink. 17 mm was measured; with the slur's stray box it was 46.
    expect(widest).toBeLessThanOrEqual(20);
  });

  it('come on Letter and lying, too', async () => {
    const info = (folderMade: SheetFolder) => popplerText('pdfinfo', ['{}'], bytesOf(folderMade));
    const small = demo({ bars: '10-11' });
    // ANSI/ASME Y14.1 size A: 8.5 by 11 inches.
    expect(info(await made(small, { ...usualSheet, paper: 'letter' }))).toMatch(/Page size:\s+612 x 792 pts/);
    expect(info(await made(small, { ...usualSheet, orientation: 'landscape' }))).toMatch(
      /Page size:\s+841\.89 x 595\.2\d+ pts/,
    );
  });

  it('write text in other scripts, and tell what no font can draw', async () => {
    const title = 'Žluťoučký Ψυχή Псалом שיר 漢';
    const bar =
      '<note><pitch><step>C</step><octave>4</octave></pitch><duration>8</duration><type>whole</type><lyric><text>Größe</text></lyric></note>';
    const result = await makeSheets(oneBar(title, bar), ports);
    if (!result.ok) throw new Error(result.error.message);
    const text = popplerText('pdftotext', ['{}', '-'], bytesOf(result.value));
    for (const word of ['Žluťoučký', 'Ψυχή', 'Псалом', 'שיר', 'Größe']) expect(text).toContain(word);
    const missing = result.problems.filter(({ code }) => code === 'glyph-missing');
    expect(missing).toHaveLength(1);
    expect(missing[0]?.message).toContain('漢 (U+6F22)');
  });
});
