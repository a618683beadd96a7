/** The same problem in files of different kinds has the same code. The rule is our own; no outside source. */
import { describe, expect, it } from 'vitest';
import { playingOrder } from '../../src/score/playing.ts';
import { readScore } from '../../src/score/read/recognise.ts';
import type { Problem } from '../../src/units/index.ts';
import { oneTrack } from './midi-files.ts';
import { attributes, fullBar, measure, note, onePart, time, twoParts } from './musicxml-fragments.ts';
import { oneBar } from './one-bar.ts';

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
const meiHalf = '<note pname="c" oct="4" dur="2"/>';
const silent = '<note><pitch><step>C</step><octave>4</octave></pitch></note>';
const noTuplet =
  '<time-modification><actual-notes>0</actual-notes><normal-notes>2</normal-notes></time-modification>';
const deep = (name: string): string => `<${name}>`.repeat(5000) + `</${name}>`.repeat(5000);
/** Western European letters in formats that are UTF-8 unless they say otherwise. */
const wronglyEncoded = (): readonly Uint8Array[] =>
  (['musicxml', 'mei', 'kern', 'abc'] as const).map((format) =>
    Uint8Array.from(oneBar(format, 'Fl\u00f6te'), (sign) => sign.charCodeAt(0)),
  );

/** One bar in a format with something in it replaced; a word that is not there would make an idle test. */
const changed =
  (format: 'mei' | 'kern' | 'abc') =>
  (...changes: readonly (readonly [from: string, to: string])[]): string =>
    changes.reduce(
      (text, [from, to]) => {
        if (!text.includes(from)) throw new Error(`There is no "${from}" in the ${format} bar.`);
        return text.replace(from, to);
      },
      oneBar(format, 'A'),
    );
const mei = changed('mei');
const kern = changed('kern');
const abc = changed('abc');
const meiNote = '<note pname="c" oct="4" dur="1"/>';
const meiBar = (number: number, dur = 1): string =>
  `<measure n="${number}"><staff n="1"><layer n="1"><note pname="c" oct="4" dur="${dur}"/></layer></staff></measure>`;
/** Beside the notes of an MEI bar. */
const beside = (what: string) => mei(['</staff></measure>', `</staff>${what}</measure>`]);

const cases: readonly (readonly [code: string, files: readonly (string | Uint8Array)[]])[] = [
  ['file-empty', ['', ' \n', new Uint8Array()]],
  [
    'no-bars',
    [
      '<score-partwise/>',
      '<mei xmlns="http://www.music-encoding.org/ns/mei"/>',
      '**kern\n*-\n',
      'X:1\nT:A\nM:4/4\nK:C\n',
    ],
  ],
  ['encoding-wrong', wronglyEncoded()],
  ['not-text', [kern(['1c', '1\0c']), abc(['C4', 'C\x014'])]],
  ['xml-too-deep', [deep('a'), mei([meiNote, deep('beam')])]],
  [
    'metre-unreadable',
    [
      '1-8 0/4',
      xml(attributes(1, time(0, 4)) + fullBar()),
      mei(['meter.count="4"', 'meter.count="0"']),
      kern(['*M4/4', '*M0/4']),
      abc(['M:4/4', 'M:0/4']),
      oneTrack([...signature(0, 0, 2), ...endOfPiece]),
    ],
  ],
  [
    'key-unreadable',
    [
      xml(attributes(1, `<key><fifths>99</fifths></key>${time(4, 4)}`) + fullBar()),
      mei(['meter.count', 'keysig="99s" meter.count']),
      abc(['K:C', 'K:Q']),
      oneTrack([...common, 0x00, 0xff, 0x59, 0x02, 99, 0, ...endOfPiece]),
    ],
  ],
  [
    // ABC 2.1 without M: is music without metre: nothing is assumed.
    'metre-assumed',
    [
      xml(attributes(1, '') + fullBar()),
      mei([' meter.count="4" meter.unit="4"', '']),
      kern(['*M4/4\n', '']),
      oneTrack(endOfPiece),
    ],
  ],
  [
    'metre-mid-bar',
    [
      xml(attributes(1) + halfBar + attributes(1, time(3, 4)) + halfBar),
      mei([meiNote, `${meiHalf}<meterSig count="3" unit="4"/>${meiHalf}`]),
      kern(['1c', '2c\n*M3/4\n2c']),
      abc(['C4', 'C2[M:3/4]C2']),
      oneTrack([...common, ...signature(96, 3, 2), ...endOfPiece]),
    ],
  ],
  [
    'bar-overfull',
    [
      xml(attributes(1) + note('C4', 5)),
      mei([meiNote, meiNote + meiNote]),
      kern(['1c', '1c\n1c']),
      abc(['C4', 'C8']),
    ],
  ],
  [
    'bar-short',
    [
      onePart(measure('1', attributes(1) + fullBar()) + measure('2', halfBar) + measure('3', fullBar())),
      mei(['<measure n="1">', `${meiBar(1)}${meiBar(2, 2)}<measure n="3">`]),
      kern(['1c', '1c\n=2\n2c\n=3\n1c']),
      abc(['C4', 'C4|C2|C4']),
    ],
  ],
  [
    'bar-empty',
    [
      onePart(measure('1', attributes(1) + fullBar()) + measure('2', '')),
      mei(['</section>', '<measure n="2"/></section>']),
    ],
  ],
  [
    'pitch-unreadable',
    [
      xml(attributes(1) + halfBar + halfBar.replace('<step>C', '<step>H')),
      mei(['pname="c"', 'pname="h"']),
      kern(['1c', '1ce']),
    ],
  ],
  [
    'clef-unknown',
    [
      xml(attributes(1, `${time(4, 4)}<clef><sign>Q</sign></clef>`) + fullBar()),
      mei(['shape="G"', 'shape="Q"']),
      kern(['*clefG2', '*clefQ2']),
      abc(['K:C', 'K:C clef=banjo']),
    ],
  ],
  [
    'tempo-unreadable',
    [
      xml(`${attributes(1)}<sound tempo="fast"/>${fullBar()}`),
      beside('<tempo tstamp="1" midi.bpm="fast">x</tempo>'),
      beside('<tempo tstamp="1" mm="0" mm.unit="4">x</tempo>'),
      kern(['*M4/4', '*M4/4\n*MM0']),
      abc(['K:C', 'Q:1/4=0\nK:C']),
    ],
  ],
  [
    'tie-not-ended',
    [
      xml(attributes(1) + note('C4', 4, '<tie type="start"/>')),
      mei(['dur="1"', 'dur="1" tie="i"']),
      kern(['1c', '[1c']),
      abc(['C4', 'C2-D2']),
    ],
  ],
  [
    'tie-without-start',
    [
      xml(attributes(1) + note('C4', 4, '<tie type="stop"/>')),
      mei(['dur="1"', 'dur="1" tie="t"']),
      kern(['1c', '1c]']),
    ],
  ],
  ['duration-missing', [xml(attributes(1) + halfBar + silent), mei([' dur="1"', '']), kern(['1c', '2c\nc'])]],
  ['duration-unreadable', [xml(attributes(1) + note('C4', 'x')), mei(['dur="1"', 'dur="x"'])]],
  [
    'duration-out-of-range',
    [
      xml(attributes(1) + note('C4', 999_999_999)),
      mei(['dur="1"', 'dur="1" dots="400"']),
      kern(['1c', '1%999999c']),
      abc(['C4', 'C99999999']),
    ],
  ],
  [
    'tuplet-unreadable',
    [
      xml(attributes(1) + note('C4', 4, noTuplet)),
      mei([meiNote, `<tuplet num="0" numbase="2">${meiNote}</tuplet>`]),
      abc(['C4', '(0CCC']),
    ],
  ],
  [
    'ending-number-missing',
    [
      xml(
        `<barline location="left"><ending number="" type="start">bis</ending></barline>${attributes(1)}${fullBar()}`,
      ),
      mei(['<measure n="1">', '<ending><measure n="1">'], ['</measure>', '</measure></ending>']),
      abc(['C4|]', '["bis" C4|]']),
    ],
  ],
  [
    'repeat-nothing',
    [
      xml(`<barline location="left"><repeat direction="backward"/></barline>${attributes(1)}${fullBar()}`),
      mei(['<measure n="1">', '<measure n="1" left="rptend">']),
      kern(['=1', '=1:|!']),
      abc(['C4', '::C4']),
    ],
  ],
  [
    'jump-from-print',
    [
      xml(
        `${attributes(1)}${fullBar()}<direction><direction-type><words>D.C.</words></direction-type></direction>`,
      ),
      beside('<dir tstamp="4">D.C.</dir>'),
      kern(['1c', '!LO:TX:t=D.C.\n1c']),
      abc(['C4', 'C4!D.C.!']),
    ],
  ],
  [
    'transpose-steps-missing',
    [
      xml(attributes(1, `${time(4, 4)}<transpose><chromatic>-2</chromatic></transpose>`) + fullBar()),
      mei(['n="1" lines', 'trans.semi="-2" n="1" lines']),
      abc(['K:C', 'K:C transpose=-2']),
    ],
  ],
  [
    'part-without-music',
    [
      xml(attributes(1) + fullBar()).replace(
        '</part-list>',
        '<score-part id="P2"><part-name>B</part-name></score-part></part-list>',
      ),
      abc(['K:C', '%%score 1 2\nV:1\nV:2\nK:C']),
    ],
  ],
  [
    'part-lacks-bars',
    [
      twoParts(measure('1', attributes(1) + fullBar()) + measure('2', fullBar()), measure('1', fullBar())),
      mei(
        ['</staffGrp>', '<staffDef n="2" lines="5"/></staffGrp>'],
        [
          '</staff></measure>',
          `</staff><staff n="2"><layer n="1">${meiNote}</layer></staff></measure>${meiBar(2)}`,
        ],
      ),
      'X:1\nM:4/4\nL:1/4\nK:C\nV:1\nC4|C4|C4|\nV:2\nC4|\n',
    ],
  ],
  [
    'part-id-changed',
    [
      xml(attributes(1) + fullBar()).replaceAll('"P1"', '"7 x"'),
      abc(['K:C', 'V:\u00e4\nK:C'], ['C4', '[V:\u00e4]C4']),
    ],
  ],
  ['chord-lengths-differ', [kern(['1c', '1c 2e']), abc(['C4', '[C4E2]'])]],
  [
    'slur-unpaired',
    [
      beside('<slur startid="#none" endid="#neither"/>'),
      kern(['1c', '1c)']),
      kern(['1c', '(1c']),
      abc(['C4', 'C4)']),
      abc(['C4', '(C4']),
    ],
  ],
  [
    'several-pieces',
    [
      mei(['</mdiv>', `</mdiv><mdiv><score><section>${meiBar(1)}</section></score></mdiv>`]),
      `${oneBar('abc', 'A')}\n${oneBar('abc', 'B')}`,
    ],
  ],
  ['ending-number-absurd', ['1-4 4/4; ending 0 at 4', abc(['C4|]', '|:C4:|[5000 C4|]'])]],
  ['bars-reversed', ['16-1 4/4', '1-8 4/4; repeat 8-1', '1-8 4/4; ending 1 at 8-7']],
  ['bar-unknown', ['1-8 4/4; mark A at 12', '1-8 4/4; mark A at 99th bar']],
  [
    'not-kept',
    [
      xml(`${attributes(1)}<figured-bass><figure/></figured-bass>${fullBar()}`),
      beside('<harm tstamp="1"><fb><f>6</f></fb></harm>'),
      '**kern\t**fb\n*M4/4\t*\n=1\t=1\n1c\t6\n==\t==\n*-\t*-\n',
      xml(
        attributes(1, `<key><key-step>F</key-step><key-alter>1</key-alter></key>${time(4, 4)}`) + fullBar(),
      ),
      mei(['<layer n="1">', '<layer n="1"><keySig><keyAccid pname="f" accid="f"/></keySig>']),
      kern(['*M4/4', '*k[f-]\n*M4/4']),
      abc(['K:C', 'K:C exp _f']),
      abc(['C4', '"Cmaj7"C4']),
      beside('<harm tstamp="1">Cmaj7</harm>'),
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
    for (const file of files)
      expect(
        problemsOf(file).map((problem) => problem.code),
        typeof file === 'string' ? file : '',
      ).toContain(code);
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
