/** "levare hear --with click" and "--with free" on one recording of two players of known truth: the second comes 30 ms after the first. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readingSchema, type Reading } from '../../src/desk/index.ts';
import { knownTake } from '../support/knownTake.ts';
import { levare } from './run.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-hear-with-'));
const drill = path.join(place, 'drill');
const all = path.join(place, 'all.wav');
const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');
const late = 30;

const heardWith = async (playing: 'click' | 'free'): Promise<Reading> => {
  const { code, out, err } = await levare(['hear', all, '--drill', drill, '--with', playing, '--json']);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return readingSchema.parse(JSON.parse(out));
};

let click: Reading;
let free: Reading;
beforeAll(async () => {
  const asked = ['--bars', '20-22', '--tempo', '108', '--click', 'bar', '--words', 'none', '--paper', 'none'];
  expect((await levare(['drill', demo, ...asked, '--out', drill])).code).toBe(0);
  writeFileSync(
    all,
    knownTake(
      {
        bars: '20-22',
        keep: 'all',
        click: 'bar',
        tempo: '108',
        times: '1',
        'count-in': 'auto',
        tacet: 'none',
        upbeat: 'auto',
        count: 'auto',
      },
      { P2: late },
    ).all,
  );
  click = await heardWith('click');
  free = await heardWith('free');
}, 120_000);
afterAll(() => rmSync(place, { recursive: true, force: true }));

describe('one recording of two players', () => {
  it('is read with the click: how far they are apart, and where each bar line lies against it', () => {
    expect(click.playing).toBe('click');
    expect(click.clock.map(({ by }) => by)).toEqual(['clicks', 'clicks']);
    const [pair] = click.pairs;
    expect(pair?.mean?.low).toBeLessThan(-late);
    expect(pair?.mean?.high).toBeGreaterThan(-late);
    expect(Math.abs((pair?.mean?.value ?? 0) + late)).toBeLessThan(12);
    const told = click.barLines.flatMap(({ part, lateAtClick }) =>
      part === 'P2' && lateAtClick !== null ? [lateAtClick] : [],
    );
    expect(told.length).toBeGreaterThan(0);
    for (const { low, high } of told) {
      expect(low).toBeLessThan(late);
      expect(high).toBeGreaterThan(late);
    }
  });

  it('is read as free playing: the same notes, and nothing held against click or tempo', () => {
    expect(free.playing).toBe('free');
    expect(free.barLines.every(({ lateAtClick }) => lateAtClick === null)).toBe(true);
    const held = ({ findings }: Reading): boolean =>
      findings.some(({ kind }) => /^(bar-line|drift|bar-tempo|after-syncopation)$/.test(kind));
    expect([held(click), held(free)]).toEqual([true, false]);
    expect(free.notes.map(({ id }) => id)).toEqual(click.notes.map(({ id }) => id));
    // How far two are apart does not hang on whether they held to the click.
    expect(Math.abs((free.pairs[0]?.mean?.value ?? 0) + late)).toBeLessThan(12);
    const asClick = new Map(click.notes.map((note) => [note.id, note]));
    const apart = free.notes.flatMap(({ id, perceived, state }) => {
      const other = asClick.get(id);
      return state === 'heard' && other?.state === 'heard'
        ? [Math.abs((perceived ?? 0) - (other.perceived ?? 0))]
        : [];
    });
    expect(apart.length).toBeGreaterThan(0.5 * free.notes.length);
    expect(Math.max(...apart)).toBeLessThan(0.002);
  });
});
