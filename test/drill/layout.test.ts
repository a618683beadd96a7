/**
 * Count-ins, repetitions and the silence between them. Source of every check, unless said beside it: our definition
 * (docs/drill.md, "The count-in" and "Repetitions"); times by hand, quarters of one second.
 */
import { describe, expect, it } from 'vitest';
import { note } from '../../src/units/index.ts';
import {
  barText,
  clickText,
  codesOf,
  numbered,
  pickups,
  place,
  tempoMark,
  worked,
} from '../support/drills.ts';
import { music } from '../support/music.ts';
import { bars, scoreOf } from '../support/scores.ts';

const four = scoreOf('4/4');

/** Repetitions that are counted in. */
const countedReps = (score: Parameters<typeof worked>[0], drill: Parameters<typeof worked>[1]): number[] => [
  ...new Set(
    worked(score, drill)
      .timeline.clicks.filter(({ kind }) => kind === 'count-in')
      .map(({ rep }) => rep),
  ),
];

describe('between repetitions', () => {
  it('lies one silent bar, or as many as asked', () => {
    expect(barText(worked(four, { times: 2 }))).toEqual(['1:1', 'gap:1', '1:1']);
    expect(barText(worked(four, { times: 2, gap: 0 }))).toEqual(['1:1', '1:1']);
    expect(barText(worked(four, { times: 2, gap: 2 }))).toEqual(['1:1', 'gap:1', 'gap:1', '1:1']);
  });

  it('lies what the last bar lacks, too', () => {
    const short = scoreOf('4/4 ; 4/4:3/4');
    expect(barText(worked(short, { times: 2, gap: 0 }))).toEqual(['1:1', '2:3/4', 'gap:1/4', '1:1', '2:3/4']);
    expect(barText(worked(short, { times: 2 })).slice(1, 3)).toEqual(['2:3/4', 'gap:5/4']);
    expect(barText(worked(short, { times: 2, gap: 2 })).slice(1, 4)).toEqual(['2:3/4', 'gap:1', 'gap:5/4']);
  });

  it('lies less by the upbeat that falls into it', () => {
    const drill = { bars: '2', upbeat: '1/4', times: 2 };
    expect(barText(worked(scoreOf('4/4 ; 4/4'), drill))).toEqual(['1:1/4', '2:1', 'gap:3/4', '1:1/4', '2:1']);
  });

  it('lies no silence where each is counted in, unless it is asked for', () => {
    const each = { times: 2, countIn: 'each:1' };
    expect(barText(worked(four, each))).toEqual(['count-in:1', '1:1', 'count-in:1', '1:1']);
    const breath = ['count-in:1', '1:1', 'gap:1', 'count-in:1', '1:1'];
    expect(barText(worked(four, { ...each, gap: 1 }))).toEqual(breath);
    const short = ['count-in:1', '1:3/4', 'gap:1/4', 'count-in:1', '1:3/4'];
    expect(barText(worked(scoreOf(pickups(bars('4/4:3/4'))), each))).toEqual(short);
  });

  it('the silence is felt in the coming tempo where nothing is counted', () => {
    const clicks = clickText(worked(four, { tempo: ['60', '120'], click: 'bar' }));
    // Four seconds of music, a silent bar at the new tempo: two seconds.
    expect(clicks).toEqual(['1:1@0', '1:1@6']);
  });

  it('the silence keeps the tempo that was, where the new one is counted in', () => {
    const clicks = clickText(worked(four, { tempo: ['60', '120'], click: 'bar', countIn: 'auto:1', gap: 1 }));
    // Count 0-4, music 4-8, silence 8-12 at the old tempo, count 12-14 at the new one.
    expect(clicks.slice(4)).toEqual(['1:1@4', 'one@12', 'two@25/2', 'three@13', 'four@27/2', '1:1@14']);
  });
});

describe('what is counted in', () => {
  const twice = { times: 2, tempo: ['60', '120'] };
  it.each([
    ['none', []],
    ['first', [1]],
    ['each', [1, 2, 3, 4]],
    ['auto', [1, 3]],
  ])('%s', (countIn, reps) => {
    expect(countedReps(four, { ...twice, countIn })).toEqual(reps);
  });

  it('is, by itself, a repetition that begins in another tempo than the last one ended', () => {
    const two = scoreOf('4/4 ; 4/4', [tempoMark(note(0), 0, 60), tempoMark(note(1), 1, 120)]);
    const written = { times: 2, tempo: [] };
    expect(countedReps(two, { ...written, countIn: 'auto' })).toEqual([1, 2]);
    expect(countedReps(two, { ...written, countIn: 'first' })).toEqual([1]);
    expect(countedReps(two, { ...written, bars: '2', countIn: 'auto' })).toEqual([1]);
    // A tempo that is given holds throughout.
    expect(countedReps(two, { times: 2, tempo: ['60'], countIn: 'auto' })).toEqual([1]);
  });
});

describe('a long upbeat', () => {
  it('of a whole note before 2/4 leaves a bar of counting', () => {
    const drill = { bars: '2', upbeat: '1', countIn: 'auto' };
    const made = worked(scoreOf('4/4 ; 2/4'), drill);
    expect(barText(made)).toEqual(['count-in:1/2', '1:1', '2:1/2']);
    expect(clickText(made).slice(0, 3)).toEqual(['one@0', 'two@1', '1:1@2']);
  });

  it('of three quarters before an off-beat click is counted into', () => {
    const drill = { bars: '2', upbeat: '3/4', countIn: 'auto', click: 'weak' };
    const clicks = clickText(worked(scoreOf('4/4 ; 4/4'), drill));
    expect(clicks.slice(0, 5)).toEqual(['one@0', 'two@2', 'one@4', '1:2@5', '1:4@7']);
  });

  it('leaves of the bars that the player asks for what it leaves, and nothing is told', () => {
    const score = scoreOf('4/4 ; 4/4');
    const clicks = clickText(worked(score, { bars: '2', upbeat: '3/4', countIn: '1' }));
    expect(clicks.slice(0, 2)).toEqual(['one@0', '1:2@1']);
    expect(codesOf(score, { bars: '2', upbeat: '1', countIn: '1' })).toEqual(['count-in-missing']);
    expect(codesOf(score, { bars: '2', upbeat: '3/4', countIn: '1' })).toEqual([]);
  });
});

describe('a passage', () => {
  it('of a single pickup bar is counted into', () => {
    const score = scoreOf(numbered(bars('4/4:1/4 ; 4/4'), ['0', '1']));
    expect(clickText(worked(score, { bars: '0', countIn: 'auto' }))).toEqual([
      'one@0',
      'two@1',
      'three@2',
      '0:4@3',
    ]);
    // Its only beat has no click: a bar in halves first.
    const silent = worked(score, { bars: '0', countIn: 'auto', click: 'bar' });
    expect(clickText(silent)).toEqual(['one@0', 'two@2', 'one@4', 'two@5', 'three@6']);
    expect(barText(worked(score, { bars: '0', times: 2 }))).toEqual(['0:1/4', 'gap:3/4', '0:1/4']);
  });

  it('counts a pickup that is repeated with the bar before it', () => {
    const row = numbered(pickups(bars('|: 4/4:1/4 ; 4/4 ; 4/4:3/4 :|'), 0), ['0', '1', '2']);
    const clicks = (click: string) => clickText(worked(scoreOf(row), { click }));
    expect(clicks('2bars')).toEqual(['1:1@1', '1:1@9']);
    expect(clicks('bar')).toEqual(['1:1@1', '2:1@5', '1:1@9', '2:1@13']);
    expect(clicks('every').slice(5, 10)).toEqual(['2:1@5', '2:2@6', '2:3@7', '0:4@8', '1:1@9']);
  });

  it('counts the halves of a split bar as one, in every second bar and in bars without click', () => {
    const row = numbered(pickups(bars('4/4 ; 4/4:1/2 ; 4/4:1/2 ; 4/4'), 2), ['1', '2', '2', '3']);
    const clicks = (drill: Parameters<typeof worked>[1]) => clickText(worked(scoreOf(row), drill));
    expect(clicks({ click: '2bars' })).toEqual(['1:1@0', '3:1@8']);
    expect(clicks({ click: 'half', tacet: { with: 1, without: 1 } })).toEqual([
      '1:1@0',
      '1:3@2',
      '3:1@8',
      '3:3@10',
    ]);
    expect(clicks({ bars: '2' })).toEqual(['2:1@0', '2:2@1', '2:3@2', '2:4@3']);
  });

  it('is tacet from its first full bar on; its upbeat has the click', () => {
    const drill = { bars: '2-3', upbeat: '1/4', tacet: { with: 1, without: 1 }, click: 'every', times: 2 };
    const clicks = worked(scoreOf('4/4 ; 4/4 ; 4/4'), drill).timeline.clicks;
    expect(clicks.map(({ bar, rep }) => `${bar ?? ''}.${rep}`)).toEqual(
      [1, 2].flatMap((rep) => ['1', '2', '2', '2', '2'].map((bar) => `${bar}.${rep}`)),
    );
  });
});

describe('music without metre', () => {
  const cadenza = scoreOf('free:2/1 ; 4/4 ; 4/4');

  it('has no click, and that is told', () => {
    expect(clickText(worked(cadenza, { bars: '1-2' }))).toEqual(['2:1@8', '2:2@9', '2:3@10', '2:4@11']);
    expect(codesOf(cadenza, { bars: '1-2' })).toEqual(['click-silent']);
    expect(codesOf(cadenza, { bars: '2-3' })).toEqual([]);
    expect(codesOf(cadenza, { bars: '1-2', click: 'none' })).toEqual([]);
  });

  it('is counted in by the next bar that has a metre', () => {
    const clicks = clickText(worked(scoreOf('free:2/1 ; 3/4'), { countIn: 'first:1' }));
    // And once more before that bar: "there it stops and cues again" (design section 7).
    const again = ['one@11', 'two@12', 'three@13'];
    expect(clicks).toEqual(['one@0', 'two@1', 'three@2', ...again, '2:1@14', '2:2@15', '2:3@16']);
  });

  it('throughout is not counted in, and that is told', () => {
    expect(codesOf(scoreOf('free:2/1'), { countIn: 'auto' })).toEqual(['click-silent', 'count-in-missing']);
    expect(clickText(worked(scoreOf('free:2/1'), { countIn: 'each' }))).toEqual([]);
    // A breath of a whole note lies between its repetitions.
    expect(barText(worked(scoreOf('free:2/1'), { times: 2, countIn: 'each' }))).toEqual([
      '1:2',
      'gap:1',
      '1:2',
    ]);
  });
});

describe('the last bar of a repetition', () => {
  const notes = 'C4/2. G4/4 | C5/2. r/4';
  it('is cut for the next upbeat where nothing kept sounds in it any more', () => {
    const drill = { bars: '2', upbeat: '1/4', gap: 0, times: 2 };
    const cut = ['1:1/4', '2:3/4', '1:1/4', '2:1'];
    expect(barText(worked(music('4/4 ; 4/4', { P1: notes }), drill))).toEqual(cut);
    // Its click falls silent with it: upbeat and three beats, then upbeat and four.
    expect(clickText(worked(music('4/4 ; 4/4', { P1: notes }), drill)).length).toBe(9);
    // What the filter leaves out does not hold it open.
    const held = music('4/4 ; 4/4', { P1: 'C4/2. G4/4 | C5/2. D5/8 E5/8' });
    expect(barText(worked(held, { ...drill, keep: '1/4+' }))).toEqual(cut);
    expect(codesOf(held, { ...drill, keep: '1/4+' })).toEqual([]);
    expect(codesOf(held, drill)).toEqual(['gap-added']);
    expect(barText(worked(held, drill))).toEqual(['1:1/4', '2:1', 'gap:3/4', '1:1/4', '2:1']);
  });
});

describe('a drill that is too long', () => {
  // One bar at five quarters a minute lasts 48 s; 12 hours are 900 of them.
  it('is refused beyond twelve hours', () => {
    expect(codesOf(four, { tempo: ['5'], times: 900, gap: 0 })).toEqual([]);
    expect(codesOf(four, { tempo: ['5'], times: 901, gap: 0 })).toEqual(['drill-too-long']);
  });
  it('is refused before it is laid out: a million repetitions would not fit', () => {
    const steps = Array.from({ length: 1000 }, () => '5');
    expect(codesOf(four, { tempo: steps, times: 1000 })).toEqual(['drill-too-long']);
  });
});

describe('steps of tempo', () => {
  it('are shares of what is written, changes and all', () => {
    const two = scoreOf('4/4 ; 4/4', [tempoMark(note(0), 0, 60), tempoMark(place('3/2'), 1, 120)]);
    const clicks = clickText(worked(two, { tempo: ['50%', '200%'], gap: 0, click: 'half' }));
    // At half the tempo 8 s, 4 s, then 2 s for half a bar at 120 written; at double 2 s, 1 s, 1/2 s.
    expect(clicks).toEqual(['1:1@0', '1:3@4', '2:1@8', '2:3@12', '1:1@14', '1:3@15', '2:1@16', '2:3@17']);
  });
});
