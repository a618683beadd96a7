/** What goes wrong on a command line: one message, exit code 2, and nothing written. */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { strToU8, zipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { duo } from '../desk/duo.ts';
import { levare } from './run.ts';

let place = '';
const inside = (name: string): string => path.join(place, name);

const zipped = zipSync({
  'META-INF/container.xml': strToU8(
    '<?xml version="1.0"?><container><rootfiles><rootfile full-path="a.xml"/></rootfiles></container>',
  ),
  'a.xml': strToU8(duo),
});

const inputs: Readonly<Record<string, string | Uint8Array>> = {
  'duo.musicxml': duo,
  'empty.musicxml': '',
  'letter.txt': 'Dear Sir or Madam,\nplease find the parts enclosed.\n',
  'noise.mxl': Uint8Array.from({ length: 500 }, (_, i) => (i * 7919) % 251),
  'short.mxl': zipped.slice(0, Math.floor(zipped.length / 2)),
  'short.musicxml': duo.slice(0, 900),
  'short.mid': Uint8Array.from([0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6]),
  'plan.txt': 'pickup 1/4; 1-16 4/4; tempo 1/4=0',
  'drill.json': '{ "format": "levare.drill/1", "score": ',
  'newer.json': '{ "format": "levare.drill/99" }',
};

beforeAll(() => {
  place = mkdtempSync(path.join(tmpdir(), 'levare-bad-'));
  for (const [name, content] of Object.entries(inputs)) writeFileSync(inside(name), content);
  mkdirSync(inside('folder'));
});
afterAll(() => {
  rmSync(place, { recursive: true, force: true });
});

const refused = async (args: readonly string[]): Promise<string> => {
  const before = readdirSync(place).sort();
  const { code, out, err } = await levare(args);
  expect(out).toBe('');
  expect(err).toMatch(/^levare: [^\n]+\n$/);
  expect(err).not.toMatch(/\.[jt]s:\d|undefined|\[object|NaN|This is a fault in Levare/);
  expect(code).toBe(2);
  expect(readdirSync(place).sort()).toEqual(before);
  return err;
};

describe('a score that is none', () => {
  it.each([
    ['empty.musicxml', /empty/],
    ['letter.txt', /not a score/],
    ['noise.mxl', /not a score/],
    ['short.mxl', /./],
    ['short.musicxml', /./],
    ['short.mid', /./],
    ['plan.txt', /above zero|tempo/],
    ['none.musicxml', /no file/],
    ['folder', /is a folder/],
    ['drill.json', /damaged/],
    ['newer.json', /newer/],
  ])('%s is refused by look and by drill', async (name, words) => {
    expect(await refused(['look', inside(name)])).toMatch(words);
    expect(await refused(['look', inside(name), '--json'])).toMatch(words);
    expect(await refused(['drill', inside(name), '--bars', '1', '--out', inside('out')])).toMatch(words);
  });
});

describe('a request that makes no sense', () => {
  const cases: readonly (readonly [args: string, words: RegExp])[] = [
    ['--bars 99', /no bar or rehearsal mark "99"/],
    ['--bars 3-1', /./],
    ['--bars A', /"A"/],
    ['--bars 1 --pass 3', /./],
    ['--bars 1 --pass x', /not a number/],
    ['--bars 1 --parts Oboe', /no part "Oboe".*Flute/],
    ['--bars 1 --keep long', /"long"/],
    ['--bars 1 --click sometimes', /"sometimes" is no click placement/],
    ['--bars 3 --click half', /no meaning in 3\/4.*every/],
    ['--bars 1 --click 1/3000', /./],
    ['--bars 1 --tacet 2', /2\/2/],
    ['--bars 1 --tacet 0/2', /is 0/],
    ['--bars 1 --count x', /"x"/],
    ['--bars 1 --groups 2+x', /2\+2\+3/],
    ['--bars 1 --tempo 0', /above zero/],
    ['--bars 1 --tempo -60', /./],
    ['--bars 1 --tempo 99999', /quarters a minute/],
    ['--bars 1 --tempo 1e9', /./],
    ['--bars 1 --tempo fast', /"fast" is no tempo/],
    ['--bars 1 --tempo 72,,80', /is no tempo/],
    ['--bars 1 --tempo 5000%', /400%/],
    ['--bars 1 --times 0', /from 1 to 1000/],
    ['--bars 1 --times -1', /from 1 to 1000/],
    ['--bars 1 --times 1.5', /not a whole number/],
    ['--bars 1 --times many', /not a number/],
    ['--bars 1 --times 1e3', /not a whole number/],
    ['--bars 1 --gap 99', /0 to 16/],
    ['--bars 1 --count-in loud', /"loud" is no count-in/],
    ['--bars 1 --upbeat 4/1', /./],
    ['--bars 1 --holds never', /through/],
    ['--bars 1 --octave P9=+1', /"P9"/],
    ['--bars 1 --octave high', /P1=\+1/],
    ['--bars 1 --octave P1=+9', /./],
    ['--bars 1 --rate 100', /8000/],
    ['--bars 1 --rate x', /48000/],
    ['--bars 1 --depth 12', /16, 24 and 32/],
    ['--bars all --times 1000 --tempo 5', /hours/],
    ['', /--bars 12-15/],
    ['--bars', /needs a value/],
    ['--bars --json', /needs a value/],
    ['--bars=', /needs a value/],
    ['--bars 1 --bars 2', /given twice/],
    ['--bars 1 --tmpo 60', /did you mean --tempo/],
    ['--bars 1 --xyzzy', /no option --xyzzy/],
    ['--bars 1 --json=yes', /stands alone/],
    ['--bars 1 --click 2 4', /quotation marks/],
    ['--bars 1 -x', /no option -x/],
  ];

  it.each(cases)('drill %s', async (args, words) => {
    const typed = args === '' ? [] : args.split(' ');
    expect(await refused(['drill', inside('duo.musicxml'), ...typed, '--out', inside('out')])).toMatch(words);
  });

  it.each([
    [['lok'], /did you mean levare look/],
    [['constructor'], /no command/],
    [['help', 'toString'], /no command/],
    [['look'], /Name a score/],
    [['look', 'a', 'b'], /One score/],
    [['look', 'a', '--json', '--plan'], /either/],
    [['look', 'a', '--out', 'b'], /no option --out/],
    [['drill'], /Name a score/],
    [['drill', 'a', '--bars', '1'], /--out/],
  ])('%j', async (args, words) => {
    expect(await refused(args)).toMatch(words);
  });

  it('with endless text', async () => {
    const long = 'x'.repeat(100_000);
    await refused(['drill', inside('duo.musicxml'), '--bars', long, '--out', inside('out')]);
  });
});

describe('a folder that cannot be written', () => {
  it('because it is a file', async () => {
    const goal = inside('letter.txt');
    const err = await refused(['drill', inside('duo.musicxml'), '--bars', '1', '--out', goal]);
    expect(err).toContain(goal);
    expect(readFileSync(goal, 'utf8')).toBe(inputs['letter.txt']);
  });

  it('because a part of its path is a file', async () => {
    await refused(['drill', inside('duo.musicxml'), '--bars', '1', '--out', inside('letter.txt/deep/out')]);
  });

  it('because its name is too long', async () => {
    const err = await refused([
      'drill',
      inside('duo.musicxml'),
      '--bars',
      '1',
      '--out',
      inside('o'.repeat(300)),
    ]);
    expect(err).toContain('too long');
  });
});
