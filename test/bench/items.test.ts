import { describe, expect, it } from 'vitest';
import { itemsOf } from '../../bench/hear/items.mjs';
import { randomScore } from '../../bench/hear/lines.mjs';
import { seeded } from '../../bench/hear/random.mjs';

const tuning = itemsOf('tuning');
const report = itemsOf('report');

describe('the two halves', () => {
  it('share no stream, no name and no source of sound', () => {
    const both = <T>(get: (item: (typeof tuning)[number]) => T): T[] => {
      const one = new Set(tuning.map(get));
      return report.map(get).filter((value) => one.has(value));
    };
    expect(both(({ seed }) => seed)).toEqual([]);
    expect(both(({ name }) => name)).toEqual([]);
    expect(both(({ source }) => source)).toEqual([]);
    expect(new Set(report.map(({ source }) => source)).size).toBe(2);
  });

  it('share no condition as a whole', () => {
    const bare = (item: (typeof tuning)[number]): string =>
      JSON.stringify({ ...item, name: '', half: '', seed: '', source: '' });
    const one = new Set(tuning.map(bare));
    expect(report.map(bare).filter((text) => one.has(text))).toEqual([]);
  });

  it('hold every row, each with narrow and wide spreads', () => {
    const rows = [...new Set(tuning.map(({ row }) => row))];
    expect([...new Set(report.map(({ row }) => row))]).toEqual(rows);
    for (const half of [tuning, report])
      for (const row of rows) {
        const spreads = half.filter((item) => item.row === row).map(({ spreadMs }) => spreadMs);
        expect(Math.max(...spreads), row).toBeGreaterThanOrEqual(30);
      }
  });

  it('come out the same again, and otherwise from another seed', () => {
    expect(itemsOf('tuning')).toEqual(tuning);
    expect(itemsOf('tuning', 'another')[0]?.sd).not.toEqual(tuning[0]?.sd);
  });

  it('cover what players meet', () => {
    const all = [...tuning, ...report];
    expect(new Set(all.flatMap(({ voices }) => voices))).toEqual(
      new Set(['recorder', 'flute', 'oboe', 'clarinet', 'violin', 'viola', 'cello']),
    );
    expect(new Set(all.map(({ voices }) => voices.length))).toEqual(new Set([2, 3, 4]));
    expect(new Set(all.map(({ room }) => room))).toEqual(new Set(['dry', 'room', 'hall']));
    expect(all.map(({ clickDb }) => clickDb)).toContain(null);
    expect(all.map(({ clickDb }) => clickDb)).toContain(0);
  });
});

describe('the music of the bench', () => {
  it.each(['4/4', '3/4', '2/4', '6/8'])('fills every bar of %s and marks every note', (metre) => {
    const { text, marks } = randomScore(
      {
        voices: ['flute', 'cello'],
        metre,
        bars: 12,
        texture: 'lines',
        tempo: 80,
        slurred: [true, false],
        trilled: true,
      },
      seeded(`lines ${metre}`),
    );
    const [beats = 0, type = 1] = metre.split('/').map(Number);
    // 12 divisions a quarter.
    const full = (beats * 48) / type;
    const bars = [...text.matchAll(/<measure .*?<\/measure>/gs)].map(([bar]) =>
      [...bar.matchAll(/<duration>(\d+)</g)].reduce((sum, [, value]) => sum + Number(value), 0),
    );
    expect(bars).toEqual(Array<number>(24).fill(full));
    const parts = text.split('</part>');
    for (const [k, id] of ['P1', 'P2'].entries())
      expect(marks[id]).toHaveLength([...(parts[k] ?? '').matchAll(/<pitch>/g)].length);
    expect([...text.matchAll(/<slur type="start"/g)].length).toBeGreaterThan(0);
    expect([...text.matchAll(/<slur type="start"/g)]).toHaveLength(
      [...text.matchAll(/<slur type="stop"/g)].length,
    );
    expect(marks['P2']?.some(({ slurredToNext }) => slurredToNext)).toBe(false);
  });
});
