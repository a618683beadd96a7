import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import {
  makeDrill,
  pieceHash,
  timelineSchema,
  type DrillFolder,
  type DrillRequest,
  type SoundOptions,
} from '../../src/desk/index.ts';
import { parseDrill } from '../../src/drill/format.ts';
import { bytesOf, duo } from './duo.ts';

const folderOf = (request: DrillRequest, options: SoundOptions = {}): DrillFolder => {
  const made = makeDrill(bytesOf(duo), request, options);
  if (!made.ok) throw new Error(made.error.message);
  return made.value;
};

/** Bytes are compared by their hash: a comparison byte by byte takes a minute. */
const hashes = ({ files }: DrillFolder): readonly (readonly [string, string])[] =>
  files.map(({ name, chunks }) => [
    name,
    createHash('sha256')
      .update(Buffer.concat([...chunks]))
      .digest('hex'),
  ]);

const contents = ({ files }: DrillFolder): ReadonlyMap<string, Buffer> =>
  new Map(files.map(({ name, chunks }) => [name, Buffer.concat([...chunks])]));

const jsonOf = (folder: DrillFolder, name: string): unknown =>
  JSON.parse(contents(folder).get(name)?.toString('utf8') ?? 'null');

describe('making a drill', () => {
  it('gives eight files, the score among them unchanged', () => {
    const files = contents(folderOf({ bars: '1-2' }));
    expect([...files.keys()]).toEqual([
      'click.wav',
      'parts.wav',
      'full.wav',
      'drill.mid',
      'drill.musicxml',
      'drill.json',
      'timeline.json',
      'score.musicxml',
    ]);
    expect(files.get('score.musicxml')?.toString('utf8')).toBe(duo);
  });

  it('names the score by its SHA-256, as another program works it out', () => {
    // Node's own implementation (OpenSSL).
    const hash = createHash('sha256').update(duo).digest('hex');
    expect(pieceHash(bytesOf(duo))).toBe(hash);
    expect(folderOf({ bars: '1-2' }).drill.score.sha256).toBe(hash);
  });

  it('keeps all that was asked for, so that the same bytes are made from drill.json', () => {
    const first = folderOf({ bars: '1-2', pass: 2, click: 'weak', tempo: ['72', '80%'], times: 2 });
    const kept = parseDrill(jsonOf(first, 'drill.json'));
    if (!kept.ok) throw new Error(kept.error.message);
    const again = makeDrill(bytesOf(duo), {}, { before: kept.value });
    if (!again.ok) throw new Error(again.error.message);
    expect(hashes(again.value)).toEqual(hashes(first));
  });

  it('lets a request override the drill that is made again', () => {
    const before = folderOf({ bars: '1-2', click: 'weak', times: 2 }).drill;
    const made = makeDrill(bytesOf(duo), { click: 'bar' }, { before });
    expect(made.ok && made.value.drill).toEqual({ ...before, click: 'bar' });
  });

  it('refuses a score that is not the one the drill was made on', () => {
    const before = folderOf({ bars: '1-2' }).drill;
    const made = makeDrill(bytesOf(duo.replace('Boat', 'Barge')), {}, { before });
    expect(!made.ok && made.error.code).toBe('score-changed');
  });

  // By hand: quarters of one second; the upbeat of a quarter is counted into, so three of four counts are heard.
  it('prints a timeline in which every click has its time, sample, bar and beat', () => {
    const timeline = timelineSchema.parse(jsonOf(folderOf({ bars: '1' }, { rate: 44_100 }), 'timeline.json'));
    expect(timeline.sampleRate).toBe(44_100);
    expect(timeline.clicks.map(({ time, bar, beat, word }) => [time, bar, beat, word])).toEqual([
      [0, null, '1', 'one'],
      [1, null, '2', 'two'],
      [2, null, '3', 'three'],
      [3, '0', '4', null],
      [4, '1', '1', null],
      [5, '1', '2', null],
      [6, '1', '3', null],
      [7, '1', '4', null],
    ]);
    expect(timeline.clicks.map(({ sample }) => sample)).toEqual(
      [0, 1, 2, 3, 4, 5, 6, 7].map((t) => t * 44_100),
    );
    expect(timeline.duration).toBe(8);
    // G4 in the upbeat; D4 of the clarinet sounds C4, and is cut where the passage ends.
    expect(timeline.notes.map(({ part, time, duration, midi }) => [part, time, duration, midi])).toEqual([
      ['P1', 3, 1, 67],
      ['P1', 4, 1, 72],
      ['P1', 5, 1, 74],
      ['P1', 6, 1, 76],
      ['P2', 6, 2, 60],
      ['P1', 7, 1, 77],
    ]);
    expect(new Set(timeline.notes.map(({ id }) => id)).size).toBe(timeline.notes.length);
  });

  it('is quiet about the tempo of the score where the player names another', () => {
    const free = duo.replace(/<direction>.*?<\/direction>/, '');
    const codes = (request: DrillRequest): readonly string[] => {
      const made = makeDrill(bytesOf(free), request);
      if (!made.ok) throw new Error(made.error.message);
      return made.problems.map(({ code }) => code);
    };
    expect(codes({ bars: '1' })).toContain('tempo-assumed');
    expect(codes({ bars: '1', tempo: ['80%'] })).toContain('tempo-assumed');
    expect(codes({ bars: '1', tempo: ['80'] })).not.toContain('tempo-assumed');
  });

  it('asks for an octave once, and not when it is answered', () => {
    const recorder = bytesOf(duo.replace('Flute', 'Descant recorder'));
    const questions = (request: DrillRequest): number => {
      const made = makeDrill(recorder, request);
      if (!made.ok) throw new Error(made.error.message);
      return made.problems.filter(({ code }) => code === 'octave-unmarked').length;
    };
    expect(questions({ bars: '1' })).toBe(1);
    expect(questions({ bars: '1', octaves: { P1: 1 } })).toBe(0);
  });

  it('sums up what was made', () => {
    const { summary } = folderOf({ bars: '1-2', click: 'weak', tempo: ['60', '90'], times: 2, keep: '1/4' });
    expect(summary).toEqual({
      title: 'Two in a Boat',
      asked: '1-2',
      bars: ['0', '1', '2'],
      parts: ['Flute', 'Clarinet'],
      upbeat: '1/4',
      repetitions: 4,
      tempi: [
        { unit: '1/4', perMinute: 60 },
        { unit: '1/4', perMinute: 90 },
      ],
      tempoChanges: false,
      // Off-beats are counted in by a bar in halves and one in quarters (design section 7; practice).
      countIn: ['one two', 'one two three'],
      // By hand: four times the upbeat, which is beat 4, and 2 and 4 of two bars.
      clicks: 20,
      kept: 9,
      notes: 10,
      // By hand: seven beats counted, nine played, three of silence, nine played; 28 s at 60, two thirds of it at 90.
      duration: 140 / 3,
    });
  });
});
