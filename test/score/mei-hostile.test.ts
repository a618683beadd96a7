/**
 * Damaged and hostile MEI: the answer is a score that holds together, with what was mended told, or an error in plain words. What is
 * the same for every format stands in hostile-formats.test.ts. The rule is our own; no outside source.
 */
import { describe, expect, it } from 'vitest';
import { readMei } from '../../src/score/read/mei/index.ts';
import { fuzzMei } from './mei-fuzz.ts';
import { bar, layer, meiFile, notes, section, staff, treble } from './mei-fragments.ts';
import { checkScore } from './musicxml-fuzz.ts';

/** The codes of what is said, and the number of written notes; or the code of the error. */
const tried = (text: string): { codes: readonly string[]; count: number } => {
  const result = readMei(text);
  if (!result.ok) return { codes: [result.error.code], count: -1 };
  checkScore(result.value);
  for (const { message } of result.problems) expect(message).not.toMatch(/undefined|NaN|Infinity|\[object/);
  return {
    codes: [...new Set(result.problems.map(({ code }) => code))],
    count: result.value.parts.reduce((sum, { written }) => sum + written.length, 0),
  };
};
const inBar = (content: string, beside = '') => tried(section(bar(1, content, beside)));

describe('numbers that nobody means', () => {
  it.each([
    ['<note pname="c" oct="4" dur="1e9"/>', 'duration-unreadable', 0],
    ['<note pname="c" oct="4" dur="0"/>', 'duration-unreadable', 0],
    ['<note pname="c" oct="4" dur="brevis"/>', 'duration-unreadable', 0],
    ['<note pname="c" oct="4" dur="constructor"/>', 'duration-unreadable', 0],
    ['<note pname="c" oct="4" dur="1" dots="9999"/>', 'duration-out-of-range', 1],
    ['<note pname="c" oct="4"/>', 'duration-missing', 0],
    ['<note dur="1"/>', 'pitch-unreadable', 1],
    ['<note pname="h" oct="4" dur="1"/>', 'pitch-unreadable', 1],
    ['<note pname="c" oct="99" dur="1"/>', 'pitch-unreadable', 1],
    ['<note pname="c" oct="4" dur="1" accid="constructor"/>', 'not-kept', 1],
    ['<tuplet num="0" numbase="0"><note pname="c" oct="4" dur="1"/></tuplet>', 'tuplet-unreadable', 1],
    ['<tuplet num="3"><note pname="c" oct="4" dur="1"/></tuplet>', 'tuplet-base-assumed', 1],
    [
      '<tuplet num="99999999999" numbase="1"><note pname="c" oct="4" dur="1"/></tuplet>',
      'tuplet-unreadable',
      1,
    ],
    ['<multiRest num="0"/>', 'duration-out-of-range', 1],
    ['<multiRest num="-3"/>', 'duration-out-of-range', 1],
    ['<mRpt/>', 'repeat-nothing', 0],
    ['<beatRpt/><note pname="c" oct="4" dur="2" dots="1"/>', 'repeat-nothing', 1],
    ['<clef shape="constructor"/><note pname="c" oct="4" dur="1"/>', 'clef-unknown', 1],
    ['<keySig sig="99s"/><note pname="c" oct="4" dur="1"/>', 'key-unreadable', 1],
    ['<meterSig count="0" unit="4"/><note pname="c" oct="4" dur="1"/>', 'metre-unreadable', 1],
    ['<nonsense/><note pname="c" oct="4" dur="1"/>', 'not-kept', 1],
    ['<nonsense><note pname="c" oct="4" dur="1"/></nonsense>', 'not-kept', 1],
    ['<chord dur="1"/><note pname="c" oct="4" dur="1"/>', 'bar-overfull', 1],
  ])('%s', (content, code, count) => {
    const found = inBar(content);
    expect(found.codes).toContain(code);
    expect(found.count).toBe(count);
  });

  it.each([
    ['<slur startid="#nowhere" endid="#nothing"/>', 'reference-broken'],
    ['<slur tstamp="1"/>', 'slur-unpaired'],
    ['<tie startid="#nowhere"/>', 'reference-broken'],
    ['<hairpin form="cres"/>', null],
    ['<dynam tstamp="1e99" staff="7">p</dynam>', 'not-kept'],
    ['<tempo mm="0"/>', 'tempo-unreadable'],
    ['<tempo midi.bpm="1e400"/>', 'tempo-unreadable'],
    ['<tupletSpan num="3" numbase="2" startid="#a"/>', 'tuplet-unreadable'],
    ['<constructor/>', 'not-kept'],
    ['<octave tstamp="1" tstamp2="999999m+9" dis="8" dis.place="above"/>', 'octave-line-applied'],
  ])('beside the staves: %s', (beside, code) => {
    const { codes, count } = inBar(notes('c4:1 xml:id="a"'), beside);
    expect(count).toBe(1);
    if (code !== null) expect(codes).toContain(code);
    else expect(codes).toEqual([]);
  });
});

describe('references', () => {
  it('in a circle are told and not followed', () => {
    const { codes } = tried(
      section(
        '<measure n="1" xml:id="a" copyof="#b"/><measure n="2" xml:id="b" copyof="#a"/>' +
          bar(3, notes('c4:1')),
      ),
    );
    expect(codes).toContain('reference-broken');
    expect(
      tried(section(bar(1, `<beam xml:id="x"><beam copyof="#x"/>${notes('c4:1')}</beam>`))).codes,
    ).toContain('reference-broken');
  });
  it('that double with each step end', () => {
    // Each layer copies the one before twice: 2^40 notes if it were followed.
    const steps = Array.from(
      { length: 40 },
      (_, n) => `<beam xml:id="b${n + 1}"><beam copyof="#b${n}"/><beam copyof="#b${n}"/></beam>`,
    );
    const { codes } = tried(section(bar(1, `<beam xml:id="b0">${notes('c4:8')}</beam>${steps.join('')}`)));
    expect(codes).toEqual(['file-too-large']);
  });
  it('in a chain that nests without end are refused', () => {
    const steps = Array.from(
      { length: 2000 },
      (_, n) => `<beam xml:id="b${n + 1}"><beam copyof="#b${n}"/></beam>`,
    );
    const { codes } = tried(section(bar(1, `<beam xml:id="b0">${notes('c4:8')}</beam>${steps.join('')}`)));
    expect(codes).toEqual(['xml-too-deep']);
  });
});

describe('size', () => {
  it('of rests for many bars is bounded', () =>
    expect(
      tried(section(Array.from({ length: 200 }, (_, n) => bar(n, '<multiRest num="999"/>')).join(''))).codes,
    ).toEqual(['too-many-bars']));
  it('of repeats of repeats is bounded', () => {
    const many = notes('c4:64').repeat(5_000);
    expect(
      tried(section(bar(1, many) + Array.from({ length: 200 }, (_, n) => bar(n + 2, '<mRpt/>')).join('')))
        .codes,
    ).toEqual(['file-too-large']);
  });
  it('of parts times bars is bounded', () => {
    const staves = Array.from({ length: 6_000 }, (_, n) => treble.replace('n="1"', `n="${n}"`)).join('');
    expect(tried(section('<measure/>'.repeat(3_000), { staves })).codes).toEqual(['file-too-large']);
  });
  it('of many notes is no hindrance', () => {
    const bars = Array.from({ length: 2500 }, (_, n) =>
      bar(n + 1, notes('c4:8', 'd4:8', 'e4:8', 'f4:8', 'g4:8', 'a4:8', 'b4:8', 'c5:8')),
    );
    const result = readMei(section(bars.join('')));
    expect(result.ok && result.value.parts[0]?.notes.length).toBe(20_000);
  });
});

describe('damage', () => {
  it('of the frame is told', () => {
    expect(tried('<mei').codes).toEqual(['xml-broken']);
    expect(tried('<mei/>').codes).toEqual(['no-bars']);
    expect(tried('<!DOCTYPE mei [<!ENTITY a "b">]><mei/>').codes).toEqual(['xml-entities']);
    expect(tried(meiFile(`<section>${bar(1, notes('c4:1'))}</section>`)).codes).toEqual([
      'part-list-missing',
      'metre-assumed',
    ]);
    expect(tried(section(`<measure n="1">${staff(layer(''))}</measure>`)).codes).toEqual(['bar-empty']);
  });
  it('by chance, a thousand times, leaves a score that holds together or an error', () => {
    const { read, refused } = fuzzMei(5, 1000);
    expect(read + refused).toBe(1000);
    expect(read).toBeGreaterThan(300);
    expect(refused).toBeGreaterThan(50);
  });
});
