/**
 * Reading the same music in each format, at one, two and four times its length: notes a second, and how the time grows.
 * Processor time is measured, not the clock on the wall, so that other work on the machine does not count as growth.
 * `LEVARE_NOTES=1000000 npm run bench -- formats` makes the longest so many notes.
 */
import { readScore } from '../dist/score/read/recognise.js';
import { barsOf, evenLine, notesIn } from './evenLine.mjs';
import { median } from './measure.mjs';

const longest = Number(process.env.LEVARE_NOTES ?? 32_000);

/** Reads and makes sure that all was read: a reader that gives up is quick. */
const readAll = (bytes, bars) => {
  const result = readScore(bytes);
  if (!result.ok) return result.error.code;
  const notes = result.value.parts.reduce((sum, part) => sum + part.notes.length, 0);
  if (notes !== notesIn(bars) || result.value.bars.length !== bars)
    throw new Error(
      `${notes} of ${notesIn(bars)} notes in ${result.value.bars.length} of ${bars} bars were read.`,
    );
  return null;
};

/** Median milliseconds of processor time of each task, by turns after a warm-up. */
const processorTime = (tasks, runs) => {
  const times = new Map(Object.keys(tasks).map((name) => [name, []]));
  for (let run = 0; run < runs; run += 1) {
    for (const [name, task] of Object.entries(tasks)) {
      const before = process.cpuUsage();
      task();
      const { user, system } = process.cpuUsage(before);
      times.get(name).push((user + system) / 1000);
    }
  }
  return Object.fromEntries([...times].map(([name, values]) => [name, median(values)]));
};

export const benchFormats = () => {
  const lengths = [4, 2, 1].map((share) => barsOf(longest / share));
  console.log(`Four parts in even eighths; notes: ${lengths.map(notesIn).join(', ')}`);
  console.log('format            notes a second at each length     time for twice, four times the length');
  for (const [format, write] of Object.entries(evenLine)) {
    const tasks = {};
    const refused = [];
    for (const bars of lengths) {
      const bytes = write(bars);
      const code = readAll(bytes, bars);
      if (code === null) tasks[bars] = () => readScore(bytes);
      else refused.push(`${notesIn(bars)} notes are refused (${code})`);
    }
    const runs = longest > 200_000 ? 1 : 5;
    const times = processorTime(tasks, runs);
    const rates = lengths.map((bars) =>
      bars in times ? Math.round((notesIn(bars) * 1000) / times[bars]).toLocaleString('en') : '-',
    );
    const [first] = lengths;
    const growth = lengths
      .slice(1)
      .map((bars) => (bars in times ? `${(times[bars] / times[first]).toFixed(2)} x` : '-'));
    const cells = rates.map((rate) => rate.padStart(11)).join('');
    console.log(
      `${format.padEnd(14)}${cells}    ${growth.map((one) => one.padStart(8)).join('')}   ${refused.join(', ')}`,
    );
  }
};
