import { describe, expect, it } from 'vitest';
import { readMidi } from '../../src/score/read/midi.ts';
import { chunk, codesOf, header, oneTrack, scoreOf, sounding } from './midi-files.ts';
import { fuzzMidi } from './midi-fuzz.ts';

const end = [0x00, 0xff, 0x2f, 0x00];
const note = [0x00, 0x90, 60, 64, 0x60, 0x80, 60, 0];
const file = (...parts: readonly (readonly number[])[]) => Uint8Array.from(parts.flat());

describe('a MIDI file that is broken or hostile', () => {
  it.each([
    ['nothing', new Uint8Array(), 'file-empty'],
    ['no MIDI', new TextEncoder().encode('pickup 1/4; 1-16 4/4'), 'midi-no-header'],
    ['half a header', file(header(0, 1, 96).slice(0, 11)), 'file-truncated'],
    ['a header alone', file(header(1, 1, 96)), 'midi-no-tracks'],
    [
      'no ticks to the quarter',
      file(header(0, 1, 0), chunk('MTrk', [...note, ...end])),
      'midi-division-zero',
    ],
    ['film frames', file(header(0, 1, 0xe728), chunk('MTrk', [...note, ...end])), 'midi-smpte'],
    ['format 2', file(header(2, 1, 96), chunk('MTrk', [...note, ...end])), 'midi-format-2'],
    ['format 77', file(header(77, 1, 96), chunk('MTrk', [...note, ...end])), 'midi-format-unknown'],
    ['more bytes than any piece', new Uint8Array(16 * 2 ** 20 + 1).fill(0x4d), 'file-too-large'],
    [
      '100,000 tracks',
      file(header(1, 0xffff, 96), Array.from({ length: 100_000 }, () => chunk('MTrk', end)).flat()),
      'file-too-large',
    ],
  ])('is refused: %s', (_, bytes, code) => expect(codesOf(bytes)).toEqual([code]));

  it.each([
    [
      'a track that promises 4 GiB',
      file(header(0, 1, 96), chunk('MTrk', [...note, ...end], 0xffffffff)),
      'file-truncated',
    ],
    ['a track that breaks off in a note', oneTrack([...note, 0x00, 0x90, 62]), 'file-truncated'],
    [
      'a delta time of five bytes',
      oneTrack([...note, 0xff, 0xff, 0xff, 0xff, 0x7f, 0x90, 62, 64]),
      'file-truncated',
    ],
    [
      'data without a status',
      oneTrack([...note, ...[0x00, 0xff, 0x01, 0x00], 0x00, 0xf0, 0x00, 0x00, 60, 64]),
      'file-truncated',
    ],
    [
      'a text that promises more than there is',
      oneTrack([...note, 0x00, 0xff, 0x01, 0x8f, 0xff, 0xff, 0x7f, 65]),
      'file-truncated',
    ],
    [
      'tracks that are missing',
      file(header(1, 9, 96), chunk('MTrk', [...note, ...end])),
      'midi-tracks-missing',
    ],
    [
      'tracks that are too many',
      file(header(1, 1, 96), chunk('MTrk', [...note, ...end]), chunk('MTrk', end)),
      'midi-tracks-extra',
    ],
    ['a tempo of two bytes', oneTrack([0x00, 0xff, 0x51, 0x02, 1, 1, ...note, ...end]), 'midi-event-broken'],
    [
      'a metre of no beats',
      oneTrack([0x00, 0xff, 0x58, 0x04, 0, 2, 24, 8, ...note, ...end]),
      'metre-unreadable',
    ],
    [
      'a metre over 2^255',
      oneTrack([0x00, 0xff, 0x58, 0x04, 4, 255, 24, 8, ...note, ...end]),
      'metre-unreadable',
    ],
    ['a key of 100 sharps', oneTrack([0x00, 0xff, 0x59, 0x02, 100, 0, ...note, ...end]), 'key-unreadable'],
  ])('is read as far as it goes: %s', (_, bytes, code) => {
    expect(codesOf(bytes)).toContain(code);
    expect(sounding(scoreOf(bytes))).toEqual([['0', '1/4', 60]]);
  });

  it.each([
    [oneTrack([...note, 0x00, 0x90, 62]), '1 track breaks off or holds'],
    [
      file(header(1, 2, 96), ...[1, 2].map(() => chunk('MTrk', [...note, 0x00, 0x90, 62]))),
      '2 tracks break off or hold',
    ],
    [file(header(1, 2, 96), chunk('MTrk', [...note, ...end])), '1 track is promised'],
    [file(header(1, 9, 96), chunk('MTrk', [...note, ...end])), '8 tracks are promised'],
    [oneTrack([0x00, 0x90, 60, 64, 0x60, 0xff, 0x2f, 0x00]), '1 note is never let go; it lasts'],
    [oneTrack([...note, 0x00, 0x80, 62, 0, ...end]), '1 note ends that never began'],
    [oneTrack([0x00, 0xff, 0x51, 0x03, 0, 0, 0, ...note, ...end]), '1 tempo change says'],
  ])('is told in words that count right: %#', (bytes, words) => {
    // Common English, no source.
    const result = readMidi(bytes);
    const problems = result.ok ? result.problems : [result.error];
    expect(problems.map(({ message }) => message)).toContainEqual(
      expect.stringMatching(new RegExp(`^${words}`)),
    );
  });

  it('reads running status, velocity nought as an end, unknown chunks, and what stands between exclusive messages', () => {
    // Standard MIDI Files 1.0: running status, note-on of velocity 0, "alien" chunks (from memory).
    const running = [0x00, 0x90, 60, 64, 0x60, 60, 0, 0x00, 62, 64, 0x60, 62, 0];
    const exclusive = [0x00, 0xf0, 0x03, 1, 2, 0xf7, 0x00, 0x90, 64, 64, 0x60, 64, 0];
    const bytes = file(
      header(0, 1, 96),
      chunk('XYZW', [1, 2, 3]),
      chunk('MTrk', [...running, ...exclusive, ...end]),
    );
    expect(sounding(scoreOf(bytes))).toEqual([
      ['0', '1/4', 60],
      ['1/4', '1/4', 62],
      ['1/2', '1/4', 64],
    ]);
  });

  it('refuses notes that stand so far away that their bars would fill the memory', () => {
    const far = [0xff, 0xff, 0xff, 0x7f];
    const bytes = file(
      header(0, 1, 1),
      chunk('MTrk', [...note, ...far, 0x90, 62, 64, 0x01, 0x80, 62, 0, ...end]),
    );
    expect(codesOf(bytes)).toEqual(['too-many-bars']);
    const silent = file(header(0, 1, 1), chunk('MTrk', [...note, ...far, 0xff, 0x2f, 0x00]));
    expect(scoreOf(silent).bars.length).toBe(24);
  });

  it('refuses thousands of notes that are never let go over thousands of bars', () => {
    const struck = Array.from({ length: 2000 }, (_, k) => [0x00, 0x90 | (k & 15), (k >> 4) & 127, 64]).flat();
    const bytes = oneTrack([...struck, 0x81, 0xc0, 0x80, 0x00, 0xff, 0x2f, 0x00]);
    expect(codesOf(bytes)).toEqual(['file-too-large']);
  });

  it('refuses more notes than any piece has', () => {
    const struck = new Array<number>(201_000 * 4);
    for (let k = 0; k < struck.length; k += 4)
      [0x00, 0x90, 60, 64].forEach((byte, n) => (struck[k + n] = byte));
    expect(codesOf(oneTrack(struck))).toEqual(['file-too-large']);
  });

  it('gets through a million tempi, signatures and syllables', () => {
    const events = [
      [0x01, 0xff, 0x51, 3, 1, 2, 3],
      [0x01, 0xff, 0x59, 2, 1, 0],
      [0x01, 0xff, 0x05, 1, 65],
      [0x00, 0x90, 60, 64],
      [0x60, 0x80, 60, 0],
    ];
    const many = Array.from({ length: 60_000 }, (_, k) =>
      (events[k % 5] ?? []).map((byte, n) => (n === 6 ? k & 127 : byte)),
    ).flat();
    expect(readMidi(oneTrack(many)).ok).toBe(true);
  });

  it('survives 1,000 mutated files', () => {
    const { read, refused } = fuzzMidi(1, 1000);
    // Both ways out are tried.
    expect(read).toBeGreaterThan(100);
    expect(refused).toBeGreaterThan(20);
  });
});
