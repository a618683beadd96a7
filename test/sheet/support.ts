/** What the tests of the page share: drills on the demo, one engraver, and poppler's programs where they are there. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { usualDrill, type DrillRequest } from '../../src/desk/request.ts';
import type { Drill } from '../../src/drill/model.ts';
import { workOut, type WorkedDrill } from '../../src/drill/workOut.ts';
import type { Score } from '../../src/score/model.ts';
import { readScore } from '../../src/score/read/recognise.ts';

export const demoFile = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');

export const scoreFrom = (bytes: Uint8Array): Score => {
  const read = readScore(bytes);
  if (!read.ok) throw new Error(read.error.message);
  return read.value;
};

export const workedFrom = (score: Score, request: DrillRequest): WorkedDrill => {
  const drill: Drill = {
    ...usualDrill,
    ...request,
    format: 'levare.drill/2',
    score: { sha256: '', title: score.title, file: 'score.musicxml' },
  };
  const worked = workOut(score, drill, 48_000);
  if (!worked.ok) throw new Error(worked.error.message);
  return worked.value;
};

export const demo = (request: DrillRequest): WorkedDrill =>
  workedFrom(scoreFrom(new Uint8Array(readFileSync(demoFile))), request);

/** A one-part score by hand: the inside of its first measure and the measures after it, in divisions of an eighth. */
export const oneBar = (title: string, first: string, rest = ''): WorkedDrill =>
  workedFrom(
    scoreFrom(
      new TextEncoder()
        .encode(`<?xml version="1.0"?><score-partwise version="4.0"><work><work-title>${title}</work-title></work>
<part-list><score-part id="P1"><part-name>Viola</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>2</divisions>
<time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>C</sign><line>3</line></clef></attributes>${first}</measure>${rest}</part></score-partwise>`),
    ),
    { tempo: ['60'] },
  );

const works = (program: string): boolean => spawnSync(program, ['-v']).error === undefined;

/** Poppler's and librsvg's programs: independent readers of PDF and SVG. */
export const poppler = works('pdftotext') && works('pdftoppm');
export const librsvg = works('rsvg-convert');
if (!poppler) console.log('Poppler is not installed: tests of PDF files by it are skipped.');
if (!librsvg) console.log('rsvg-convert is not installed: PDF and SVG are not compared.');

const inFolder = <T>(work: (folder: string) => T): T => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-sheet-'));
  try {
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
};

/** What a program of poppler's writes about a PDF. */
export const popplerText = (program: string, args: readonly string[], pdf: Uint8Array): string =>
  inFolder((folder) => {
    const file = path.join(folder, 'a.pdf');
    writeFileSync(file, pdf);
    const run = spawnSync(program, [...args.map((arg) => (arg === '{}' ? file : arg))], { encoding: 'utf8' });
    if (run.status !== 0) throw new Error(run.stderr);
    return run.stdout;
  });

/** A grey picture. */
export interface Grey {
  readonly width: number;
  readonly height: number;
  /** 0 black to 255 white, row by row. */
  readonly pixels: Uint8Array;
}

/** Reads binary PGM (netpbm's pgm(5), "P5"). */
const pgm = (bytes: Uint8Array): Grey => {
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(new TextDecoder('latin1').decode(bytes.subarray(0, 40)));
  if (head === null) throw new Error('no PGM');
  return { width: Number(head[1]), height: Number(head[2]), pixels: bytes.subarray(head[0].length) };
};

/** The first page of a PDF as poppler draws it. */
export const pdfPicture = (pdf: Uint8Array, dpi: number): Grey =>
  inFolder((folder) => {
    const [from, to] = [path.join(folder, 'a.pdf'), path.join(folder, 'a')];
    writeFileSync(from, pdf);
    spawnSync('pdftoppm', ['-gray', '-r', String(dpi), '-singlefile', from, to]);
    return pgm(new Uint8Array(readFileSync(`${to}.pgm`)));
  });

/** Share of ink: mean darkness, 0 white to 1 black. */
export const inkOf = ({ pixels }: Grey): number => {
  let sum = 0;
  for (const pixel of pixels) sum += 255 - pixel;
  return sum / (255 * pixels.length);
};

/** The same page as librsvg draws it, turned into a PDF by it and drawn by poppler at the same size. */
export const svgPicture = (svg: string, dpi: number): Grey =>
  inFolder((folder) => {
    const [from, to] = [path.join(folder, 'a.svg'), path.join(folder, 'a.pdf')];
    writeFileSync(from, svg);
    spawnSync('rsvg-convert', ['-f', 'pdf', '-o', to, from]);
    return pdfPicture(new Uint8Array(readFileSync(to)), dpi);
  });

/** How often a text is in another. */
export const count = (text: string, pattern: RegExp): number => [...text.matchAll(pattern)].length;
