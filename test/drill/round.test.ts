/**
 * Fermatas, general pauses, gradual changes: where the click stops and is counted again. Source of every check, unless said
 * beside it: our definition (docs/drill.md, "The click"); times by hand, quarters of one second.
 */
import { describe, expect, it } from 'vitest';
import type { Drill } from '../../src/drill/model.ts';
import type { Score } from '../../src/score/model.ts';
import { F, note } from '../../src/units/index.ts';
import {
  barText,
  clickText,
  codesOf,
  place,
  problemsOf,
  tempoMark,
  tempoWords,
  worked,
} from '../support/drills.ts';
import { music } from '../support/music.ts';
import { pickups } from '../support/drills.ts';
import { bars } from '../support/scores.ts';

/** Clicks without those of the count-in of one bar of 4/4 before the first repetition. */
const afterCount = (score: Score, drill: Partial<Drill> = {}): string[] =>
  clickText(worked(score, { countIn: 'first:1', ...drill })).slice(4);

const messages = (score: Score, drill: Partial<Drill> = {}): string[] =>
  problemsOf(score, drill).map(({ code, bar, message }) => `${code} ${bar ?? '-'}: ${message}`);

describe('a fermata', () => {
  it('counts a bar again in the tempo in which the music goes on', () => {
    const marks = [tempoMark(note(0), 0, 60), tempoMark(note(1), 1, 120)];
    const score = music('4/4 ; 4/4', { P1: 'C4/2 D4/2! | E4/1' }, marks);
    expect(afterCount(score, { tempo: [], click: 'half' })).toEqual([
      '1:1@4',
      'one@8',
      'two@17/2',
      'three@9',
      'four@19/2',
      '2:1@10',
      '2:3@11',
    ]);
    // The share goes for the count, too.
    expect(afterCount(score, { tempo: ['50%'], click: 'bar' })).toEqual([
      '1:1@8',
      'one@16',
      'two@17',
      'three@18',
      'four@19',
      '2:1@20',
    ]);
  });

  it('counts a bar again in the metre in which the music goes on', () => {
    const score = music('4/4 ; 3/4', { P1: 'C4/2 D4/2! | E4/2.' });
    expect(barText(worked(score, { countIn: 'first:1' }))).toEqual([
      'count-in:1',
      '1:1',
      'hold:3/4',
      '2:3/4',
    ]);
  });

  it('holds from where the last of several that overlap begins', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/4 D4/4 E4/2! | C4/1', P2: 'C3/2. G3/4! | C3/1' });
    expect(afterCount(score, { click: 'every' }).slice(0, 4)).toEqual(['1:1@4', '1:2@5', '1:3@6', 'one@8']);
    // One fermata, one count again.
    expect(barText(worked(score, { countIn: 'first:1' }))).toEqual(['count-in:1', '1:1', 'hold:1', '2:1']);
    // Those that end at different times hold until the last of them does.
    const uneven = music('4/4 ; 4/4', { P1: 'C4/2. r/4 | C4/1', P2: 'C3/4 D3/4! E3/2 | C3/1' });
    const longer = music('4/4 ; 4/4', { P1: 'C4/4 D4/2! r/4 | C4/1', P2: 'C3/4 D3/4! E3/2 | C3/1' });
    expect(barText(worked(uneven, { countIn: 'first:1' })).slice(1, 4)).toEqual(['1:1/2', 'hold:1', '1:1/2']);
    expect(barText(worked(longer, { countIn: 'first:1' })).slice(1, 4)).toEqual(['1:3/4', 'hold:1', '1:1/4']);
  });

  it('that follow each other are two', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/2! D4/2! | E4/1' });
    expect(barText(worked(score, { countIn: 'first:1' })).slice(1)).toEqual([
      '1:1/2',
      'hold:1',
      '1:1/2',
      'hold:1',
      '2:1',
    ]);
  });

  it('in the upbeat is counted again before the passage; the count-in runs into the upbeat', () => {
    const score = music('4/4 ; 4/4', { P1: 'r/2 C4/4 D4/4! | E4/1' });
    expect(clickText(worked(score, { bars: '2', upbeat: 'auto', countIn: 'auto' }))).toEqual([
      'one@0',
      'two@1',
      '1:3@2',
      'one@4',
      'two@5',
      'three@6',
      'four@7',
      '2:1@8',
      '2:2@9',
      '2:3@10',
      '2:4@11',
    ]);
    // What ends before the upbeat is no part of it.
    const early = music('4/4 ; 4/4', { P1: 'r/2 C4/4! D4/4 | E4/1' });
    expect(barText(worked(early, { bars: '2', upbeat: '1/4', countIn: 'first:2' }))).toEqual([
      'count-in:1',
      'count-in:3/4',
      '1:1/4',
      '2:1',
    ]);
  });

  it('at the end of the passage, or before music without metre, is not counted again', () => {
    const last = music('4/4 ; 4/4', { P1: 'C4/1! | D4/1' });
    expect(barText(worked(last, { bars: '1', countIn: 'first:1' }))).toEqual(['count-in:1', '1:1']);
    const free = music('4/4 ; free:1/1', { P1: 'C4/1! | D4/1' });
    expect(barText(worked(free, { countIn: 'first:1' }))).toEqual(['count-in:1', '1:1', '2:1']);
  });

  it('is not counted again where nothing is counted or clicked, or the click goes through', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/2 D4/2! | E4/1' });
    const plain = ['1:1', '2:1'];
    expect(barText(worked(score, { countIn: 'none' }))).toEqual(plain);
    expect(barText(worked(score, { countIn: 'first:1', click: 'none' })).slice(1)).toEqual(plain);
    expect(barText(worked(score, { countIn: 'first:1', holds: 'through' })).slice(1)).toEqual(plain);
    expect(clickText(worked(score, { countIn: 'none' })).slice(2)).toEqual([
      '2:1@4',
      '2:2@5',
      '2:3@6',
      '2:4@7',
    ]);
  });

  it('over a rest holds too, and over grace notes not', () => {
    const rest = music('4/4 ; 4/4', { P1: 'C4/2 r/2! | E4/1' });
    expect(afterCount(rest).slice(0, 3)).toEqual(['1:1@4', '1:2@5', 'one@8']);
    const grace = music('4/4 ; 4/4', { P1: 'C4/2 B3/16g! D4/2 | E4/1' });
    expect(barText(worked(grace, { countIn: 'first:1' })).slice(1)).toEqual(['1:1', '2:1']);
  });

  it('is told with its bar', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/2 D4/2! | E4/1' });
    expect(messages(score)).toEqual(['click-silent 1: The click stops at the fermata in bar 1.']);
    expect(codesOf(score, { holds: 'through' })).toEqual([]);
    // Where no click would have fallen, nothing is silenced.
    expect(codesOf(score, { click: 'bar' })).toEqual([]);
  });

  it('of a part that is not played does not hold', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/1 | D4/1', P2: 'C3/2 D3/2! | E3/1' });
    expect(worked(score, { parts: ['P1'] }).timeline.clicks.length).toBe(8);
    expect(worked(score).timeline.clicks.length).toBe(6);
  });

  it('lets notes that are held through it last through the count', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/2 D4/2! | E4/1', P2: 'C3/2 D3/2~ | D3/1' });
    const notes = worked(score, { countIn: 'first:1' }).timeline.notes.filter(({ part }) => part === 'P2');
    // D3 from second 6: half a bar, the bar counted again, and bar 2.
    expect(notes.map(({ time, duration }) => `${F.format(time)}+${F.format(duration)}`)).toEqual([
      '4+2',
      '6+10',
    ]);
  });
});

describe('a general pause', () => {
  const score = music('4/4 ; 4/4 ; 4/4', { P1: 'C4/1 | r/1 | C4/1', P2: 'C4/1 | r/1 | C4/1' });
  it('is told with its bar', () => {
    expect(messages(score)).toEqual([
      'click-silent 2: Everyone rests in bar 2: the click is silent but for its last beat.',
    ]);
    expect(codesOf(score, { bars: '1' })).toEqual([]);
  });
  it('keeps what is clicked on or after its last beat', () => {
    const clicks = (click: string) =>
      worked(score, { click })
        .timeline.clicks.filter(({ bar }) => bar === '2')
        .map(({ beat }) => beat);
    expect(clicks('1/8')).toEqual(['4', '4+1/2']);
    expect(clicks('half')).toEqual([]);
    expect(clicks('weak')).toEqual(['4']);
  });
  it('is none where a note is held into the bar, whoever else rests', () => {
    const held = music('4/4 ; 4/4', { P1: 'C4/1~ | C4/4 r/2.', P2: 'C4/1 | r/1' });
    expect(worked(held).timeline.clicks.length).toBe(8);
    expect(codesOf(held)).toEqual([]);
  });
  it('is none in a score of one part: its rests are filled by others', () => {
    const alone = music('4/4 ; 4/4 ; 4/4', { P1: 'C4/1 | r/1 | C4/1' });
    expect(worked(alone).timeline.clicks.length).toBe(12);
    expect(codesOf(alone)).toEqual([]);
  });
  it('is one of the whole score, whichever parts are played', () => {
    const solo = music('4/4 ; 4/4', { P1: 'C4/1 | r/1', P2: 'C4/1 | C4/1' });
    expect(worked(solo, { parts: ['P1'] }).timeline.clicks.length).toBe(8);
  });
});

describe('a tempo that gives way', () => {
  it('silences the click from its words on until the tempo is back, and is told', () => {
    const marks = [tempoWords(place('3/2'), 1, 'rit.'), tempoWords(note(2), 2, 'a tempo')];
    const score = music('4/4 ; 4/4 ; 4/4', { P1: 'C4/1 | C4/1 | C4/1' }, marks);
    const clicks = clickText(worked(score));
    expect(clicks.slice(4)).toEqual(['2:1@4', '2:2@5', '3:1@8', '3:2@9', '3:3@10', '3:4@11']);
    expect(messages(score)).toContain(
      'click-silent 2: From "rit." in bar 2 the click is silent while the tempo gives way.',
    );
    expect(codesOf(score, { bars: '1' })).toEqual([]);
  });
});

describe('bars without the click', () => {
  it('are counted from the first full bar, again in each repetition', () => {
    const row = pickups(bars('4/4:1/4 ; 2/4 ; 2/4 ; 2/4'), 0);
    const clicks = worked(
      { ...music(row, {}), parts: [] },
      { tacet: { with: 2, without: 1 }, click: 'bar', times: 2, gap: 0 },
    ).timeline.clicks;
    expect(clicks.map(({ bar, rep }) => `${bar ?? ''}.${rep}`)).toEqual(['2.1', '3.1', '2.2', '3.2']);
  });
});
