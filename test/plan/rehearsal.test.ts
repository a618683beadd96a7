/** Plans for rehearsals: what holds of every one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  planDays,
  planMinutes,
  planRehearsal,
  planRemarks,
  type PlanPlace,
} from '../../src/plan/rehearsal.ts';

const players = ['anna', 'ben', 'cleo', 'dan'];
const place = fc.record({
  piece: fc.constantFrom('p1', 'p2'),
  bars: fc.constant('1-4'),
  step: fc.constant('all half auto'),
  players: fc.subarray(players),
  weight: fc.nat(100),
  standing: fc.constantFrom('new', 'open', 'to-retest', 'held'),
  last: fc.constantFrom('', '2026-11-01', '2026-11-20'),
}) as fc.Arbitrary<Omit<PlanPlace, 'place'>>;
const places = fc
  .array(place, { maxLength: 25 })
  .map((list): PlanPlace[] => list.map((one, i) => ({ ...one, place: `place ${i}` })));
const asked = fc.record({
  minutes: fc.integer({ min: 5, max: 360 }),
  present: fc.option(fc.subarray(players).map((list) => new Set(list))),
  days: fc.option(fc.nat(40)),
});

describe('every plan', () => {
  const holds = (
    check: (
      plan: ReturnType<typeof planRehearsal>,
      list: PlanPlace[],
      question: { minutes: number; present: Set<string> | null; days: number | null },
    ) => void,
  ): void => {
    fc.assert(
      fc.property(places, asked, (list, question) => {
        check(planRehearsal(list, question), list, question);
      }),
      { numRuns: 500 },
    );
  };

  it('lasts exactly as long as asked, in whole minutes above zero', () => {
    holds(({ items }, _, { minutes }) => {
      expect(items.reduce((sum, item) => sum + item.minutes, 0)).toBe(minutes);
      for (const item of items) expect(Number.isInteger(item.minutes) && item.minutes > 0).toBe(true);
    });
  });

  it('tries first what held, ends free, and keeps breaks', () => {
    holds(({ items }, _, { minutes }) => {
      expect(items.at(-1)?.kind).toBe('free');
      const remarks = planRemarks(items, minutes);
      for (const remark of ['over-time', 'under-time', 'no-break', 'retest-not-first', 'no-free-end'])
        expect(remarks).not.toContain(remark);
      expect(items[0]?.kind).not.toBe('break');
      expect(
        items.filter(({ kind }) => kind === 'break').every((item) => item.minutes === planMinutes.pause),
      ).toBe(true);
    });
  });

  it('never has the same place twice in a row where there are two to work on', () => {
    holds(({ items }, _, { minutes }) => {
      const worked = new Set(items.flatMap(({ kind, place: one }) => (kind === 'work' ? [one?.place] : [])));
      // Over a break a turn may go on.
      const turns: (string | undefined)[] = items.map(({ kind, place: one }) =>
        kind === 'work' ? one?.place : kind,
      );
      if (worked.size > 1)
        turns.forEach((one, i) => {
          if (i > 0 && one !== 'retest') expect(one === turns[i - 1]).toBe(false);
        });
      expect(minutes).toBeGreaterThan(0);
    });
  });

  it('asks nobody who is not there, and begins nothing new in the last week unless everything is new', () => {
    holds(({ items, absent, left }, list, { present, days }) => {
      const used = new Set(items.flatMap(({ place: one }) => (one === null ? [] : [one])));
      const known = list.some((one) => !absent.includes(one) && one.standing !== 'new');
      for (const one of used) {
        if (present !== null) expect(one.players.every((id) => present.has(id))).toBe(true);
        if (known && days !== null && days <= planDays.nothingNew) expect(one.standing).not.toBe('new');
      }
      expect(new Set([...used, ...absent, ...left])).toEqual(new Set(list));
      expect(used.size + absent.length + left.length).toBe(list.length);
    });
  });

  it('works on new places before a concert where nothing was rehearsed yet', () => {
    const fresh = { piece: 'p1', bars: '1-4', step: '', players: ['anna'], weight: 1, last: '' };
    const list: PlanPlace[] = ['a', 'b'].map((one) => ({ ...fresh, place: one, standing: 'new' }));
    const { items } = planRehearsal(list, { minutes: 60, present: null, days: 5 });
    expect(items.some(({ kind }) => kind === 'work')).toBe(true);
  });

  it('does not depend on the order in which places are given', () => {
    holds((plan, list, question) => {
      expect(planRehearsal([...list].reverse(), question)).toEqual(plan);
    });
  });
});

const some = (standing: PlanPlace['standing'], i: number): PlanPlace => ({
  piece: 'p',
  place: `${standing} ${i}`,
  bars: '1-4',
  step: '',
  players: [],
  weight: 10 - i,
  standing,
  last: '2026-11-20',
});

describe('an hour', () => {
  it('alternates the weightiest, each at least twice', () => {
    const { items } = planRehearsal(
      [0, 1, 2, 3, 4, 5, 6, 7].map((i) => some('open', i)),
      { minutes: 55, present: null, days: null },
    );
    const names = items.filter(({ kind }) => kind === 'work').map(({ place: one }) => one?.place);
    expect(names.slice(0, 4)).toEqual(['open 0', 'open 1', 'open 2', 'open 3']);
    for (const name of new Set(names))
      expect(names.filter((one) => one === name).length).toBeGreaterThanOrEqual(2);
  });
  it('three days before the concert is played through by half', () => {
    const { items } = planRehearsal([some('open', 0), some('held', 1)], {
      minutes: 50,
      present: null,
      days: 3,
    });
    expect(items.at(-1)).toMatchObject({ kind: 'free', minutes: 25 });
    expect(items[0]).toMatchObject({ kind: 'retest', place: { place: 'held 1' } });
  });
  it('remarks on what was changed by hand', () => {
    const work = { kind: 'work', minutes: 30, place: some('open', 0) } as const;
    expect(planRemarks([work, work, { kind: 'retest', minutes: 2, place: some('held', 1) }], 60)).toEqual([
      'over-time',
      'no-break',
      'same-twice',
      'retest-not-first',
      'no-free-end',
    ]);
  });
});
