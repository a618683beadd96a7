/** `levare find` as typed: what it prints, and what it answers where there is little to find. */
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { findSchema } from '../../src/desk/index.ts';
import { levare } from './run.ts';

const demo = path.resolve(import.meta.dirname, '..', '..', 'demo', 'lanterns-on-the-towpath.musicxml');

describe('levare find', () => {
  it('prints a list in words, the divided lines of the demo first', async () => {
    const { code, out, err } = await levare(['find', demo]);
    expect([code, err]).toEqual([0, '']);
    const [, first = '', why = ''] = out.split('\n');
    expect(first).toBe(' 1. bars 10-17, beat 1 to 1: shared line in eighths, P1 P2');
    expect(why).toContain('One line of eighths, divided between Flute and Clarinet');
    for (const line of out.split('\n')) expect(line).not.toMatch(/undefined|null|NaN/);
  });

  it('says how far apart entries are, and tempo marks, as players say it', async () => {
    const { out } = await levare(['find', demo]);
    const told = out.replace(/\n +/g, ' ');
    // The demo's own bars: bar 17, 4/4, one bar to the entry; bars 34 to 37, 3/4; bar 26 quarter = 120.
    expect(told).toContain('Canon: Flute is followed by Clarinet in B♭ an octave lower, a bar later');
    expect(told).toMatch(
      /Imitation: Flute is followed by Clarinet in B♭ a fifth and an octave lower, a bar later/,
    );
    expect(told).toContain('(quarter = 120, A little faster)');
    expect(told).not.toContain('whole note');
  });

  it('prints JSON of its schema, and a table of as many places', async () => {
    const json = await levare(['find', demo, '--json', '--kind', 'shared-line,hemiola']);
    const { places } = findSchema.parse(JSON.parse(json.out));
    expect(new Set(places.map(({ kind }) => kind))).toEqual(new Set(['shared-line', 'hemiola']));
    const csv = await levare(['find', demo, '--csv', '--kind', 'shared-line', '--kind', 'hemiola']);
    expect(csv.out.trimEnd().split('\r\n').length).toBe(places.length + 1);
  });

  it.each<[string, string[], string]>([
    ['no score', [], 'Name a score'],
    ['two scores', [demo, demo], 'One score at a time'],
    ['json and csv', [demo, '--json', '--csv'], 'either --json or --csv'],
    ['a kind that there is not', [demo, '--kind', 'fugue'], 'no kind of place "fugue"'],
    ['bars that there are not', [demo, '--bars', '900'], 'no bar or rehearsal mark "900"'],
  ])('refuses %s in words', async (_, args, words) => {
    const { code, out, err } = await levare(['find', ...args]);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(words);
  });

  it('says of a bar plan that it has no parts', async () => {
    const { code, out } = await levare(['find', '-'], '1-8 4/4; 9-16 3/4; tempo 1/4=92');
    expect(code).toBe(0);
    expect(out).toContain('bars but no parts');
    expect(out).toContain('metre change');
  });
});
