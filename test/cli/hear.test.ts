/** "levare hear" on a drill made by "levare drill" and on recordings that the drill's own sound stands in for. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readingSchema } from '../../src/desk/index.ts';
import { levare } from './run.ts';

const place = mkdtempSync(path.join(tmpdir(), 'levare-hear-'));
const drill = path.join(place, 'drill');
const solo = path.join(place, 'solo');
const full = (folder: string): string => path.join(folder, 'full.wav');
const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');

beforeAll(async () => {
  const plain = ['--bars', '1-8', '--words', 'none', '--paper', 'none'];
  expect((await levare(['drill', demo, ...plain, '--out', drill])).code).toBe(0);
  // Only the first part sounds: what that player's microphone would hear, with the click.
  expect((await levare(['drill', demo, ...plain, '--without', 'P2', '--out', solo])).code).toBe(0);
}, 60_000);
afterAll(() => rmSync(place, { recursive: true, force: true }));

describe('levare hear', () => {
  it('prints a reading that its schema knows, with the notes of timeline.json where they stand', async () => {
    const { code, out, err } = await levare(['hear', `P1=${full(solo)}`, '--drill', drill, '--json']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const reading = readingSchema.parse(JSON.parse(out));
    const timeline = JSON.parse(readFileSync(path.join(drill, 'timeline.json'), 'utf8')) as {
      notes: { id: string; part: string; time: number }[];
    };
    const own = timeline.notes.filter(({ part }) => part === 'P1');
    expect(reading.notes.map(({ id }) => id)).toEqual(own.map(({ id }) => id));
    expect(reading.clock[0]).toMatchObject({ part: 'P1', by: 'clicks' });
    // full.wav begins with the drill itself.
    expect(Math.abs(reading.clock[0]?.offset ?? 9)).toBeLessThan(0.002);
    const off = reading.notes.flatMap(({ onset, expected, state }) =>
      state === 'heard' && onset !== null ? [Math.abs(onset - expected)] : [],
    );
    expect(off.length).toBeGreaterThan(0.9 * own.length);
    // The voice begins on its sample but comes within 40 dB of its loudest, which is what is read, some ms later.
    expect([...off].sort((a, b) => a - b)[Math.floor(off.length / 2)]).toBeLessThan(0.01);
  });

  it('says one finding in words, seven on request with the page of figures, and keeps all in a folder', async () => {
    const heard = path.join(place, 'heard');
    const ask = ['hear', `P1=${full(solo)}`, '--drill', drill];
    const one = await levare([...ask, '--out', heard]);
    expect(one.code).toBe(0);
    expect(one.out).toMatch(/\d+ of \d+ notes were surely heard/);
    expect(one.out.match(/^Try: /gm)).toHaveLength(1);
    expect(one.out.trimEnd().split('\n').length).toBeLessThanOrEqual(12);
    const { out } = await levare([...ask, '--most', '7', '--figures']);
    expect(out.match(/^ {3}Try: /gm)?.length).toBeGreaterThan(1);
    expect(out).toMatch(/\d+ of \d+ notes surely heard/);
    expect(readFileSync(path.join(heard, 'reading.txt'), 'utf8')).toBe(out);
    const german = await levare([...ask, '--language', 'de']);
    expect(german.out).toMatch(/^Versucht: /m);
    expect(german.out).not.toContain('Try');
    expect(
      readingSchema.safeParse(JSON.parse(readFileSync(path.join(heard, 'reading.json'), 'utf8'))).success,
    ).toBe(true);
  });

  it('its schema is the one in docs/schemas', async () => {
    const { jsonSchemas } = await import('../../src/desk/index.ts');
    const kept: unknown = JSON.parse(
      readFileSync(path.resolve('docs', 'schemas', 'levare.reading.4.json'), 'utf8'),
    );
    expect(kept).toEqual(jsonSchemas()['levare.reading.4.json']);
  });

  it.each([
    [[], 'Name the recordings'],
    [['a.wav', 'b.wav', 'c.wav', '--drill', drill], 'for 2 player'],
    // One recording alone may be of all players.
    [['nowhere.wav', '--drill', drill], 'There is no file nowhere.wav'],
    [['P1=nowhere.wav', '--drill', drill], 'There is no file nowhere.wav'],
    [['P9=nowhere.wav', '--drill', drill], 'There is no part "P9"'],
    [['P1=a.wav', 'P1=b.wav', '--drill', drill], 'Two recordings are given for P1'],
    [['P1=a.wav'], 'Say what was played'],
    [['P1=a.wav', '--drill', demo], 'is a score'],
    [['P1=a.wav', '--drill', drill, '--with', 'drums'], 'it can be click or free'],
    [['P1=a.wav', '--drill', drill, '--most', '8'], 'it can be 1 to 7'],
    [['P1=a.wav', '--drill', drill, '--language', 'xx'], 'there are en and de'],
    [[`P1=${demo}`, '--drill', drill], 'is no recording that is known'],
  ])('refuses %j in plain words', async (args, words) => {
    const { code, err } = await levare(['hear', ...args]);
    expect(code).toBe(2);
    expect(err).toContain(words);
  });

  it('refuses a score that has changed, and a recording of another player', async () => {
    const changed = path.join(place, 'changed');
    expect((await levare(['drill', demo, '--bars', '1-4', '--paper', 'none', '--out', changed])).code).toBe(
      0,
    );
    const score = path.join(changed, 'score.musicxml');
    writeFileSync(score, `${readFileSync(score, 'utf8')}\n`);
    expect((await levare(['hear', `P1=${full(solo)}`, '--drill', changed])).err).toContain(
      'is not the one that the drill was made on',
    );
    const other = await levare(['hear', `P2=${full(solo)}`, '--drill', drill]);
    expect(other.code).toBe(2);
    expect(other.err).toContain('does not sound like Clarinet in B♭ but like Flute');
    expect(other.err).toContain('Say whose each is: P1=');
  });
});
