/**
 * Timing for benchmarks: several runs after a warm-up, in turn, so that a noisy machine is noisy for all alike; medians
 * and ratios are printed side by side.
 */
/** The middle one of numbers. */
export const median = (values) => {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
};

/** Runs each named task `runs` times in turn and gives the median milliseconds of each. */
export const inTurn = async (tasks, runs = 5) => {
  const times = new Map(Object.keys(tasks).map((name) => [name, []]));
  for (const task of Object.values(tasks)) await task();
  for (let run = 0; run < runs; run++) {
    for (const [name, task] of Object.entries(tasks)) {
      const start = performance.now();
      await task();
      times.get(name).push(performance.now() - start);
    }
  }
  return Object.fromEntries([...times].map(([name, values]) => [name, median(values)]));
};

/** One line: name, figure, and how often it goes into the first one. */
export const printRatios = (title, figures, unit = 'ms') => {
  console.log(`\n${title}`);
  const [[, first]] = Object.entries(figures);
  for (const [name, value] of Object.entries(figures)) {
    const ratio = value === first ? '' : `   ${(value / first).toPrecision(3)} x the first`;
    console.log(`  ${name.padEnd(58)} ${value.toFixed(1).padStart(9)} ${unit}${ratio}`);
  }
};
