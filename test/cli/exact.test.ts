import { expect, it } from 'vitest';
import { cases, measured } from './exact.ts';

// Check values, "Click arithmetic": every click at round(t x rate) samples from the exact t. The expected samples are
// computed by the outside program from the tempo alone. Sixty minutes of each: `npm run soak`.
it.each(cases)('levare drill puts every click on its exact sample, two minutes of $name', async (pulse) => {
  const report = await measured(pulse, 2);
  expect(report.differences).toEqual([]);
  expect(report.equal).toBe(true);
  expect(report.count).toBe(report.timelineClicks);
});
