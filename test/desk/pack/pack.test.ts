/**
 * Packs, opened by other programs: unzip (Info-ZIP), pdftotext (Poppler), flac (Xiph), mido (Python), xmllint against the W3C's MusicXML schema. What is
 * not installed is skipped and said.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makePacks, pieceHash, plainClick, type PackDrill } from '../../../src/desk/index.ts';
import { makeDrill } from '../../../src/desk/makeDrill.ts';
import { flacEncoder, nodeEngraver, nodePdf } from '../../../src/host/node/index.ts';
import type { FileToWrite } from '../../../src/desk/ports.ts';
import { cannotValidate, schemaErrors } from '../../support/schema.ts';

const demo = readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml'));
const drills: readonly PackDrill[] = [
  { name: 'CON', request: { bars: '1-4', click: 'bar', tempo: ['72'] } },
  { name: 'Übung: weak/after?', request: { bars: '10-12', click: 'weak', tempo: ['80'], times: 2 } },
];
const has = (program: string): boolean => spawnSync(program, ['--version']).error === undefined;
const place = mkdtempSync(path.join(tmpdir(), 'levare-pack-'));
const open = path.join(place, 'open');
let packs: readonly FileToWrite[] = [];
const bytesOf = ({ chunks }: FileToWrite): Buffer => Buffer.concat([...chunks]);

const options = { players: { P1: 'Анна 二' }, language: 'en' as const, sound: { rate: 44_100 } };

beforeAll(async () => {
  const engraver = nodeEngraver();
  const made = await makePacks(
    demo,
    drills,
    { sheets: { engraver, pdf: nodePdf }, flac: flacEncoder },
    options,
  );
  await engraver.close();
  if (!made.ok) throw new Error(made.error.message);
  packs = made.value;
  const [first] = packs;
  if (first === undefined) throw new Error('no pack');
  writeFileSync(path.join(place, 'pack.zip'), bytesOf(first));
  execFileSync('unzip', ['-q', path.join(place, 'pack.zip'), '-d', open], {
    env: { ...process.env, LC_ALL: 'C.UTF-8' },
  });
}, 240_000);
afterAll(() => rmSync(place, { recursive: true, force: true }));

const folder = (): string => path.join(open, '01 CON');

describe('a pack', () => {
  it('is one zip for each player, named safely, with a folder for each drill', () => {
    expect(packs.map(({ name }) => name)).toEqual([
      'Lanterns on the Towpath - Анна 二.zip',
      'Lanterns on the Towpath - Clarinet in B♭.zip',
    ]);
    expect(readdirSync(open).sort()).toEqual(
      ['01 CON', '02 Übung- weak-after-', 'read me first.pdf', 'read me first.txt'].sort(),
    );
    expect(readdirSync(folder()).sort()).toEqual(
      [
        'click and others.flac',
        'click and others.wav',
        'click.flac',
        'click.wav',
        'music.mid',
        'music.musicxml',
        'my part.pdf',
      ].sort(),
    );
  });

  it('is taken by unzip without a complaint', () => {
    expect(execFileSync('unzip', ['-tq', path.join(place, 'pack.zip')], { encoding: 'utf8' })).toMatch(
      /No errors/,
    );
  });

  it.runIf(has('pdftotext') || spawnSync('pdftotext', ['-v']).error === undefined)(
    'has pages that can be read',
    () => {
      const text = (file: string): string => execFileSync('pdftotext', [file, '-'], { encoding: 'utf8' });
      expect(text(path.join(folder(), 'my part.pdf'))).toContain('Flute');
      const page = text(path.join(open, 'read me first.pdf')).replace(/\s+/g, ' ');
      expect(page).toContain('For Анна');
      expect(page).toContain('set the quarter to 72 and take every 4th tick');
      expect(readFileSync(path.join(open, 'read me first.txt'), 'utf8')).toContain('With a plain click');
    },
  );

  it.runIf(has('flac'))('has FLAC that decodes to the very samples of the WAV, its sum checked', () => {
    for (const name of ['click', 'click and others']) {
      const flac = path.join(folder(), `${name}.flac`);
      execFileSync('flac', ['-t', '-s', '-w', flac]);
      const out = path.join(place, `${name}.wav`);
      execFileSync('flac', ['-d', '-s', '-f', '-o', out, flac]);
      const [mine, theirs] = [path.join(folder(), `${name}.wav`), out].map((file) =>
        readFileSync(file).subarray(44),
      );
      expect(theirs?.equals(mine ?? Buffer.alloc(0))).toBe(true);
      const sizes = [flac, path.join(folder(), `${name}.wav`)].map((file) => readFileSync(file).length);
      expect((sizes[0] ?? 1) / (sizes[1] ?? 1)).toBeLessThan(0.7);
    }
  });

  it('has MIDI that mido reads', () => {
    const script =
      'import mido, sys; m = mido.MidiFile(sys.argv[1]); print(len(m.tracks), sum(1 for t in m.tracks for e in t if e.type == "note_on"))';
    const out = execFileSync('/usr/bin/python3', ['-c', script, path.join(folder(), 'music.mid')], {
      encoding: 'utf8',
    });
    const [tracks = 0, notes = 0] = out.trim().split(' ').map(Number);
    expect(tracks).toBeGreaterThan(2);
    expect(notes).toBeGreaterThan(20);
  });

  it.skipIf(cannotValidate !== null)('has MusicXML that its schema takes', () => {
    expect(
      schemaErrors(new Map([['music', readFileSync(path.join(folder(), 'music.musicxml'), 'utf8')]])),
    ).toEqual([]);
  });

  it('leaves the own part out of the sound of the others', async () => {
    const made = await makePacks(demo, drills.slice(0, 1), { sheets: null, flac: null }, options);
    if (!made.ok) throw new Error(made.error.message);
    expect(made.value).toHaveLength(2);
    const alone = makeDrill(demo, drills[0]?.request ?? {}, { rate: 44_100, without: ['P1'] });
    if (!alone.ok) throw new Error(alone.error.message);
    const full = alone.value.files.find(({ name }) => name === 'full.wav');
    if (full === undefined) throw new Error('no sound');
    expect(readFileSync(path.join(folder(), 'click and others.wav')).equals(bytesOf(full))).toBe(true);
  });

  it('is the same, byte for byte, when it is made again', async () => {
    const again = async (): Promise<readonly string[]> => {
      const made = await makePacks(demo, drills.slice(0, 1), { sheets: null, flac: flacEncoder }, options);
      return made.ok ? made.value.map((file) => pieceHash(bytesOf(file))) : [];
    };
    expect(await again()).toEqual(await again());
  });

  it('refuses what is no pack', async () => {
    const ports = { sheets: null, flac: null };
    expect(await makePacks(demo, drills, ports, { parts: ['P9'] })).toMatchObject({
      error: { code: 'pack-without-parts' },
    });
    const long = [{ name: 'a', request: { bars: 'all', times: 100, click: 'every' } }];
    expect(await makePacks(demo, long, ports)).toMatchObject({ error: { code: 'pack-too-long' } });
  });
});

// 4/4 at quarter = 90: clicks on every beat, half bar, bar are 90, 45, 22.5 a minute (computed; common practice).
describe('a plain click', () => {
  const plan = new TextEncoder().encode('1-8 4/4; tempo 1/4=90');
  const click = (placement: string, score = plan) => {
    const made = makeDrill(score, { click: placement });
    if (!made.ok) throw new Error(made.error.message);
    return plainClick(made.value.worked);
  };
  it.each([
    [
      'every',
      {
        perMinute: 90,
        set: 90,
        each: 1,
        unit: '1/4',
        mark: 88,
        bar: '1',
        beat: '1',
        beats: ['1', '2', '3', '4'],
      },
    ],
    ['half', { perMinute: 45, set: 45, each: 1, unit: '1/2', mark: 44, beats: ['1', '3'] }],
    ['bar', { perMinute: 22.5, set: 45, each: 2, unit: '1/2', beats: ['1'] }],
    ['weak', { perMinute: 45, set: 45, beat: '2', beats: ['2', '4'] }],
    ['after', { perMinute: 90, set: 90, beat: '1+1/2' }],
    ['1/8', { perMinute: 180, set: 180, unit: '1/8', mark: 176 }],
  ])('%s', (placement, expected) => {
    expect(click(placement)).toMatchObject({ kind: 'even', ...expected });
  });
  it('a bar of three is ticked in quarters, one of 6/8 in dotted quarters, where the bar is too slow', () => {
    const bars = (text: string) => click('bar', new TextEncoder().encode(text));
    expect(bars('1-8 3/4; tempo 1/4=72')).toMatchObject({ set: 72, each: 3, unit: '1/4', mark: null });
    expect(bars('1-8 6/8; tempo 1/4.=50')).toMatchObject({ set: 50, each: 2, unit: '3/8' });
  });
  it('there is none where nothing ticks, or not evenly', () => {
    expect(click('none')).toEqual({ kind: 'none' });
    expect(click('1 2')).toEqual({ kind: 'uneven' });
    expect(click('bar', new TextEncoder().encode('1-4 4/4; 5-8 3/4; tempo 1/4=90'))).toEqual({
      kind: 'uneven',
    });
  });
});
