import { describe, expect, it } from 'vitest';
import { problemLines } from '../../src/cli/words.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import { oneTrack } from '../score/midi-files.ts';

describe('what is in the file and not kept', () => {
  it('is told in one line, of MIDI too', () => {
    const pedal = [0x00, 0xb0, 64, 127];
    const bend = [0x00, 0xe0, 0, 100];
    const note = [0x00, 0x90, 60, 64, 0x83, 0x00, 0x80, 60, 64];
    const file = oneTrack([
      ...[0x00, 0xff, 0x58, 0x04, 4, 2, 24, 8],
      ...[...pedal, ...pedal, ...bend, ...note],
      ...[0x00, 0xff, 0x2f, 0x00],
    ]);
    const result = readScore(file);
    expect(result.ok && problemLines(result.problems)).toEqual([
      'note: in the file but not kept: what controllers and pressure say (pedal, volume and the like); a bend of the pitch away from that of the key',
    ]);
  });
});
