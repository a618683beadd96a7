/** Engraving: the first page of eight bars out of scores of different length; pages a second; and as PDF. */
import { makeSheet, makeSheets, usualSheet } from '../dist/desk/sheet.js';
import { extractScore } from '../dist/drill/extract.js';
import { workOut } from '../dist/drill/workOut.js';
import { nodeEngraver, nodePdf } from '../dist/host/node/index.js';
import { readScore } from '../dist/score/read/recognise.js';
import { plainDrill, value } from './drills.mjs';
import { inTurn, printRatios } from './measure.mjs';
import { demo, largestQuartet } from './scores.mjs';

export const benchSheet = async () => {
  const engraver = nodeEngraver();
  const whole = value(readScore(largestQuartet() ?? demo));
  const sheet = async (score, bars) => {
    const worked = value(workOut(score, plainDrill(bars), 48_000));
    return value(await makeSheet(worked, null, usualSheet, engraver, nodePdf.faces));
  };
  const tasks = {};
  for (const share of [4, 2, 1]) {
    const last = Math.floor(whole.bars.length / share) - 1;
    const part = extractScore(value(workOut(whole, plainDrill(`@0-@${last}`), 48_000)));
    tasks[`eight bars out of ${last + 1}`] = () => sheet(part, '@0-@7');
  }
  printRatios('The first page against the length of the score', await inTurn(tasks, 3));

  const bars = `@0-@${Math.min(99, whole.bars.length - 1)}`;
  const { pages } = await sheet(whole, bars);
  const worked = value(workOut(whole, plainDrill(bars), 48_000));
  const times = await inTurn(
    {
      svg: () => sheet(whole, bars),
      'svg and pdf, score and parts': () => makeSheets(worked, { engraver, pdf: nodePdf }),
    },
    2,
  );
  const all = value(await makeSheets(worked, { engraver, pdf: nodePdf })).sheets.reduce(
    (sum, one) => sum + one.pages.length,
    0,
  );
  console.log(`\nPages of ${bars}`);
  console.log(
    `  score as SVG: ${pages.length} pages, ${((pages.length * 1000) / times.svg).toFixed(1)} a second`,
  );
  const made = times['svg and pdf, score and parts'];
  console.log(`  score and parts as PDF: ${all} pages, ${((all * 1000) / made).toFixed(1)} a second`);
  await engraver.close();
};
