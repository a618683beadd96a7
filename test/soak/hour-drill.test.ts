import { expect, it } from 'vitest';
import { cases, measured } from '../cli/exact.ts';

it.each(cases)('levare drill puts every click on its exact sample, an hour of $name', async (pulse) => {
  const report = await measured(pulse, 60);
  expect(report.differences).toEqual([]);
  expect(report.equal).toBe(true);
  expect(report.count).toBe(report.timelineClicks);
  console.log(`${pulse.name}: ${report.count} clicks`);
});
