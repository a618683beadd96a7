import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { lookSchema, madeSchema, timelineSchema } from '../../src/desk/index.ts';
import { bytesOf, duo } from '../desk/duo.ts';
import { python } from '../sound/timelines.ts';
import { levare } from './run.ts';

let place = '';
const inside = (...names: readonly string[]): string => path.join(place, ...names);
const demo = path.resolve('demo', 'lanterns-on-the-towpath.musicxml');

beforeAll(() => {
  place = mkdtempSync(path.join(tmpdir(), 'levare-cli-'));
  writeFileSync(inside('duo.musicxml'), duo);
});
afterAll(() => {
  rmSync(place, { recursive: true, force: true });
});

const done = async (args: readonly string[], input?: string): Promise<string> => {
  const { code, out, err } = await levare(args, input);
  expect(code, err).toBe(0);
  return out;
};

const filesIn = (folder: string): ReadonlyMap<string, string> =>
  new Map(
    readdirSync(folder).map((name) => [name, readFileSync(path.join(folder, name)).toString('base64')]),
  );

describe('help', () => {
  it('is there in every way that one would ask', async () => {
    const general = await done([]);
    expect(general).toContain('levare drill');
    expect(await done(['--help'])).toBe(general);
    expect(await done(['-h'])).toBe(general);
    expect(await done(['help'])).toBe(general);
    const drill = await done(['drill', '--help']);
    expect(await done(['help', 'drill'])).toBe(drill);
    expect(await done(['drill', 'x', '--bars', '1', '-h'])).toBe(drill);
    expect(await done(['look', '--help'])).not.toBe(drill);
  });

  it('shows no line that a narrow terminal would break', async () => {
    for (const args of [['--help'], ['look', '--help'], ['drill', '--help']]) {
      const lines = (await done(args)).split('\n');
      expect(lines.filter((line) => line.length > 118)).toEqual([]);
    }
  });

  it('gives examples that run', async () => {
    const examples = (await done(['--help']))
      .split('\n')
      .filter((line) => /^ {2}levare (look|drill) \S+\.musicxml/.test(line))
      .map((line) => line.trim().split(/\s+/).slice(1));
    expect(examples.length).toBeGreaterThan(4);
    for (const [i, example] of examples.entries()) {
      const args = example.map((word) => (word === 'sonata.musicxml' ? demo : word));
      const out = args.indexOf('--out') + 1;
      if (out > 0) args[out] = inside(`example-${i}`);
      await done(args);
    }
  });

  it('tells the version of the package', async () => {
    const { version } = JSON.parse(readFileSync('package.json', 'utf8')) as { version: string };
    expect(await done(['--version'])).toBe(`levare ${version}\n`);
  });
});

describe('levare look', () => {
  it('reads like a programme note', async () => {
    expect(await done(['look', inside('duo.musicxml')])).toBe(
      `Two in a Boat
4 bars, 2 parts, about 20 s with repeats; read from MusicXML

Parts
  P1  Flute     10 notes and 1 grace note
  P2  Clarinet  2 notes, sounds 2 semitones lower than written

Bars
  0    4/4, upbeat of 1/4
  1-2  4/4
  3    3/4

Played
  0-2, 1-3

Tempo
  bar 0, beat 4  1/4=60
`,
    );
  });

  it('names once what is played many times over', async () => {
    const out = await done(['look', '-'], '1-16 4/4 12 times; 17-20 twice; 21-24 4/4');
    expect(out).toContain('Played\n  1-16 (11 times), 1-20, 17-24\n');
  });

  it('gives the same for a renamed file, a pipe and a drill folder', async () => {
    copyFileSync(inside('duo.musicxml'), inside('holiday.jpg'));
    await done(['drill', inside('duo.musicxml'), '--bars', '1', '--out', inside('of-look')]);
    for (const flags of [[], ['--json'], ['--plan']]) {
      const out = await done(['look', inside('duo.musicxml'), ...flags]);
      expect(await done(['look', inside('holiday.jpg'), ...flags])).toBe(out);
      expect(await done(['look', '-', ...flags], duo)).toBe(out);
      expect(await done(['look', inside('of-look'), ...flags])).toBe(out);
    }
  });

  it('prints JSON that is what its schema says', async () => {
    const json: unknown = JSON.parse(await done(['look', demo, '--json']));
    // demo/README.md: 61 bars, bar 0 the upbeat, repeat of 1 to 8 with the second ending 9.
    const seen = lookSchema.parse(json);
    expect(seen.bars).toHaveLength(61);
    expect(seen.played.slice(0, 18)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 1, 2, 3, 4, 5, 6, 7, 9, 10]);
    expect(seen.parts.map(({ transpose }) => transpose)).toEqual([0, -2]);
  });

  it('prints a plan that is itself a score', async () => {
    const plan = await done(['look', demo, '--plan']);
    const again = await done(['look', '-', '--plan'], plan);
    expect(again).toBe(plan);
  });

  it('does not let a file steer the terminal', async () => {
    const sly = duo.replace('Two in a Boat', 'Two\u0085\u009b2J');
    expect(await done(['look', '-'], sly)).not.toMatch(/[\u0080-\u009f]/);
  });
});

describe('levare drill', () => {
  const args = ['--bars', '10-13', '--click', 'weak', '--tempo', '72,1/4=80.5', '--times', '2'];

  it('makes the same bytes from the same request, and again from the drill', async () => {
    await done(['drill', demo, ...args, '--out', inside('one')]);
    await done(['drill', demo, ...args, '--out', inside('two')]);
    await done(['drill', inside('one'), '--out', inside('three')]);
    await done(['drill', inside('one', 'drill.json'), '--out', inside('four')]);
    const first = filesIn(inside('one'));
    expect([...first.keys()].sort()).toEqual([
      'click.wav',
      'drill.json',
      'drill.mid',
      'drill.musicxml',
      'full.wav',
      'parts.wav',
      'score.musicxml',
      'timeline.json',
    ]);
    for (const name of ['two', 'three', 'four']) expect(filesIn(inside(name))).toEqual(first);
  });

  it.each([
    ['16', '44100'],
    ['24', '48000'],
    ['32', '96000'],
  ])('writes clicks of %s bits at %s Hz where the timeline says', async (depth, rate) => {
    const folder = inside(`sound-${depth}`);
    await done(['drill', demo, ...args, '--depth', depth, '--rate', rate, '--out', folder]);
    const timeline = timelineSchema.parse(
      JSON.parse(readFileSync(path.join(folder, 'timeline.json'), 'utf8')),
    );
    // Read by a Python program that shares nothing with this one.
    const report = JSON.parse(
      await python(path.resolve('test', 'outside', 'wav_clicks.py'), path.join(folder, 'click.wav')),
    ) as { rate: number; bits: number; frames: number; onsets: number[] };
    expect(report.onsets).toEqual(timeline.clicks.map(({ sample }) => sample));
    expect(report.onsets.length).toBeGreaterThan(32);
    expect([report.rate, report.bits]).toEqual([Number(rate), Number(depth)]);
    expect(report.frames).toBe(Math.floor(timeline.duration * Number(rate) + 0.5));
    expect(timeline.clicks.map(({ time }) => Math.floor(time * Number(rate) + 0.5))).toEqual(report.onsets);
  });

  it('tells what it made, as text and as JSON', async () => {
    const text = await done(['drill', inside('duo.musicxml'), '--bars', '1-2', '--out', inside('told')]);
    expect(text).toContain('Bars 1-2 for Flute and Clarinet: 2 bars and an upbeat of 1/4, once.');
    expect(text).toContain('Tempo 1/4=60.');
    expect(text).toContain('Count-in: one two three.');
    const out = await done(['drill', inside('told'), '--out', inside('told'), '--json']);
    const made = madeSchema.parse(JSON.parse(out));
    for (const { name, bytes } of made.files) {
      expect(readFileSync(inside('told', name))).toHaveLength(bytes);
    }
    expect(made.folder).toBe(inside('told'));
  });

  it('changes one thing of a drill and keeps the rest', async () => {
    await done(['drill', demo, ...args, '--out', inside('before')]);
    await done(['drill', inside('before'), '--click', 'bar', '--out', inside('after')]);
    const read = (name: string): Record<string, unknown> => ({
      ...(JSON.parse(readFileSync(inside(name, 'drill.json'), 'utf8')) as object),
    });
    expect(read('after')).toEqual({ ...read('before'), click: 'bar' });
  });

  it('refuses a drill whose score was exchanged or is gone', async () => {
    await done(['drill', inside('duo.musicxml'), '--bars', '1', '--out', inside('exchanged')]);
    writeFileSync(inside('exchanged', 'score.musicxml'), bytesOf(duo.replace('Boat', 'Tub')));
    const changed = await levare(['drill', inside('exchanged'), '--out', inside('never')]);
    expect([changed.code, changed.err]).toEqual([2, expect.stringContaining('not the one')]);
    rmSync(inside('exchanged', 'score.musicxml'));
    const gone = await levare(['drill', inside('exchanged'), '--out', inside('never')]);
    expect([gone.code, gone.err]).toEqual([2, expect.stringContaining('not in its folder any more')]);
    expect(readdirSync(place)).not.toContain('never');
  });

  it('takes a bar plan from a pipe', async () => {
    const plan = 'pickup 1/4; 1-8 4/4; 9-12 3/4; tempo 1/4=92';
    await done(['drill', '-', '--bars', '7-10', '--out', inside('piped')], plan);
    expect(readFileSync(inside('piped', 'score.txt'), 'utf8')).toBe(plan);
  });

  it('says on standard error what it assumed', async () => {
    const recorder = duo.replace('Flute', 'Descant recorder');
    const { code, err } = await levare(['drill', '-', '--bars', '1', '--out', inside('asked')], recorder);
    expect(code).toBe(0);
    expect(err).toMatch(/^assumed: P1: .*--octave P1=\+1/);
  });
});
