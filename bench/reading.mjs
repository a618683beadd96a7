/** Reading the largest quartet against the engraver loading the same file; a timeline against reading; growth. */
import { extractScore } from '../dist/drill/extract.js';
import { workOut } from '../dist/drill/workOut.js';
import { readScore } from '../dist/score/read/recognise.js';
import { writeMusicXml } from '../dist/score/write/musicxml.js';
import { plainDrill, value } from './drills.mjs';
import { inTurn, printRatios } from './measure.mjs';
import { demo, largestQuartet } from './scores.mjs';

export const benchReading = async () => {
  const quartet = largestQuartet() ?? demo;
  const score = value(readScore(quartet));
  const notes = score.parts.reduce((sum, part) => sum + part.notes.length, 0);
  console.log(`${score.bars.length} bars, ${notes} sounding notes`);
  const xml = writeMusicXml(score).text;
  const { default: createModule } = await import('verovio/wasm');
  const { VerovioToolkit } = await import('verovio/esm');
  const toolkit = new VerovioToolkit(await createModule());
  toolkit.setOptions({ breaks: 'none' });
  printRatios('The same score, as plain MusicXML', {
    ...(await inTurn({
      'our reader, to the score': () => readScore(new TextEncoder().encode(xml)),
      'a timeline of the whole score, from the score': () => workOut(score, plainDrill('all'), 48_000),
      'the filtered extract and its MusicXML': () =>
        writeMusicXml(extractScore(value(workOut(score, plainDrill('all'), 48_000)))),
      'the engraver loading it (without drawing)': () => toolkit.loadData(xml),
    })),
  });

  const growth = {};
  const random = score.bars.length;
  for (const share of [1, 2, 4]) {
    const last = Math.floor((random * share) / 4) - 1;
    const part = extractScore(value(workOut(score, plainDrill(`@0-@${last}`), 48_000)));
    const bytes = new TextEncoder().encode(writeMusicXml(part).text);
    growth[`${last + 1} bars`] = () => readScore(bytes);
  }
  printRatios('Growth of reading with the length', await inTurn(growth));
  const lengths = {};
  for (const share of [1, 2, 4]) {
    const last = Math.floor((random * share) / 4) - 1;
    lengths[`${last + 1} bars`] = () => workOut(score, plainDrill(`@0-@${last}`), 48_000);
  }
  printRatios('Growth of the timeline with the length', await inTurn(lengths));
};
