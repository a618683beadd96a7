/** The same problem in files of different kinds has the same code. The rule is our own; no outside source. */
import { describe, expect, it } from 'vitest';
import { playingOrder } from '../../src/score/playing.ts';
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

/** What the playing order says of a file, whatever kind it is. */
const playedAs = (file: string): { times: number[]; said: string[] } => {
  const result = readScore(new TextEncoder().encode(file));
  if (!result.ok) throw new Error(result.error.message);
  const { order, problems } = playingOrder(result.value);
  const times = result.value.bars.map(
    ({ index }) => order.visits.filter(({ barIndex }) => barIndex === index).length,
  );
  return { times, said: problems.map(({ code, message }) => `${code}: ${message}`) };
};
const bar = (number: number, line: string): string =>
  measure(String(number), (number === 1 ? attributes(1) : '') + fullBar() + line);
const backward = (times: number, ending = ''): string =>
  `<barline location="right">${ending}<repeat direction="backward" times="${times}"/></barline>`;

// The limit of 1000 is our own: docs/formats/playing-order.md.
describe('repeats that nobody plays', () => {
  it.each([99, 100, 999, 1000])('%i times is played as it stands', (times) => {
    for (const file of [`1 4/4 ${times} times; 2 4/4`, onePart(bar(1, backward(times)) + bar(2, ''))])
      expect(playedAs(file)).toEqual({ times: [times, 1], said: [] });
  });
  it.each([1001, 9999, 10_000, 123_456])('%i times is played twice', (times) => {
    const said = `repeat-times-absurd: A repeat in bar 1 is to be played ${times} times, and nobody plays more than 1000; it is played twice.`;
    for (const file of [`1 4/4 ${times} times; 2 4/4`, onePart(bar(1, backward(times)) + bar(2, ''))])
      expect(playedAs(file)).toEqual({ times: [2, 1], said: [said] });
  });
  it('leaves out such numbers of an ending', () => {
    const said =
      'ending-number-absurd: The ending bracket of bar 1 names times through that nobody plays (5000): left out.';
    const opens = '<barline location="left"><ending number="1, 5000" type="start"/></barline>';
    const first = measure(
      '1',
      opens + attributes(1) + fullBar() + backward(2, '<ending number="1, 5000" type="stop"/>'),
    );
    for (const file of ['1 4/4; 2 4/4; ending 1, 5000 at 1; repeat to 1', onePart(first + bar(2, ''))])
      expect(playedAs(file)).toEqual({ times: [1, 1], said: [said] });
  });
});

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
