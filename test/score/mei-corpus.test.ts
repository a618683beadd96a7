/**
 * Habits of real MEI files: bars as they stand in the sample encodings of the MEI community
 * (github.com/music-encoding/sample-encodings; the file is named at each check), shortened. What they mean is read from the Guidelines,
 * from the paper that they encode, or from common practice, as said beside the check.
 */
import { describe, expect, it } from 'vitest';
import type { Score } from '../../src/score/model.ts';
import { playingOrder } from '../../src/score/playing.ts';
import { readMei } from '../../src/score/read/mei/index.ts';
import { F, type Problem } from '../../src/units/index.ts';
import { bar, layer, meiFile, notes, section, staff, treble } from './mei-fragments.ts';

const read = (text: string): { score: Score; problems: readonly Problem[]; codes: string[] } => {
  const result = readMei(text);
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  return { score: result.value, problems: result.problems, codes: result.problems.map(({ code }) => code) };
};
const sounding = (score: Score, part = 0): string[] =>
  (score.parts[part]?.notes ?? []).map(
    ({ onset, duration, midi }) => `${F.format(onset)} ${F.format(duration)} ${midi ?? 'x'}`,
  );

describe('a clarinet in A in a score whose definitions give the key that sounds', () => {
  // Mozart_Quintett_KV581.mei: the score has three sharps, the clarinet none and trans.semi="-3"; the section repeats the score's key.
  const clarinet =
    '<staffDef n="1" clef.shape="G" clef.line="2" keysig="0" trans.semi="-3" trans.diat="-2"><instrDef midi.instrnum="71"/></staffDef>';
  const violin = '<staffDef n="2" clef.shape="G" clef.line="2" keysig="3s"/>';
  const two = (n: number, upper: string, lower: string): string =>
    `<measure n="${n}">${staff(layer(notes(upper)), 1)}${staff(layer(notes(lower)), 2)}</measure>`;
  const score = (more: string): string =>
    meiFile(
      `<scoreDef meter.count="4" meter.unit="4" keysig="3s"><staffGrp>${clarinet}${violin}</staffGrp></scoreDef><section><scoreDef keysig="3s"/>${two(1, 'f5:1', 'c5:1 accid.ges="s"')}${more}</section>`,
    );
  const keys = (text: string): (string | undefined)[] =>
    read(text).score.parts.map((part) => part.keys.map(({ fifths }) => String(fifths)).join(' '));

  it('it keeps its own key, and goes along where the key of the score changes', () => {
    expect(keys(score(''))).toEqual(['0', '3']);
    // A to D major: the clarinet in A reads C, then F (it sounds a minor third lower).
    const changed = score(`<scoreDef keysig="2s"/>${two(2, 'f5:1', 'c5:1 accid.ges="s"')}`);
    expect(keys(changed)).toEqual(['0 -1', '3 2']);
  });

  it('so its pitches are right where accidentals follow from the key', () => {
    // Without accid.ges: written F natural sounds D5 (74), and the violin's C is C sharp (73).
    const { score: result } = read(score('').replaceAll(' accid.ges="s"', ''));
    expect(sounding(result, 0)).toEqual(['0 1 74']);
    expect(sounding(result, 1)).toEqual(['0 1 73']);
  });

  it('a key of the score that the staff shares in writing is still taken over', () => {
    const same = score('').replace('keysig="0"', 'keysig="3s"');
    expect(keys(same)).toEqual(['3', '3']);
  });
});

describe('lengths that are not said', () => {
  it('spaces without length before a rest leave it at the end of its bar', () => {
    // grace_Notes.mei, bar 2: 2/4, the last eighth is a rest on paper too.
    const { score, codes } = read(
      section(
        `<measure n="1">${staff(layer(notes('c4:2')) + layer('<space/><space/><note pname="e" oct="4" dur="8"/>', 2))}</measure>`,
        {
          defs: 'meter.count="2" meter.unit="4"',
        },
      ),
    );
    expect(sounding(score)).toEqual(['0 1/2 60', '3/8 1/8 64']);
    expect(score.bars.map(({ length }) => F.format(length))).toEqual(['1/2']);
    expect(codes).toEqual(['duration-missing']);
  });

  it('a rest that is all its layer has fills the bar, in an upbeat too', () => {
    // grace_Notes.mei, upbeat: the voice has <rest/>, the piano an eighth.
    const { score, codes } = read(
      section(
        `<measure n="0" metcon="false">${staff(layer('<rest/>'))}${staff(layer(notes('g4:8')), 2)}</measure><measure n="1">${staff(layer(notes('c4:1')))}${staff(layer(notes('c4:1')), 2)}</measure>`,
        { staves: treble + treble.replace('n="1"', 'n="2"') },
      ),
    );
    expect(score.bars.map(({ length }) => F.format(length))).toEqual(['1/8', '1']);
    expect(score.parts[0]?.written[0]).toMatchObject({ kind: 'rest', wholeBar: true });
    expect(codes).toEqual([]);
  });

  it('a chord whose notes differ goes on after the longest, whichever stands first', () => {
    // bidur.mei, bar 1: D5 a half, A4 and F4 quarters in one chord, then two quarters fill 4/4.
    const chord = (...inner: string[]): string => `<chord>${notes(...inner)}</chord>`;
    for (const inner of [
      ['d5:2', 'a4:4', 'f4:4'],
      ['f4:4', 'a4:4', 'd5:2'],
    ]) {
      const { score, problems } = read(section(bar(1, `${chord(...inner)}${notes('e5:4', 'd5:4')}`)));
      expect(sounding(score).sort()).toEqual(
        ['0 1/2 74', '0 1/4 65', '0 1/4 69', '1/2 1/4 76', '3/4 1/4 74'].sort(),
      );
      expect(problems.map(({ code, severity }) => `${code} ${severity}`)).toEqual([
        'chord-lengths-differ repair',
      ]);
    }
  });
});

describe('words in the order of the file', () => {
  const tempoMarks = (beside: string) => read(section(bar(1, notes('c4:1'), beside))).score.marks;

  it('a metronome mark in a direction is one', () => {
    // keytime.mei, bar 1.
    expect(tempoMarks('<dir tstamp="1" staff="1">\u{1D15F} = 104</dir>')).toMatchObject([
      { kind: 'tempo', unit: F.fraction(1, 4), perMinute: F.fraction(104) },
    ]);
  });

  it('signs set apart from their figures stay where they stand', () => {
    // XML 1.0, 3.2.2: mixed content is ordered.
    const [mark] = tempoMarks(
      '<tempo tstamp="1">Poco meno <rend fontfam="smufl">\u2669</rend> = <rend>\u2669.</rend></tempo>',
    );
    expect(mark).toMatchObject({ kind: 'tempoWords', text: 'Poco meno' });
    const change = tempoMarks('<tempo tstamp="1"><rend>\u2669</rend> = <rend>\u2669.</rend></tempo>');
    expect(change).toMatchObject([{ from: F.fraction(1, 4), to: F.fraction(3, 8) }]);
  });

  it('a line break parts words', () => {
    // bidur.mei, bar 1; keytime.mei, bar 5.
    const { score } = read(
      section(
        bar(
          1,
          notes('c4:1'),
          '<dir tstamp="1" staff="1">AS SINGLE CHORD WITH<lb/>DIFFERING\n NOTEHEADS</dir>',
        ),
      ),
    );
    expect(score.parts[0]?.directions.map(({ value }) => value)).toEqual([
      'AS SINGLE CHORD WITH DIFFERING NOTEHEADS',
    ]);
  });
});

describe('time in ticks', () => {
  it('marks stand where the ticks say in a file whose first note has the time stamp 0', () => {
    // part_element.mei (Echigo-Jishi): ppq="8", notes at 0, 4, 8, 12; MEI counts beats from 1 (G 4.2.6), so these are ticks.
    const beside =
      '<dynam tstamp="8" staff="1">f</dynam><hairpin tstamp="0" tstamp2="0m+12" form="dim" staff="1"/>';
    const at = (first: string): string[] =>
      (
        read(
          section(bar(1, notes(`a4:8 tstamp="${first}"`, 'a4:8', 'b4:8', 'a4:8'), beside), {
            defs: 'meter.count="2" meter.unit="4"',
            staves: treble.replace('lines', 'ppq="8" lines'),
          }),
        ).score.parts[0]?.directions ?? []
      ).map(({ value, at: place }) => `${value} ${F.format(place)}`);
    expect(at('0')).toEqual(['diminuendo 0', 'f 1/4', 'stop 3/8']);
    // Counted in beats the eighth beat of a bar in 2/4 is not there.
    expect(at('1')).not.toEqual(at('0'));
  });
});

describe('who plays', () => {
  it('a staff without a name is called what its MIDI instrument is called', () => {
    // part_element.mei.
    const koto = treble.replace('/>', '><instrDef midi.instrnum="107" midi.instrname="Koto"/></staffDef>');
    expect(read(section(bar(1, notes('c4:1')), { staves: koto })).score.parts[0]).toMatchObject({
      name: 'Koto',
      program: 108,
    });
  });

  it('a part that is listed and has no music is left out, and what holds for all stays', () => {
    const second = treble.replace('n="1"', 'n="2" label="Flute"');
    const { score, codes } = read(
      section(
        `<measure n="1" right="rptend">${staff(layer(notes('c4:1')), 2)}<tempo tstamp="1" mm="60" mm.unit="4">Largo</tempo></measure>`,
        { staves: treble.replace('n="1"', 'n="1" label="Oboe"') + second },
      ),
    );
    expect(score.parts.map(({ name }) => name)).toEqual(['Flute']);
    expect(codes).toEqual(['part-without-music']);
    expect(score.marks.map(({ kind }) => kind)).toEqual(['tempoWords', 'tempo']);
    // The repeat sign at its end too: its one bar is played twice.
    expect(playingOrder(score).order.visits.map(({ barIndex }) => barIndex)).toEqual([0, 0]);
  });
});

describe('expansions', () => {
  // G 2.1.3: a section may offer several orders; each section that has one is compared.
  const part = (id: string, n: number, more = ''): string =>
    `<section xml:id="${id}">${more}<section xml:id="${id}a">${bar(n, notes('c4:1'))}</section><section xml:id="${id}b">${bar(n + 1, notes('d4:1'))}</section></section>`;
  const order = (...ids: string[]): string => `<expansion plist="${ids.map((id) => `#${id}`).join(' ')}"/>`;

  it('the second order of a section is told, that of another section compared', () => {
    const file = (first: string, second: string): string =>
      section(part('A', 1, first) + part('B', 3, second));
    expect(read(file(order('Aa', 'Ab'), order('Ba', 'Bb'))).codes).toEqual([]);
    expect(read(file(order('Aa', 'Ab') + order('Ab', 'Aa'), '')).codes).toEqual(['not-kept']);
    expect(read(file(order('Aa', 'Ab'), order('Bb', 'Ba'))).problems).toMatchObject([
      { code: 'expansion-differs', bar: '3' },
    ]);
  });
});
