/**
 * The demo's own README tells musicians where each thing stands. Here the score is held against it. Source of the expected
 * values: demo/README.md, written from the music; the bar sums are those of the printed time signatures.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { at, place, readPart, readSeams, type Part } from './facts.ts';

const read = (name: string): string => readFileSync(new URL(`../../demo/${name}`, import.meta.url), 'utf8');
const score = read('lanterns-on-the-towpath.musicxml');
const readme = read('README.md');
const flute = readPart(score, 'P1');
const clarinet = readPart(score, 'P2');
const players = [flute, clarinet];

const onsets = (part: Part, from: number, to: number) =>
  part.notes.filter((note) => note.at >= from && note.at < to);
const beatsOf = (part: Part, bar: number): string[] =>
  onsets(part, at(part, bar, 1), at(part, bar + 1, 1)).map((note) => place(part, note.at).beat);
const barXml = (part: Part, bar: number): string => part.bars.find((one) => one.number === bar)?.xml ?? '';

/** Rows of the table under a heading, as the README prints them, without head and rule. */
const table = (heading: string): string[] => {
  const section = readme.split(`### ${heading}\n`)[1]?.split('\n#')[0] ?? '';
  return section
    .split('\n')
    .filter((row) => /^\|\s*\d/.test(row))
    .map((row) => row.replace(/\s+/g, ' ').trim());
};

describe('the demo piece', () => {
  it('has whole bars, but for the upbeat and the last bar, which together make one', () => {
    for (const part of players) {
      expect(part.bars.map((bar) => bar.number)).toEqual(Array.from({ length: 61 }, (_, index) => index));
      for (const bar of part.bars.slice(1, -1))
        expect([bar.number, bar.length]).toEqual([bar.number, bar.full]);
      expect([part.bars[0]?.length, part.bars[60]?.length]).toEqual([12, 36]);
      expect(part.bars.filter((bar) => bar.quartersInBar === 3).map((bar) => bar.number)).toEqual(
        Array.from({ length: 18 }, (_, index) => 26 + index),
      );
    }
  });

  it('keeps to the ranges that the README gives: flute B4 to E6, clarinet D3 to D5 as it sounds', () => {
    const range = (part: Part) => part.notes.map((note) => note.midi).sort((a, b) => a - b);
    expect([range(flute).at(0), range(flute).at(-1)]).toEqual([71, 88]);
    expect([range(clarinet).at(0), range(clarinet).at(-1)]).toEqual([50, 74]);
  });

  it.each([
    ['Eighths', 10, 17, 6],
    ['Sixteenths', 52, 56, 3],
  ] as const)('divides its %s without a gap, at the seams that the README lists', (name, from, to, step) => {
    const [start, end] = [at(flute, from, 1), at(flute, to, 1)];
    const { rows, alone } = readSeams(flute, clarinet, start, end, step);
    expect(rows).toEqual(table(name));
    expect(rows.length).toBeGreaterThan(10);
    expect(alone.gaps).toBe(0);
    // Neither carries it: each alone has between a third and a half of all its notes.
    const all = (end - start) / step + 1;
    for (const count of [alone.flute, alone.clarinet]) {
      expect(count / all).toBeGreaterThan(1 / 3);
      expect(count / all).toBeLessThan(1 / 2);
    }
    for (const part of players)
      for (const note of onsets(part, start, end)) expect((note.at - start) % step).toBe(0);
  });

  it('accompanies on after-beats and on weak beats where the README says', () => {
    const after = ['1+1/2', '2+1/2', '3+1/2', '4+1/2'];
    for (const bar of [1, 2, 3]) expect(beatsOf(clarinet, bar)).toEqual(after);
    expect(beatsOf(flute, 44)).toEqual(['1', '2+1/2', '3+1/2', '4+1/2']);
    for (const bar of [45, 46]) expect(beatsOf(flute, bar)).toEqual(after);
    for (const bar of [5, 6]) expect(beatsOf(clarinet, bar)).toEqual(['2', '4']);
    for (const bar of [48, 49]) expect(beatsOf(flute, bar)).toEqual(['2', '4']);
    for (let bar = 26; bar <= 33; bar += 1) expect(beatsOf(flute, bar)).toEqual(['2', '3']);
  });

  it('imitates one bar later and an octave lower, from the upbeat to bar 21 beat 4', () => {
    const lead = onsets(flute, at(flute, 17, 4), at(flute, 20, 4.5));
    const follow = onsets(clarinet, at(clarinet, 18, 4), at(clarinet, 21, 4.5));
    expect(lead.length).toBeGreaterThan(15);
    expect(follow).toEqual(lead.map((note) => ({ ...note, at: note.at + 48, midi: note.midi - 12 })));
  });

  it('lets short notes follow its syncopations', () => {
    const syncopated = ['1', '1+1/2', '2+1/2', '3+1/2', '4+1/2'];
    const sixteenths = (beat: number) => ['', '+1/4', '+1/2', '+3/4'].map((part) => `${beat}${part}`);
    for (const [part, bar] of [
      [flute, 19],
      [clarinet, 20],
    ] as const) {
      expect(beatsOf(part, bar)).toEqual(syncopated);
      expect(beatsOf(part, bar + 1).slice(0, 4)).toEqual(sixteenths(1));
    }
    for (const bar of [22, 23, 24])
      expect(beatsOf(flute, bar)).toEqual(['1', '1+1/2', '2+1/2', ...sixteenths(4)]);
  });

  it('exchanges triplets, broadens into a hemiola, falls silent and enters together', () => {
    for (const [part, bar] of [
      [flute, 34],
      [clarinet, 35],
      [flute, 36],
      [clarinet, 37],
    ] as const) {
      expect(beatsOf(part, bar)).toEqual(['1', '1+1/3', '1+2/3', '2', '2+1/3', '2+2/3', '3']);
    }
    for (const part of players) {
      const accents = [...(barXml(part, 40) + barXml(part, 41)).matchAll(/<accent\/>/g)];
      expect(accents).toHaveLength(3);
      const strong = [at(part, 40, 1), at(part, 40, 3), at(part, 41, 2)];
      const heard = onsets(part, at(part, 40, 1), at(part, 42, 1)).map((note) => note.at);
      expect(heard.slice(0, 3)).toEqual(strong);
      expect(onsets(part, at(part, 43, 1), at(part, 44, 1))).toEqual([]);
      expect(part.bars.filter((bar) => bar.xml.includes('<fermata')).map((bar) => bar.number)).toEqual([43]);
      expect(beatsOf(part, 44)[0]).toBe('1');
    }
  });

  it('has its repeat, endings, marks and tempi where the README says', () => {
    for (const part of players) {
      expect(barXml(part, 1)).toContain('<repeat direction="forward"/>');
      expect(barXml(part, 8)).toMatch(/<ending number="1" type="start"[^]*<repeat direction="backward"\/>/);
      expect(barXml(part, 9)).toContain('<ending number="2" type="start"');
    }
    const marks = flute.bars.flatMap((bar) => {
      const mark = /<rehearsal>(.)</.exec(bar.xml)?.[1];
      return mark === undefined ? [] : [`${mark}${bar.number}`];
    });
    expect(marks).toEqual(['A10', 'B18', 'C26', 'D44', 'E52']);
    const tempi = flute.bars.flatMap((bar) => {
      const tempo = /<per-minute>(\d+)</.exec(bar.xml)?.[1];
      return tempo === undefined ? [] : [`${bar.number}: ${tempo}`];
    });
    expect(tempi).toEqual(['0: 92', '26: 120', '44: 92']);
    expect(barXml(flute, 57)).toContain('>rit.<');
    expect(barXml(clarinet, 0)).toContain('<chromatic>-2</chromatic>');
  });
});
