/** The same problem in files of different kinds has the same code. The rule is our own; no outside source. */
import { describe, expect, it } from 'vitest';
import { readScore } from '../../src/score/read/recognise.ts';
import type { Problem } from '../../src/units/index.ts';
import { oneTrack } from './midi-files.ts';
import { attributes, fullBar, measure, note, onePart, time } from './musicxml-fragments.ts';

const problemsOf = (file: string | Uint8Array): readonly Problem[] => {
  const result = readScore(typeof file === 'string' ? new TextEncoder().encode(file) : file);
  return result.ok ? result.problems : [result.error];
};
const xml = (content: string): string => onePart(measure('1', content));
const end = [0x00, 0xff, 0x2f, 0x00];
/** A whole note at 96 ticks to the quarter. */
const whole = [0x00, 0x90, 60, 64, 0x83, 0x00, 0x80, 60, 64];
const signature = (delta: number, beats: number, power: number): readonly number[] => [
  ...[delta, 0xff, 0x58, 0x04],
  ...[beats, power, 24, 8],
];
const endOfPiece = [...whole, ...end];
const common = signature(0, 4, 2);
const halfBar = note('C4', 2);

const cases: readonly (readonly [code: string, files: readonly (string | Uint8Array)[]])[] = [
  ['file-empty', ['', ' \n', new Uint8Array()]],
  [
    'metre-unreadable',
    ['1-8 0/4', xml(attributes(1, time(0, 4)) + fullBar()), oneTrack([...signature(0, 0, 2), ...endOfPiece])],
  ],
  [
    'key-unreadable',
    [
      xml(attributes(1, `<key><fifths>99</fifths></key>${time(4, 4)}`) + fullBar()),
      oneTrack([...common, 0x00, 0xff, 0x59, 0x02, 99, 0, ...endOfPiece]),
    ],
  ],
  ['metre-assumed', [xml(attributes(1, '') + fullBar()), oneTrack(endOfPiece)]],
  [
    'metre-mid-bar',
    [
      xml(attributes(1) + halfBar + attributes(1, time(3, 4)) + halfBar),
      oneTrack([...common, ...signature(96, 3, 2), ...endOfPiece]),
    ],
  ],
  ['ending-number-absurd', ['1-4 4/4; ending 0 at 4']],
  ['bars-reversed', ['16-1 4/4', '1-8 4/4; repeat 8-1', '1-8 4/4; ending 1 at 8-7']],
  ['bar-unknown', ['1-8 4/4; mark A at 12', '1-8 4/4; mark A at 99th bar']],
  [
    'not-kept',
    [
      xml(attributes(1) + '<figured-bass><figure/></figured-bass>' + fullBar()),
      xml(
        attributes(1, `<key><key-step>F</key-step><key-alter>1</key-alter></key>${time(4, 4)}`) + fullBar(),
      ),
      oneTrack([...common, 0x00, 0xb0, 64, 127, ...endOfPiece]),
      oneTrack([...common, 0x00, 0xe0, 0, 100, ...endOfPiece]),
    ],
  ],
];

describe('one code for one problem', () => {
  it.each(cases)('%s', (code, files) => {
    for (const file of files) expect(problemsOf(file).map((problem) => problem.code)).toContain(code);
  });

  it('tells what is not kept in one form of words', () => {
    const told = cases.flatMap(([, files]) => files.flatMap(problemsOf)).filter((p) => p.code === 'not-kept');
    expect(told.length).toBeGreaterThan(3);
    for (const { message, severity } of told)
      expect([message, severity]).toEqual([
        expect.stringMatching(/^[A-Z].* is not kept \(found (?:once|\d+ times)\)\.$/),
        'note',
      ]);
  });

  it('does not take prose for a plan, though a plan may be refused for its metre', () => {
    for (const text of ['Repeat after me', '3/4 of us will come', 'At the end of the day'])
      expect(problemsOf(text).map(({ code }) => code)).toEqual(['not-a-score']);
  });
});
