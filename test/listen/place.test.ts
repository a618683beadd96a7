/** Times of events from where the alignment has been: attempts, restarts from anywhere, and what lies where nothing puts it. */
import { describe, expect, it } from 'vitest';
import { eventsOf } from '../../src/listen/events.ts';
import type { Visit } from '../../src/listen/path.ts';
import { adapted, placeEvents } from '../../src/listen/place.ts';
import { frameSeconds } from '../../src/listen/spectra.ts';

const events = eventsOf(
  Array.from({ length: 24 }, (_, i) => ({
    id: `n${i}`,
    time: 0.5 * i,
    duration: 0.5,
    midi: 60 + (i % 7),
    slurred: false,
    entry: i % 4 === 0,
  })),
);
const visit = (event: number, seconds: number): Visit => {
  const from = Math.round(seconds / frameSeconds);
  return { event, from, to: from + 10 };
};
const played = (first: number, last: number, at: number): readonly Visit[] =>
  Array.from({ length: last - first + 1 }, (_, k) => visit(first + k, at + 0.5 * k));
const place = (visits: readonly Visit[]) => placeEvents(events, visits, (written) => written);

describe('a restart', () => {
  // Stops after event 12 and goes on from event 9, which begins no bar, six seconds later.
  const placed = place([...played(0, 12, 1), ...played(9, 23, 13)]);

  it('counts the second attempt, and tells the first as broken off', () => {
    expect(placed.times[8]).toBeCloseTo(5, 1);
    expect(placed.times[9]).toBeCloseTo(13, 1);
    expect(placed.abandoned.map(({ event }) => event)).toEqual([9, 10, 11, 12]);
    expect([...placed.stray].every((one) => one === 0)).toBe(true);
  });

  it('has a course of its own for each attempt', () => {
    const times = adapted(events, placed).courses.map((course) => course[10] ?? NaN);
    expect(times.some((time) => Math.abs(time - 6) < 0.05)).toBe(true);
    expect(times.some((time) => Math.abs(time - 13.5) < 0.05)).toBe(true);
  });
});

describe('what the alignment has put astray', () => {
  it('does not replace a visit that lies in its line', () => {
    // Between the attempts event 5 seems to come again, alone, in the silence.
    const placed = place([...played(0, 12, 1), visit(5, 9), ...played(9, 23, 13)]);
    expect(placed.times[5]).toBeCloseTo(3.5, 1);
    expect(placed.stray[5]).toBe(0);
  });

  it('is told as such where there is no other: seconds away from its neighbours', () => {
    const run = [...played(0, 10, 1), visit(11, 9), ...played(12, 23, 7)];
    const placed = place(run.filter(({ event }) => event !== 12));
    expect(placed.stray[11]).toBe(1);
    expect([...placed.stray].filter((one) => one === 1)).toHaveLength(1);
  });

  it('is not what follows a fermata of two seconds', () => {
    const placed = place([...played(0, 11, 1), ...played(12, 23, 9)]);
    expect([...placed.stray].every((one) => one === 0)).toBe(true);
  });
});
