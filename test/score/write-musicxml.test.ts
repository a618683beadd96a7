import { describe, expect, it } from 'vitest';
import { metre } from '../../src/score/metre.ts';
import type { Mark, Score } from '../../src/score/model.ts';
import { noMarks, noteTypes } from '../../src/score/notes.ts';
import { decimalText, drawnValues } from '../../src/score/write/musicxml/numbers.ts';
import { writeMusicXml } from '../../src/score/write/musicxml.ts';
import { bpm, F, note } from '../../src/units/index.ts';
import { barsOf, everything, part, written } from '../support/everything.ts';
import { cannotValidate, schemaErrors } from '../support/schema.ts';

/** One line for each element, without ids, which the examples of the standard do not have. */
const elements = (text: string): readonly string[] =>
  text
    .split('\n')
    .map((line) => line.trim().replace(/^<note id="[^"]*">/, '<note>'))
    .filter((line) => line !== '' && !line.startsWith('<?') && !line.startsWith('<!'));

const between = (text: string, from: string, to: string): string => {
  const start = text.indexOf(from);
  return start < 0 ? '' : text.slice(start, text.indexOf(to, start) + to.length);
};

const flat = (text: string): string => elements(text).join('');

const measures = (text: string): readonly string[] =>
  [...text.matchAll(/<measure [\s\S]*?<\/measure>/g)].map(([found]) => flat(found));

const oneBar = (change: Partial<Score> = {}): Score => ({
  title: '',
  source: 'musicxml',
  bars: barsOf([{ metre: metre(4, 4), length: note(1), number: '1' }]),
  parts: [
    part('P1', {
      name: 'Music',
      clefs: [{ at: note(0), staff: 1, sign: 'G', line: 2, octave: 0 }],
      keys: [{ at: note(0), staff: null, fifths: 0, mode: '' }],
      written: [written('n1', 0, note(0), note(1), { voice: '', value: { type: 'whole', dots: 0 } })],
    }),
  ],
  marks: [],
  ...change,
});

const tempoOf = (unit: ReturnType<typeof note>, perMinute: string, printed = true): Mark => ({
  kind: 'tempo',
  at: note(0),
  bar: 0,
  unit,
  perMinute: bpm(F.parse(perMinute) ?? F.one),
  printed,
});

describe('writing MusicXML', () => {
  // W3C MusicXML 4.0 tutorial, "Hello World", https://www.w3.org/2021/06/musicxml40/tutorial/hello-world/
  it('writes the first example of the standard as the standard does', () => {
    const { text, problems } = writeMusicXml(oneBar());
    expect(problems).toEqual([]);
    expect(elements(text)).toEqual([
      '<score-partwise version="4.0">',
      '<part-list>',
      '<score-part id="P1">',
      '<part-name>Music</part-name>',
      '</score-part>',
      '</part-list>',
      '<part id="P1">',
      '<measure number="1">',
      '<attributes>',
      '<divisions>1</divisions>',
      '<key>',
      '<fifths>0</fifths>',
      '</key>',
      '<time>',
      '<beats>4</beats>',
      '<beat-type>4</beat-type>',
      '</time>',
      '<clef>',
      '<sign>G</sign>',
      '<line>2</line>',
      '</clef>',
      '</attributes>',
      '<note>',
      '<pitch>',
      '<step>C</step>',
      '<octave>4</octave>',
      '</pitch>',
      '<duration>4</duration>',
      '<type>whole</type>',
      '</note>',
      '</measure>',
      '</part>',
      '</score-partwise>',
    ]);
    expect(text.split('\n')[1]).toBe(
      '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">',
    );
  });

  it('writes the same bytes twice', () => {
    expect(writeMusicXml(everything).text).toBe(writeMusicXml(structuredClone(everything)).text);
  });

  it.skipIf(cannotValidate !== null)('is valid against the schema, whatever the score holds', () => {
    const { parts } = everything;
    const documents = new Map([
      ['everything', everything],
      ['parts in another order', { ...everything, parts: parts.toReversed() }],
      ['one bar', oneBar()],
      ['bars only', { ...everything, parts: [] }],
      ['ids taken twice', { ...everything, parts: [...parts, ...parts] }],
    ]);
    const texts = new Map([...documents].map(([name, score]) => [name, writeMusicXml(score).text]));
    expect(schemaErrors(texts)).toEqual([]);
    // The check can fail: an element that the standard does not have.
    const broken = writeMusicXml(oneBar()).text.replaceAll('duration>', 'lasting>');
    expect(schemaErrors(new Map([['broken', broken]])).join()).toContain('lasting');
  });

  it('keeps the length of bars that nothing fills', () => {
    const bars = measures(writeMusicXml(everything).text);
    // The clarinet's bar 5 lasts 5/8 and holds an eighth: at 42 divisions of a quarter, 84 are left.
    expect(bars[5]).toContain('<forward><duration>84</duration></forward>');
  });

  it('says pickups and unnumbered bars are not numbered on the page', () => {
    const heads = [...writeMusicXml({ ...everything, parts: [] }).text.matchAll(/<measure ([^>]*)>/g)];
    expect(heads.map(([, head]) => head)).toEqual([
      'number="0" implicit="yes"',
      ...['1', '2', '3', '4', '5', '6'].map((number) => `number="${number}"`),
      'number="" implicit="yes"',
      'number="12a"',
      'number="X1" implicit="yes"',
    ]);
  });

  // MusicXML 4.0, type repeat, type ending, element sound: see musicxml.xsd.
  it('writes repeats, endings and jumps with sign and meaning', () => {
    const bars = measures(writeMusicXml(everything).text);
    expect(bars[1]).toContain(
      '<barline location="left"><bar-style>heavy-light</bar-style><repeat direction="forward"/></barline>',
    );
    expect(bars[1]).toContain('<segno/></direction-type><sound segno="A"/>');
    expect(bars[2]).toContain('<ending number="1, 2" type="start">1. 2.</ending>');
    expect(bars[2]).toContain(
      '<bar-style>light-heavy</bar-style><fermata/><ending number="1, 2" type="stop"/>' +
        '<repeat direction="backward" times="3" after-jump="yes"/>',
    );
    expect(bars[3]).toContain('<words>To Coda</words></direction-type><sound tocoda="B"/>');
    expect(bars[3]).toContain('<ending number="3" type="discontinue"/>');
    expect(bars[4]).toContain('<words>D.S.</words></direction-type><sound dalsegno="A"/>');
    expect(bars[5]).toContain('<coda/></direction-type><sound coda="B"/>');
    expect(bars[6]).toContain('<words>Fine</words></direction-type><sound fine="yes"/>');
    expect(bars[8]).toContain('<words>D.C.</words></direction-type><sound dacapo="yes"/>');
  });

  it('shows what holds for everyone once', () => {
    const { text } = writeMusicXml(everything);
    expect(text.match(/<rehearsal>/g)).toHaveLength(1);
    expect(text.match(/<sound tempo=/g)).toHaveLength(5);
    expect(text.match(/<sound dacapo=/g)).toHaveLength(1);
  });

  // MusicXML 4.0, group transpose: octaves apart. B flat clarinet, bass clarinet and bass recorder are its readings.
  it('tells octaves of a transposition apart', () => {
    const found = [...flat(writeMusicXml(everything).text).matchAll(/<transpose>(.*?)<\/transpose>/g)];
    expect(
      found.map(([, inner]) =>
        inner
          ?.replace(/<\/[^>]*>/g, ' ')
          .replace(/[<>]/g, ' ')
          .trim(),
      ),
    ).toEqual([
      'diatonic -1  chromatic -2',
      'diatonic -1  chromatic -2  octave-change -1',
      'diatonic 0  chromatic 0  octave-change -1',
      'diatonic 0  chromatic 0',
    ]);
  });
});

describe('tempo marks', () => {
  // Quarters per minute by arithmetic: MusicXML 4.0, element sound, "tempo is expressed in quarter notes per minute".
  it.each([
    [note(1, 4), '92', '<beat-unit>quarter</beat-unit><per-minute>92</per-minute>', '92'],
    [note(3, 8), '60', '<beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>60</per-minute>', '90'],
    [note(1, 2), '133.33', '<beat-unit>half</beat-unit><per-minute>133.33</per-minute>', '266.66'],
    [note(1, 16), '211', '<beat-unit>16th</beat-unit><per-minute>211</per-minute>', '52.75'],
    [note(7, 16), '40', '<beat-unit>quarter</beat-unit><beat-unit-dot/><beat-unit-dot/><per-minute>40', '70'],
    [
      note(5, 8),
      '40',
      '<beat-unit>half</beat-unit><beat-unit-tied><beat-unit>eighth</beat-unit></beat-unit-tied><per-minute>40',
      '100',
    ],
  ])('writes %o = %s', (unit, figure, drawn, quarters) => {
    const { text, problems } = writeMusicXml(oneBar({ marks: [tempoOf(unit, figure)] }));
    expect(problems).toEqual([]);
    expect(flat(between(text, '<metronome', '</metronome>'))).toContain(drawn);
    expect(text).toContain(`<sound tempo="${quarters}"/>`);
  });

  it('writes a tempo that is not printed as a sound only', () => {
    const { text } = writeMusicXml(oneBar({ marks: [tempoOf(note(3, 8), '60', false)] }));
    expect(text).not.toContain('<metronome');
    expect(text).not.toContain('<direction');
    expect(text).toContain('<sound tempo="90"/>');
  });

  it('says where a tempo has no finite decimal or a unit that no note values make up', () => {
    const rounded = writeMusicXml(oneBar({ marks: [tempoOf(note(1, 4), '400/3')] }));
    expect(rounded.problems.map(({ code }) => code)).toEqual(['tempo-rounded']);
    expect(rounded.text).toContain('<per-minute>133.333333333333</per-minute>');
    const third = writeMusicXml(oneBar({ marks: [tempoOf(note(1, 3), '60')] }));
    expect(third.problems.map(({ code }) => code)).toEqual(['tempo-unit-not-drawn']);
    expect(third.text).toContain('<sound tempo="80"/>');
  });

  it('draws every note value with up to three dots as itself', () => {
    noteTypes.forEach((type, index) => {
      for (const dots of [0, 1, 2, 3]) {
        const plain = F.div(F.fraction(8), F.fraction(2 ** index));
        const length = F.mul(plain, F.sub(F.fraction(2), F.fraction(1, 2 ** dots)));
        expect(drawnValues(length)).toEqual([{ type, dots }]);
      }
    });
  });

  it('writes decimals without exponents', () => {
    expect(decimalText(F.fraction(1, 8))).toEqual({ text: '0.125', exact: true });
    expect(decimalText(F.fraction(10n ** 25n))).toEqual({ text: '1'.padEnd(26, '0'), exact: true });
    expect(decimalText(F.fraction(1, 2 ** 20))).toEqual({ text: '0.00000095367431640625', exact: true });
    expect(decimalText(F.fraction(2, 3))).toEqual({ text: '0.666666666667', exact: false });
  });
});

describe('what MusicXML cannot hold', () => {
  it('leaves out characters that XML forbids, and says so', () => {
    const score = oneBar({ title: 'A\u0000B\ud800C\u{1d11e}' });
    const { text, problems } = writeMusicXml(score);
    expect(text).toContain('<work-title>ABC\u{1d11e}</work-title>');
    expect(problems.map(({ code }) => code)).toEqual(['text-not-xml']);
  });

  it('writes a bar plan as one silent part, and says so', () => {
    const { text, problems } = writeMusicXml({ ...oneBar(), parts: [] });
    expect(problems.map(({ code }) => code)).toEqual(['no-parts']);
    expect(flat(text)).toContain('<rest measure="yes"/><duration>4</duration>');
  });

  it('leaves out notes that last no time; their chord keeps the next as its first', () => {
    const [first] = oneBar().parts;
    if (first === undefined) throw new Error('no part');
    const notes = [
      written('n1', 0, note(0), note(0)),
      written('n2', 0, note(0), note(1), { chord: true, pitch: { step: 'G', alter: 0, octave: 4 } }),
    ];
    const { text, problems } = writeMusicXml(oneBar({ parts: [{ ...first, written: notes }] }));
    expect(problems.map(({ code, bar }) => [code, bar])).toEqual([['duration-not-positive', '1']]);
    expect(text.match(/<note /g)).toHaveLength(1);
    expect(text).not.toContain('<chord/>');
  });

  it('says where a sign is none of the standard', () => {
    const [first] = oneBar().parts;
    if (first === undefined) throw new Error('no part');
    const odd = [
      written('n1', 0, note(0), note(1), { accidental: 'wobbly', notehead: 'heart', beams: ['loop'] }),
    ];
    const { text, problems } = writeMusicXml(oneBar({ parts: [{ ...first, written: odd }] }));
    expect(problems.map(({ code }) => code)).toEqual(Array(3).fill('sign-not-standard'));
    expect(flat(text)).toContain('<accidental>other</accidental><notehead>other</notehead></note>');
  });

  it('begins and ends wavy lines by turns', () => {
    const [first] = oneBar().parts;
    if (first === undefined) throw new Error('no part');
    const wavy = { ...noMarks, ornaments: ['wavy-line'] };
    const notes = [0, 1, 2, 3].map((n) => written(`n${n}`, 0, note(n, 4), note(1, 4), { marks: wavy }));
    const { text } = writeMusicXml(oneBar({ parts: [{ ...first, written: notes }] }));
    const types = [...text.matchAll(/<wavy-line type="(\w+)"/g)].map(([, type]) => type);
    expect(types).toEqual(['start', 'stop', 'start', 'stop']);
  });

  it('says where a note is beyond the octaves of the standard', () => {
    const [first] = oneBar().parts;
    if (first === undefined) throw new Error('no part');
    const low = [written('n1', 0, note(0), note(1), { pitch: { step: 'C', alter: 0, octave: -1 } })];
    const { problems } = writeMusicXml(oneBar({ parts: [{ ...first, written: low }] }));
    expect(problems.map(({ code }) => code)).toEqual(['octave-moved']);
  });
});
