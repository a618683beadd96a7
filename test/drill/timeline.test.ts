/** Sources: the check values named beside a check; else our definition (docs/drill.md), with times worked out by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { F, note, samplesAt, seconds } from '../../src/units/index.ts';
import { clickText, problemsOf, tempoMark, worked } from '../support/drills.ts';
import { music } from '../support/music.ts';
import { scoreOf } from '../support/scores.ts';

const times = (score: Parameters<typeof worked>[0], drill: Parameters<typeof worked>[1]) =>
  worked(score, drill).timeline.clicks.map(({ time }) => F.format(time));

describe('click arithmetic', () => {
  // Check values, "Click arithmetic": 4/4 at quarter = 90 gives 90, 45, 22.5 clicks a minute; computed.
  const four = scoreOf('4/4 ; 4/4 ; 4/4');
  const gaps = (click: string) => {
    const { clicks } = worked(four, { click, tempo: ['90'] }).timeline;
    return new Set(clicks.slice(1).map(({ time }, i) => F.format(F.sub(time, clicks[i]?.time ?? F.zero))));
  };
  it('at quarter = 90 gives 90, 45 and 22.5 clicks a minute', () => {
    expect([...gaps('every')]).toEqual(['2/3']);
    expect([...gaps('half')]).toEqual(['4/3']);
    expect([...gaps('bar')]).toEqual(['8/3']);
  });
  it('puts off-beat clicks at the rate of the half-bar click, one beat later', () => {
    expect([...gaps('weak')]).toEqual(['4/3']);
    expect(times(four, { click: 'weak', tempo: ['90'] })[0]).toBe('2/3');
  });
  it('takes tempi in any unit: dotted quarter = 60 is quarter = 90', () => {
    expect(times(four, { tempo: ['1/4.=60'] })).toEqual(times(four, { tempo: ['1/4=90'] }));
    expect(times(scoreOf('6/8'), { tempo: ['60'] })).toEqual(['0', '1']);
    expect(times(scoreOf('7/8'), { tempo: ['211'], groups: '2+2+3' })).toEqual(['0', '120/211', '240/211']);
  });
  it('falls on round(t x rate) from the exact t, whatever the tempo', () => {
    const tempo = fc.tuple(
      fc.integer({ min: 2000, max: 30_000 }),
      fc.constantFrom(8000, 44_100, 48_000, 96_000),
    );
    fc.assert(
      fc.property(tempo, ([hundredths, rate]) => {
        const { clicks } = worked(four, { tempo: [`1/4=${hundredths / 100}`] }, rate).timeline;
        clicks.forEach(({ sample }, i) => {
          // floor(i x 60 x 100 / hundredths x rate + 1/2) in whole numbers.
          const exact = (BigInt(i) * 12_000n * BigInt(rate) + BigInt(hundredths)) / (2n * BigInt(hundredths));
          expect(sample).toBe(Number(exact));
        });
      }),
    );
  });
});

describe('a drill', () => {
  it('counts one bar in halves and one in quarters before off-beat clicks in 4/4', () => {
    // Check values, "count-in before off-beat clicks, 4/4": common practice, no source.
    expect(clickText(worked(scoreOf('4/4'), { click: 'weak', countIn: 'auto' }))).toEqual([
      'one@0',
      'two@2',
      'one@4',
      'two@5',
      'three@6',
      'four@7',
      '1:2@9',
      '1:4@11',
    ]);
  });

  it('lets the count-in run into a pickup, so that players enter on the right count', () => {
    const [first, ...rest] = scoreOf('4/4:1/4 ; 4/4').bars;
    if (first === undefined) throw new Error();
    const score = scoreOf([
      { ...first, number: '0', pickup: true },
      ...rest.map((bar) => ({ ...bar, number: '1' })),
    ]);
    expect(clickText(worked(score, { countIn: 'auto' }))).toEqual([
      'one@0',
      'two@1',
      'three@2',
      '0:4@3',
      '1:1@4',
      '1:2@5',
      '1:3@6',
      '1:4@7',
    ]);
  });

  it('begins where the phrase begins, unless told otherwise', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/2. D4/4 | E4/1' });
    expect(clickText(worked(score, { bars: '2', upbeat: 'auto' }))[0]).toBe('1:4@0');
    expect(clickText(worked(score, { bars: '2', upbeat: 'none' }))[0]).toBe('2:1@0');
    expect(clickText(worked(score, { bars: '2', upbeat: '1/2' })).slice(0, 3)).toEqual([
      '1:3@0',
      '1:4@1',
      '2:1@2',
    ]);
    expect(problemsOf(score, { bars: '1', upbeat: '1/4' })[0]?.code).toBe('upbeat-unknown');
    expect(problemsOf(score, { bars: '2', upbeat: '5/4' })[0]?.code).toBe('upbeat-unknown');
  });

  it('keeps the metre whole over repetitions: downbeats are whole bars apart', () => {
    const gap = fc.constantFrom(null, 0, 1, 2);
    const countIn = fc.constantFrom('none', 'first', 'each', 'auto');
    const upbeat = fc.constantFrom('none', '1/8', '1/4', '3/8', '1/2');
    const last = fc.constantFrom('4/4', '4/4:3/4', '4/4:1/2', '4/4:7/8');
    fc.assert(
      fc.property(
        gap,
        countIn,
        upbeat,
        last,
        fc.integer({ min: 1, max: 4 }),
        (bars, counted, up, end, reps) => {
          const drill = { bars: '2-3', gap: bars, countIn: counted, upbeat: up, times: reps };
          const { timeline } = worked(scoreOf(`4/4 ; 4/4 ; ${end}`), drill);
          const downbeats = timeline.clicks.filter(({ bar, beat }) => bar === '2' && beat === '1');
          expect(downbeats.length).toBe(reps);
          const [origin] = downbeats;
          for (const { at } of downbeats) expect(F.sub(at, origin?.at ?? F.zero).d).toBe(1n);
          // Nothing is left out of the axis: bars lie end to end.
          timeline.bars.reduce((end_, bar) => {
            expect(F.equal(bar.start, end_)).toBe(true);
            return F.add(bar.start, bar.length);
          }, F.zero);
        },
      ),
    );
  });

  it('fits the next upbeat into a last bar that is silent there, without a gap', () => {
    const silent = music('4/4 ; 4/4', { P1: 'C4/2. G4/4 | C5/2. r/4' });
    const { timeline } = worked(silent, { bars: '2', upbeat: '1/4', gap: 0, times: 2 });
    expect(timeline.bars.map(({ number, length }) => `${number ?? 'gap'} ${F.format(length)}`)).toEqual([
      '1 1/4',
      '2 3/4',
      '1 1/4',
      '2 1',
    ]);
    const sounding = music('4/4 ; 4/4', { P1: 'C4/2. G4/4 | C5/1' });
    expect(
      problemsOf(sounding, { bars: '2', upbeat: '1/4', gap: 0, times: 2 }).map(({ code }) => code),
    ).toContain('gap-added');
  });

  it('plays each tempo step as often as asked, counting in each new tempo', () => {
    const { timeline } = worked(scoreOf('4/4'), { tempo: ['60', '120'], times: 2, countIn: 'auto', gap: 0 });
    const reps = timeline.clicks
      .filter(({ kind, first }) => kind === 'count-in' && first)
      .map(({ rep }) => rep);
    expect(reps).toEqual([1, 3]);
    // Bar of count and two bars of 4 s; then a bar of 2 s counted once as it lasts no less than 1.5 s, and two bars.
    expect(F.format(timeline.duration)).toBe('18');
  });

  it('scales the written tempo by a share', () => {
    const score = scoreOf('4/4 ; 4/4', [tempoMark(note(0), 0, 60), tempoMark(note(1), 1, 120)]);
    expect(F.format(worked(score, { tempo: ['50%'] }).timeline.duration)).toBe('12');
    expect(problemsOf(score, { tempo: ['60'] }).map(({ code }) => code)).toContain('tempo-levelled');
  });

  it('is tacet for so many bars after so many with the click', () => {
    const clicks = worked(scoreOf('2/4 ; 2/4 ; 2/4 ; 2/4'), { tacet: { with: 1, without: 1 } }).timeline
      .clicks;
    expect(clicks.map(({ bar }) => bar)).toEqual(['1', '1', '3', '3']);
  });

  it('stops at a fermata and counts one bar again', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/4 D4/4 E4/2! | C4/1', P2: 'C3/2 G3/2! | C3/1' });
    expect(clickText(worked(score, { countIn: 'first' })).slice(4)).toEqual([
      '1:1@4',
      '1:2@5',
      'one@8',
      'two@9',
      'three@10',
      'four@11',
      '2:1@12',
      '2:2@13',
      '2:3@14',
      '2:4@15',
    ]);
    expect(worked(score, { holds: 'through' }).timeline.clicks.length).toBe(8);
  });

  it('goes on in its place in the bar after a fermata inside it', () => {
    const score = music('4/4', { P1: 'C4/4 D4/4! E4/2' });
    expect(clickText(worked(score, { countIn: 'first' })).slice(4)).toEqual([
      '1:1@4',
      'three@6',
      'four@7',
      'one@8',
      'two@9',
      '1:3@10',
      '1:4@11',
    ]);
  });

  it('cues the last beat of a general pause and no other', () => {
    const score = music('4/4 ; 4/4 ; 4/4', { P1: 'C4/1 | r/1 | C4/1', P2: 'C4/1 | r/1 | C4/1' });
    expect(
      worked(score)
        .timeline.clicks.filter(({ bar }) => bar === '2')
        .map(({ beat }) => beat),
    ).toEqual(['4']);
  });

  it('clicks a hemiola over its bars only', () => {
    const clicks = clickText(worked(scoreOf('3/4 ; 3/4 ; 3/4 ; 3/4'), { click: 'bar,hemiola:2-3' }));
    expect(clicks).toEqual(['1:1@0', '2:1@3', '2:3@5', '3:2@7', '4:1@9']);
  });

  it('counts as the players count', () => {
    expect(clickText(worked(scoreOf('6/8'), { count: '1/8', tempo: ['120'] })).length).toBe(6);
    expect(clickText(worked(scoreOf('3/4 ; 3/4'), { count: '3/4', tempo: ['60'] }))).toEqual([
      '1:1@0',
      '2:1@1',
    ]);
  });
});

describe('the notes of a drill', () => {
  it('are merged over ties, unique, and timed from their exact place', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/2 D4/2~ | D4/4 E4/4 F4/2' });
    const { notes } = worked(score, { times: 2, gap: 0 }).timeline;
    expect(notes.map(({ time, duration }) => `${F.format(time)}+${F.format(duration)}`)).toEqual([
      '0+2',
      '2+3',
      '5+1',
      '6+2',
      '8+2',
      '10+3',
      '13+1',
      '14+2',
    ]);
    expect(new Set(notes.map(({ id }) => id)).size).toBe(notes.length);
    expect(notes.map(({ beat }) => beat).slice(0, 4)).toEqual(['1', '3', '2', '3']);
  });

  it('held into the passage sound for what lies in it', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/1~ | C4/2 D4/2' });
    const [held] = worked(score, { bars: '2' }).timeline.notes;
    expect(held && `${F.format(held.time)}+${F.format(held.duration)}`).toBe('0+2');
  });

  it('are kept by sounding length, tuplets in a class of their own', () => {
    const score = music('4/4', { P1: 'C4/4~ C4/16 D4/16 E4/8 F4/8t G4/8t A4/8t B4/4' });
    const kept = (keep: string) =>
      worked(score, { keep })
        .timeline.notes.filter((found) => found.kept)
        .map(({ midi }) => midi);
    expect(kept('all')).toEqual([60, 62, 64, 65, 67, 69, 71]);
    expect(kept('1/8+')).toEqual([60, 64, 71]);
    expect(kept('1/8')).toEqual([64]);
    expect(kept('1/8-')).toEqual([62, 64]);
    expect(kept('1/8t')).toEqual([65, 67, 69]);
    expect(kept('1/8+,1/8t')).toEqual([60, 64, 65, 67, 69, 71]);
    const codes = problemsOf(score, { keep: '1/8' }).map(({ code }) => code);
    expect(codes).toContain('tuplets-left-out');
    // Who names tuplets of one value means to leave the others out.
    expect(problemsOf(score, { keep: '1/8,1/4t' })).toEqual([]);
    expect(problemsOf(score, { keep: '1/32' }).map(({ code }) => code)).toContain('nothing-kept');
  });
});

describe('bad drills are refused with the reason', () => {
  it.each([
    [{ bars: '99' }, 'bar-unknown'],
    [{ tempo: ['0'] }, 'tempo-zero'],
    [{ tempo: ['99999'] }, 'tempo-absurd'],
    [{ tempo: ['fast'] }, 'tempo-unknown'],
    [{ tempo: ['1/4='] }, 'tempo-unknown'],
    [{ tempo: ['0%'] }, 'tempo-zero'],
    [{ tempo: ['900%'] }, 'tempo-absurd'],
    [{ click: 'often' }, 'placement-unknown'],
    [{ click: 'hemiola:1-1' }, 'placement-lacks-metre'],
    [{ click: '9' }, 'placement-lacks-metre'],
    [{ keep: 'eighths' }, 'keep-unknown'],
    [{ count: '0' }, 'count-unknown'],
    [{ count: '1/128' }, 'count-unknown'],
    [{ groups: '2+' }, 'groups-unknown'],
    [{ countIn: 'maybe' }, 'count-in-unknown'],
    [{ parts: ['P9'] }, 'part-unknown'],
    [{ octaves: { P9: 1 } }, 'part-unknown'],
    [{ times: 0 }, 'number-out-of-range'],
    [{ times: 2.5 }, 'number-out-of-range'],
    [{ gap: -1 }, 'number-out-of-range'],
    [{ tacet: { with: 0, without: 1 } }, 'number-out-of-range'],
    [{ tempo: ['5'], times: 1000 }, 'drill-too-long'],
  ])('%j: %s', (drill, code) => {
    const score = music('4/4 ; 4/4', { P1: 'C4/1 | C4/1' });
    expect(problemsOf(score, drill).map((found) => found.code)).toEqual([code]);
  });
});

describe('samples', () => {
  it('are floor(t x rate + 1/2)', () => {
    expect(samplesAt(seconds(F.fraction(1, 3)), 48_000)).toBe(16_000);
    expect(samplesAt(seconds(F.fraction(1, 2)), 3)).toBe(2);
  });
});
