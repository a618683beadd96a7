/** All benchmarks, or those named: `npm run bench`, `npm run bench -- reading`. Prints ratios; judges nothing. */
import { benchBrowser } from './browser.mjs';
import { benchFind } from './find.mjs';
import { benchFormats } from './formats.mjs';
import { benchHear } from './hear-cost.mjs';
import { benchJournal } from './journal.mjs';
import { benchReading } from './reading.mjs';
import { benchSheet } from './sheet.mjs';
import { benchSound } from './sound.mjs';
import { benchTake } from './take.mjs';

const benches = {
  reading: benchReading,
  formats: benchFormats,
  find: benchFind,
  hear: benchHear,
  sound: benchSound,
  journal: benchJournal,
  sheet: benchSheet,
  browser: benchBrowser,
  take: benchTake,
};

const named = process.argv.slice(2);
const unknown = named.filter((name) => !(name in benches));
if (unknown.length > 0) {
  console.error(`No benchmark "${unknown.join('", "')}"; there are: ${Object.keys(benches).join(', ')}.`);
  process.exit(2);
}
for (const [name, bench] of Object.entries(benches)) {
  if (named.length > 0 && !named.includes(name)) continue;
  console.log(`\n== ${name}`);
  await bench();
}
