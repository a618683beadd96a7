/**
 * The MEI reader against worked examples of the MEI Guidelines, one by one (mei-examples.ts names the file of each), and against what
 * the Guidelines say in words: "G" with the number of the section, version 5.1. Rules that they leave open are in docs/formats/mei.md.
 */
import { describe, expect, it } from 'vitest';
import { metreText } from '../../src/score/metre.ts';
import type { Score } from '../../src/score/model.ts';
import { pitchText } from '../../src/score/pitch.ts';
import { playingOrder } from '../../src/score/playing.ts';
import { readMei } from '../../src/score/read/mei/index.ts';
import { F, type Problem } from '../../src/units/index.ts';
import { examples } from './mei-examples.ts';
import { bar, layer, meiFile, notes, section, staff, treble } from './mei-fragments.ts';

const read = (text: string): { score: Score; problems: readonly Problem[]; codes: string[] } => {
  const result = readMei(text);
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  return { score: result.value, problems: result.problems, codes: result.problems.map(({ code }) => code) };
};
const example = (name: keyof typeof examples) => read(examples[name]);

/** What sounds in a part: "onset length key" each; "x" for a note without pitch. */
const sounding = (score: Score, part = 0): string[] =>
  (score.parts[part]?.notes ?? []).map(
    ({ onset, duration, midi }) => `${F.format(onset)} ${F.format(duration)} ${midi ?? 'x'}`,
  );
const written = (score: Score, part = 0) => score.parts[part]?.written ?? [];
const bars = (score: Score): string[] =>
  score.bars.map(({ number, length, metre }) => `${number} ${F.format(length)} ${metreText(metre)}`);
const refusal = (text: string): string => {
  const result = readMei(text);
  return result.ok ? 'read' : result.error.code;
};

describe('examples of the Guidelines', () => {
  it('transposing instruments sound as their comments say', () => {
    const { score, codes } = example('transposition');
    expect(score.parts.map(({ id, name, abbreviation }) => [id, name, abbreviation])).toEqual([
      ['P1', 'Piccolo', 'Picc.'],
      ['P2', 'Flute', 'Fl.'],
      ['P3', 'Clarinet in E♭', 'E♭ Cl.'],
    ]);
    // C5 is 72: an octave higher, as written, a minor third higher.
    expect([0, 1, 2].map((part) => sounding(score, part))).toEqual([
      ['0 3/4 84'],
      ['0 3/4 72'],
      ['0 3/4 75'],
    ]);
    expect(score.parts.map(({ keys }) => keys.map(({ fifths, mode }) => `${fifths} ${mode}`))).toEqual([
      ['-4 major'],
      ['-4 major'],
      ['-1 major'],
    ]);
    expect(codes).toEqual([]);
  });

  it('ties go through a chord and over the bar line', () => {
    const { score, codes } = example('ties');
    // F2 and F1 struck; then F2, A2, C3 one after the other; with F3 all are held in a chord into bar 2. F2 and A2 are tied over a
    // gap: only what touches is one note in the model, and this is told.
    expect(sounding(score)).toEqual([
      '1/2 1/16 29',
      '1/2 1/16 41',
      '9/16 1/16 41',
      '5/8 1/16 45',
      '11/16 3/8 48',
      '3/4 5/16 41',
      '3/4 5/16 45',
      '3/4 5/16 53',
    ]);
    expect(codes.sort()).toEqual([
      'tie-not-ended',
      'tie-not-ended',
      'tie-without-start',
      'tie-without-start',
    ]);
  });

  it('a tie at a chord is equivalent to ties at its notes', () => {
    const short = sounding(example('chordTie').score);
    expect(short).toEqual(sounding(example('chordTieInFull').score));
    expect(short).toEqual(['0 1/2 65', '0 1/2 69', '0 1/2 72']);
  });

  it('two slurs at once have two numbers', () =>
    expect(
      written(example('slurs').score).map(({ voice, marks }) => [
        voice,
        ...marks.slurs.map(({ type, number }) => `${type} ${number}`),
      ]),
    ).toEqual([
      ['1', 'start 1'],
      ['2', 'start 1'],
      ['1', 'start 2'],
      ['1', 'stop 2'],
      ['1', 'stop 1'],
      ['2', 'stop 1'],
    ]));

  it('"breaksec indicates the number of continuous beams"', () =>
    expect(written(example('beams').score).map(({ beams }) => beams.join(', '))).toEqual([
      'begin',
      'end, backward hook',
      'begin, begin, begin',
      'continue, continue, end',
      'continue, end',
      'continue, begin, begin',
      'continue, continue, continue',
      'continue, continue, continue',
      'end, end, end',
    ]));

  it('"grace notes are not counted"', () => {
    const { score } = example('graces');
    expect(
      written(score).map(({ kind, onset, slash }) => `${kind} ${F.format(onset)} ${String(slash)}`),
    ).toEqual([
      'note 0 false',
      'grace 1/8 true',
      'note 1/8 false',
      'grace 1/4 true',
      'note 1/4 false',
      'note 3/8 false',
    ]);
    expect(bars(score)).toEqual(['1 1/2 2/4']);
  });

  it('a tuplet has num notes in the time of numbase; a staff without clef has no pitches', () => {
    const { score, codes } = example('bolero');
    const figure = (at: number): string[] =>
      [`${F.format(F.fraction(at, 4))} 1/8 x`].concat(
        [0, 1, 2].map((n) => `${F.format(F.add(F.fraction(2 * at + 1, 8), F.fraction(n, 24)))} 1/24 x`),
      );
    expect(sounding(score)).toEqual([...figure(0), ...figure(1), '1/2 1/8 x', '5/8 1/8 x']);
    expect(codes).toEqual(['bars-counted']);
  });

  it('tuplets and beams cross each other', () => {
    const { score, codes } = example('tupletSpans');
    expect(written(score).map(({ onset }) => F.format(onset))).toEqual(
      Array.from({ length: 12 }, (_, n) => F.format(F.fraction(n, 12))),
    );
    expect(written(score).map(({ tupletMarks }) => tupletMarks.map(({ type }) => type).join())).toEqual([
      ...['start', '', 'stop', 'start', '', 'stop'],
      ...['start', '', 'stop', 'start', '', 'stop'],
    ]);
    expect(
      written(score)
        .slice(6)
        .map(({ beams }) => beams.join()),
    ).toEqual([...['', 'begin', 'continue', 'continue', 'continue', 'end']]);
    // "b" flat is written; the file says of no note how it sounds, and nothing else is altered.
    expect(codes).toEqual(['bars-counted']);
  });

  it('"for correct MIDI output, oct.ges needs to be provided": it is what sounds', () => {
    const { score, codes } = example('octaves');
    expect(score.parts[0]?.notes.map(({ midi }) => midi)).toEqual([88, 88, 40, 40, 48]);
    expect(score.parts[0]?.directions.map(({ value, at }) => `${value} ${F.format(at)}`)).toEqual([
      ...['down 8 1', 'stop 2', 'up 8 2', 'stop 3', 'up 15 3', 'stop 19/4'],
    ]);
    expect(codes).toEqual([]);
  });

  it('mRpt is for "repetition of an entire measure"', () => {
    const { score } = example('barRepeats');
    const all = sounding(score);
    expect(all).toHaveLength(28);
    for (let n = 7; n < 28; n += 1) {
      const [onset = '', ...rest] = (all[n] ?? '').split(' ');
      const [before = '', ...same] = (all[n - 7] ?? '').split(' ');
      expect(rest).toEqual(same);
      expect(F.sub(F.parse(onset) ?? F.zero, F.parse(before) ?? F.zero)).toEqual(F.fraction(3, 4));
    }
    // The first bar: F4, A4, C5, A4; C5, A4, G4, durations taken from the note before.
    expect(all.slice(0, 7)).toEqual([
      ...['0 1/8 65', '1/8 1/16 69', '3/16 1/16 72', '1/4 1/8 69'],
      ...['3/8 1/8 72', '1/2 1/8 69', '5/8 1/8 67'],
    ]);
  });

  it('"it is possible to continuously repeat half measures, even across bar lines"', () =>
    expect(sounding(example('halfBarRepeats').score)).toEqual(
      [0, 1, 2, 3].flatMap((n) => [
        `${F.format(F.fraction(n, 2))} 1/2 35`,
        `${F.format(F.fraction(n, 2))} 1/2 43`,
      ]),
    ));

  it('cue notes are "not to be played"; a bar rest lasts its bar', () => {
    const { score } = example('cueLayer');
    expect(sounding(score)).toEqual(['3/2 1/4 82']);
    expect(bars(score)).toEqual(['0 1/4 3/4', '1 3/4 3/4', '2 3/4 3/4'].map((one) => one.replace(/^0/, '')));
    expect(score.bars.map(({ pickup }) => pickup)).toEqual([true, false, false]);
    expect(score.parts[0]?.clefs.map(({ sign, at }) => `${sign} ${F.format(at)}`)).toEqual([
      'G 0',
      'F 0',
      'G 3/2',
    ]);
  });

  it('of an ossia the original content sounds', () => {
    const first = example('ossiaStaff');
    expect([0, 1, 2].map((part) => sounding(first.score, part))).toEqual([
      ['0 1 60'],
      ['0 1 64'],
      ['0 1 67'],
    ]);
    expect(first.codes).toEqual(['not-kept']);
    const second = example('ossiaLayer');
    expect(sounding(second.score)).toEqual(['0 1 60']);
    expect(second.codes).toEqual(['not-kept']);
  });

  it('keys and metres change, and one measure stands for three bars of rest', () => {
    const { score, codes } = example('redefinition');
    expect(score.parts[0]?.keys.map(({ fifths, at }) => `${fifths} ${F.format(at)}`)).toEqual([
      '-4 0',
      '0 1',
      '2 2',
      '-5 6',
      '2 7',
    ]);
    expect(score.bars.map(({ metre }) => `${metreText(metre)} ${metre.symbol}`)).toEqual([
      ...[
        '4/4 common',
        '4/4 common',
        '2/2 cut',
        '2/2 cut',
        '2/2 cut',
        '2/2 cut',
        '4/4 numbers',
        '4/4 numbers',
      ],
    ]);
    expect(score.bars.map(({ barline }) => barline)).toEqual([
      ...['double', 'double', 'regular', 'regular', 'regular', 'double', 'double', 'final'],
    ]);
    // A flat major, A minor, B minor, G flat major, B minor as keys of the piano.
    expect(score.parts[0]?.notes.map(({ midi }) => midi)).toEqual([
      ...[68, 72, 75, 69, 72, 76, 71, 74, 78, 66, 70, 73, 71, 74, 78],
    ]);
    expect(codes).toEqual(['bars-counted']);
  });

  it('a tempo in words and a figure', () => {
    const { score, codes } = example('tempo');
    expect(score.marks).toEqual(
      [
        { kind: 'tempoWords', at: F.zero, bar: 0, text: 'Andante con moto' },
        {
          kind: 'tempo',
          at: F.zero,
          bar: 0,
          unit: F.fraction(1, 2),
          perMinute: F.fraction(70),
          printed: true,
        },
      ].sort((a, b) => (a.kind < b.kind ? 1 : -1)),
    );
    expect(score.bars.map(({ pickup }) => pickup)).toEqual([true, false]);
    expect(codes).toEqual([]);
  });

  it('directions stand at their time stamps; rehearsal marks without one at the bar line', () => {
    const { score } = example('directions');
    expect(
      score.parts[0]?.directions.map(({ kind, value, at, above }) => [kind, value, F.format(at), above]),
    ).toEqual([['words', 'cresc. poco a poco', '3/8', true]]);
    expect(score.marks).toEqual([{ kind: 'rehearsal', at: F.zero, bar: 0, text: '17' }]);
  });

  it('the notes of a fingered tremolo share its time', () =>
    // MusicXML 4.0, time-modification, says the same of its double-note tremolos: each lasts half of what it shows.
    expect(sounding(example('fingeredTremolo').score)).toEqual(['0 1/8 65', '1/8 1/8 69']));

  it('repeat marks say what they mean', () => {
    const { score, codes } = example('repeatMark');
    expect(score.bars.map(({ jumps }) => jumps.map(({ kind }) => kind).join())).toEqual([
      ...['', 'segno,fine', 'dalSegno'],
    ]);
    expect(playingOrder(score).order.visits.map(({ barIndex }) => barIndex)).toEqual([0, 1, 2, 1]);
    expect(codes).toEqual([]);
  });
});

describe('pitch', () => {
  const keys = (content: string, defs = 'meter.count="4" meter.unit="4"'): (number | null)[] =>
    read(section(bar(1, content), { defs })).score.parts[0]?.notes.map(({ midi }) => midi) ?? [];

  it('is what is performed where the file says so, else what is written', () => {
    // att.accidental.performed: "records the performed pitch inflection when it differs from the written accidental".
    const text = section(bar(1, notes('f4:2 accid="n" accid.ges="s"', 'f4:2 accid="s"')));
    expect(read(text).score.parts[0]?.notes.map(({ midi }) => midi)).toEqual([66, 66]);
    expect(read(text).codes).toEqual(['pitch-performed-differs']);
  });

  it('of a file that never says how it sounds follows key signature and bar', () => {
    // Common practice, no source: in one sharp F is sharp; an accidental holds for its line to the end of the bar.
    const text = section(
      bar(1, notes('f4:4', 'f4:4 accid="n"', 'f4:4', 'f5:4')) + bar(2, notes('f4:4', 'c4:4', 'g4:4', 'g4:4')),
      { defs: 'meter.count="4" meter.unit="4" keysig="1s"' },
    );
    const { score, problems } = read(text);
    expect(score.parts[0]?.notes.map(({ pitch }) => pitch && pitchText(pitch))).toEqual([
      ...['F#4', 'F4', 'F4', 'F#5', 'F#4', 'C4', 'G4', 'G4'],
    ]);
    expect(problems.map(({ code, message }) => `${code} ${message}`)).toEqual([
      'accidentals-implied The file does not say how notes without an accidental of their own are altered; key signature and the accidentals before in the bar are applied (3 times).',
    ]);
  });

  it('of a file that does is what it says', () =>
    expect(keys(notes('f4:2 accid.ges="s"', 'f4:2'), 'meter.count="4" meter.unit="4" keysig="1s"')).toEqual([
      66, 65,
    ]));

  it('of a tied note is that of the note it is tied to', () =>
    expect(
      read(
        section(
          bar(1, notes('f4:1 accid="s" xml:id="a"'), '<tie startid="#a" endid="#b"/>') +
            bar(2, notes('f4:2 xml:id="b"', 'f4:2')),
        ),
      ).score.parts[0]?.notes.map(({ midi, duration }) => `${midi ?? ''} ${F.format(duration)}`),
    ).toEqual(['66 3/2', '65 1/2']));

  it('stands an octave away under an octave line that nothing else explains', () => {
    const { score, codes } = read(
      section(
        bar(
          1,
          notes('c5:2 xml:id="a"', 'd5:2 xml:id="b"'),
          '<octave startid="#a" endid="#b" dis="8" dis.place="above"/>',
        ) + bar(2, notes('c5:1')),
      ),
    );
    expect(score.parts[0]?.notes.map(({ midi }) => midi)).toEqual([84, 86, 72]);
    expect(codes).toEqual(['octave-line-applied']);
  });

  it('is not transposed twice where oct.ges only says what the transposition does', () => {
    const piccolo = treble.replace('lines="5"', 'lines="5" trans.diat="7" trans.semi="12"');
    const { score } = read(section(bar(1, notes('c5:2 oct.ges="6"', 'c5:2')), { staves: piccolo }));
    expect(score.parts[0]?.notes.map(({ midi }) => midi)).toEqual([84, 84]);
  });

  it('of a tablature is not read, but its rhythm is', () => {
    // MEI 5, tabGrp: the notes of one moment; a tabGrp without notes is a rest.
    const lute = '<staffDef n="1" lines="6" notationtype="tab.lute.french"/>';
    const { score, codes } = read(
      section(
        bar(
          1,
          '<tabGrp dur="2"><tabDurSym/><note tab.course="1" tab.fret="0"/><note tab.course="4" tab.fret="2"/></tabGrp><tabGrp dur="4"><note tab.course="1" tab.fret="2"/></tabGrp><tabGrp dur="4"><tabDurSym/></tabGrp>',
        ),
        { staves: lute },
      ),
    );
    expect(sounding(score)).toEqual(['0 1/2 x', '0 1/2 x', '1/2 1/4 x']);
    expect(codes).toEqual(['not-kept']);
  });

  it('of drums is a place on the staff', () => {
    const drums = '<staffDef n="1" lines="5" clef.shape="perc"/>';
    const { score, codes } = read(
      section(
        bar(
          1,
          '<note loc="0" dur="2"/><note loc="5" dur="4" head.shape="x"/><note pname="e" oct="4" dur="4"/>',
        ),
        {
          staves: drums,
        },
      ),
    );
    // G, att.staffLoc: "0" is the bottom line; drum staves are read as in the G clef (common practice).
    expect(written(score).map(({ pitch, display, notehead }) => [pitch, display, notehead])).toEqual([
      [null, { step: 'E', octave: 4 }, ''],
      [null, { step: 'C', octave: 5 }, 'x'],
      [null, { step: 'E', octave: 4 }, ''],
    ]);
    expect(codes).toEqual([]);
  });
});

describe('parts', () => {
  const piano = (attributes: string, labels: readonly string[], inside = ''): string[] => {
    const staves = labels
      .map((label, n) => `<staffDef n="${n + 1}" lines="5" clef.shape="G" ${label}/>`)
      .join('');
    const content = `<measure n="1">${labels.map((_, n) => staff(layer(notes('c4:1')), n + 1)).join('')}</measure>`;
    const { score } = read(
      section(content, { staves: `<staffGrp ${attributes}>${inside}${staves}</staffGrp>` }),
    );
    return score.parts.map(({ name, staves: count, program }) => `${name} ${count} ${program ?? ''}`);
  };
  it('of several staves are those that are braced, unless the staves have names of their own', () => {
    expect(piano('symbol="brace" label="Piano"', ['', ''])).toEqual(['Piano 2 ']);
    expect(piano('symbol="brace"', ['label="Piano"', ''], '<instrDef midi.instrnum="0"/>')).toEqual([
      'Piano 2 1',
    ]);
    expect(piano('symbol="brace" label="Violins"', ['label="I"', 'label="II"'])).toEqual(['I 1 ', 'II 1 ']);
    expect(piano('symbol="bracket" label="Choir"', ['', ''])).toEqual([' 1 ', ' 1 ']);
    expect(piano('label="Organ"', ['', '', ''])).toEqual(['Organ 3 ']);
  });
  it('number their voices on from staff to staff', () => {
    const staves = `<staffGrp symbol="brace">${treble}${treble.replace('n="1"', 'n="2"')}</staffGrp>`;
    const upper = staff(layer(notes('c5:1')) + layer(notes('c4:1'), 2));
    const { score } = read(
      section(`<measure n="1">${upper}${staff(layer(notes('c3:1')), 2)}</measure>`, { staves }),
    );
    expect(written(score).map(({ staff: n, voice }) => `${n} ${voice}`)).toEqual(['1 1', '1 2', '2 5']);
  });
  it('may be silent in bars where they have no staff, and enter late', () => {
    const staves = treble + treble.replace('n="1"', 'n="2"');
    const { score, problems } = read(
      section(
        bar(1, notes('c4:1')) +
          `<measure n="2">${staff(layer(notes('c4:1')))}${staff(layer(notes('e4:1')), 2)}</measure>`,
        { staves },
      ),
    );
    expect(sounding(score, 1)).toEqual(['1 1 64']);
    expect(problems.map(({ code, part, bar: at }) => [code, part, at])).toEqual([
      ['part-lacks-bars', 'P2', '1'],
    ]);
  });
  it('that nobody defines are read', () =>
    expect(
      read(section(bar(1, notes('c4:1')) + `<measure n="2">${staff(layer(notes('e4:1')), 9)}</measure>`))
        .codes,
    ).toContain('part-not-listed'));
  it('that stand by themselves, without a score, are read side by side', () => {
    const part = (name: string, music: string): string =>
      `<part><scoreDef meter.count="4" meter.unit="4"><staffGrp><staffDef n="1" label="${name}" clef.shape="G"/></staffGrp></scoreDef><section>${music}</section></part>`;
    const file = `<mei><meiHead/><music><body><mdiv><parts>${part('Flute', bar(1, notes('c5:1')) + bar(2, notes('d5:1')))}${part('Oboe', bar(1, '<multiRest num="2"/>'))}</parts></mdiv></body></music></mei>`;
    const { score, codes } = read(file);
    expect(
      score.parts.map(({ name, notes: sound, written: all }) => `${name} ${sound.length} ${all.length}`),
    ).toEqual(['Flute 2 2', 'Oboe 0 2']);
    expect(bars(score)).toEqual(['1 1 4/4', '2 1 4/4']);
    expect(codes).toEqual([]);
  });
});

describe('bars', () => {
  it('read bar lines, repeats and endings', () => {
    const { score } = read(
      section(
        bar(1, notes('c4:1'), '', 'left="rptstart"') +
          `<ending n="1" label="1.">${bar(2, notes('d4:1'), '', 'right="rptend"')}</ending>` +
          `<ending n="2" label="2." lendsym="none">${bar(3, notes('e4:1'), '', 'right="dbl"')}</ending>` +
          bar(4, notes('f4:1'), '', 'right="rptboth"') +
          bar(5, notes('g4:1'), '', 'right="rptend"') +
          bar(6, notes('a4:1'), '', 'right="invis"'),
      ),
    );
    expect(
      score.bars.map(({ repeatStart, repeatEnd, barline }) => [repeatStart, repeatEnd, barline]),
    ).toEqual([
      [true, 0, 'regular'],
      [false, 2, 'final'],
      [false, 0, 'double'],
      [false, 2, 'final'],
      [true, 2, 'final'],
      [false, 0, 'none'],
    ]);
    expect(
      score.bars.map(
        ({ ending }) => ending && `${ending.numbers.join()} ${ending.text} ${ending.ends ?? ''}`,
      ),
    ).toEqual([null, '1 1. stop', '2 2. discontinue', null, null, null]);
  });
  it('hold metres of sums and of several signatures', () => {
    const metre = (defs: string, inside = ''): string => {
      const file = meiFile(
        `<scoreDef ${defs}>${inside}<staffGrp>${treble}</staffGrp></scoreDef><section>${bar(1, '<mRest/>')}</section>`,
      );
      return bars(read(file).score)[0] ?? '';
    };
    expect(metre('meter.count="3+2" meter.unit="8"')).toBe('1 5/8 3+2/8');
    expect(
      metre(
        '',
        '<meterSigGrp func="mixed"><meterSig count="2" unit="4"/><meterSig count="3" unit="8"/></meterSigGrp>',
      ),
    ).toBe('1 7/8 2/4+3/8');
    expect(
      metre(
        '',
        '<meterSigGrp func="alternating"><meterSig count="3" unit="4"/><meterSig count="6" unit="8"/></meterSigGrp>',
      ),
    ).toBe('1 3/4 3/4');
    expect(metre('meter.sym="cut"')).toBe('1 1 2/2');
  });
  it('that do not fill their metre are upbeats, or the rest of a split bar', () => {
    const { score, codes } = read(
      section(
        bar(0, notes('c4:4'), '', 'metcon="false"') +
          bar(1, notes('c4:1')) +
          bar(2, notes('c4:2'), '', 'metcon="false" right="rptend"') +
          bar('2', notes('c4:2'), '', 'metcon="false"') +
          bar(3, notes('c4:2 dots="1"'), '', 'metcon="false" right="end"'),
      ),
    );
    expect(score.bars.map(({ pickup }) => pickup)).toEqual([true, false, false, true, false]);
    expect(codes).toEqual([]);
  });
  it('may hold a space that says no length', () => {
    // As in the sample encodings of the MEI project (short_examples/x3staff.mei).
    const staves = treble + treble.replace('n="1"', 'n="2"');
    const { score, codes } = read(
      section(`<measure n="1">${staff(layer('<space/>'))}${staff(layer(notes('c4:1')), 2)}</measure>`, {
        staves,
      }),
    );
    expect(bars(score)).toEqual(['1 1 4/4']);
    expect(codes).toEqual([]);
  });
  it('repeat two bars, or beats', () => {
    const two = read(
      section(bar(1, notes('c4:1')) + bar(2, notes('d4:1')) + bar(3, '<mRpt2/>') + bar(5, notes('e4:1'))),
    ).score;
    expect(sounding(two)).toEqual(['0 1 60', '1 1 62', '2 1 60', '3 1 62', '4 1 64']);
    expect(two.bars.map(({ number }) => number)).toEqual(['1', '2', '3', '4', '5']);
    const beats = read(section(bar(1, notes('c4:8', 'd4:8') + '<beatRpt/><beatRpt/><beatRpt/>'))).score;
    expect(beats.parts[0]?.notes.map(({ midi }) => midi)).toEqual([60, 62, 60, 62, 60, 62, 60, 62]);
  });
});

describe('control events', () => {
  const at = (stamp: string, defs = 'meter.count="4" meter.unit="4"', content = '<mRest/>'): string => {
    const { score } = read(
      section(bar(1, content, `<dynam staff="1" tstamp="${stamp}">p</dynam>`), { defs }),
    );
    return F.format(score.parts[0]?.directions[0]?.at ?? F.fraction(-1));
  };
  it('count beats of the metre from 1 (G 4.2.6)', () => {
    expect(['1', '2', '1.5', '0', '5'].map((stamp) => at(stamp))).toEqual(['0', '1/4', '1/8', '0', '1']);
    // "In 6/8 time, the value 2m+3 means ... the third eighth note".
    expect(at('3', 'meter.count="6" meter.unit="8"')).toBe('1/4');
  });
  it('mean thirds where a decimal is rounded', () =>
    expect(['1.3333', '1.667', '2.16667', '1.125', '1.0625'].map((stamp) => at(stamp))).toEqual([
      '1/12',
      '1/6',
      '7/24',
      '1/32',
      '1/64',
    ]));
  it('end so many bar lines later', () => {
    const { score } = read(
      section(
        bar(1, '<mRest/>', '<hairpin form="cres" staff="1" tstamp="3" tstamp2="2m+1.5"/>') +
          bar(2, '<mRest/>') +
          bar(3, '<mRest/>'),
      ),
    );
    expect(
      score.parts[0]?.directions.map(({ value, at: place, bar: n }) => `${value} ${F.format(place)} ${n}`),
    ).toEqual(['crescendo 1/2 0', 'stop 17/8 2']);
  });
  it('find their notes by id or by time', () => {
    const { score, codes } = read(
      section(
        bar(
          1,
          notes('c4:4 xml:id="a"', 'd4:4', 'e4:4', 'f4:4'),
          '<slur startid="#a" tstamp2="0m+2"/><trill tstamp="3" staff="1"/><fermata tstamp="4" staff="1" shape="angular"/><breath tstamp="3" staff="1"/><mordent startid="#a" form="upper"/><turn tstamp="2" staff="1" form="lower"/><fermata tstamp="5" staff="1"/>',
        ),
      ),
    );
    expect(
      written(score).map(({ marks }) => [
        marks.slurs.map(({ type }) => type).join(),
        marks.ornaments.join(),
        marks.articulations.join(),
        marks.fermata,
      ]),
    ).toEqual([
      ['start', 'inverted-mordent', '', null],
      ['stop', 'inverted-turn', 'breath-mark', null],
      ['', 'trill-mark', '', null],
      ['', '', '', 'angled'],
    ]);
    expect(score.bars[0]?.fermata).toBe(true);
    expect(codes).toEqual([]);
  });
  it('give playback tempi in quarters or microseconds (att.midiTempo)', () => {
    const tempo = (attributes: string): string[] =>
      read(section(bar(1, '<mRest/>', `<tempo tstamp="1" ${attributes}/>`))).score.marks.map((mark) =>
        mark.kind === 'tempo'
          ? `${F.format(mark.unit)}=${F.format(mark.perMinute)} ${String(mark.printed)}`
          : mark.kind,
      );
    expect(tempo('midi.bpm="90"')).toEqual(['1/4=90 false']);
    expect(tempo('midi.mspb="500000"')).toEqual(['1/4=120 false']);
    expect(tempo('mm="60" mm.unit="4" mm.dots="1"')).toEqual(['3/8=60 true']);
    expect(tempo('midi.tempo="0"')).toEqual([]);
  });
});

describe('editions', () => {
  const sounds = (content: string): { keys: (number | null)[]; codes: string[] } => {
    const { score, codes } = read(section(bar(1, content)));
    return { keys: score.parts[0]?.notes.map(({ midi }) => midi) ?? [], codes };
  };
  it('are read by the lemma, else the first reading (G 11.1)', () => {
    expect(sounds(`<app><rdg>${notes('d4:1')}</rdg><lem>${notes('c4:1')}</lem></app>`)).toEqual({
      keys: [60],
      codes: ['reading-chosen'],
    });
    expect(sounds(`<app><rdg>${notes('d4:1')}</rdg><rdg>${notes('c4:1')}</rdg></app>`)).toEqual({
      keys: [62],
      codes: ['reading-chosen'],
    });
  });
  it('are read as corrected and regularised (G 11.2)', () => {
    expect(sounds(`<choice><sic>${notes('d4:1')}</sic><corr>${notes('c4:1')}</corr></choice>`).keys).toEqual([
      60,
    ]);
    expect(
      sounds(`<choice><orig>${notes('d4:1')}</orig><reg>${notes('c4:2', 'e4:2')}</reg></choice>`).keys,
    ).toEqual([60, 64]);
  });
  it('add, supply and restore; what is struck out is left out and told', () => {
    expect(
      sounds(
        `<subst><del>${notes('d4:1')}</del><add>${notes('c4:2')}</add></subst><supplied><unclear>${notes('e4:2')}</unclear></supplied>`,
      ),
    ).toEqual({
      keys: [60, 64],
      codes: ['not-kept'],
    });
  });
  it('copy what they refer to', () => {
    const { score, codes } = read(
      section(
        bar(1, notes('c4:2 xml:id="a"', 'd4:2'), '', 'xml:id="m1"') +
          '<measure n="2" copyof="#m1"/>' +
          bar(3, '<note copyof="#a" pname="g"/><rest dur="2"/>'),
      ),
    );
    expect(sounding(score)).toEqual(['0 1/2 60', '1/2 1/2 62', '1 1/2 60', '3/2 1/2 62', '2 1/2 67']);
    expect(codes).toEqual([]);
  });
  it('of several movements follow each other', () => {
    const movement = (key: string, n: number): string =>
      `<mdiv><score><scoreDef meter.count="4" meter.unit="4" keysig="${key}"><staffGrp><staffDef n="1" label="Oboe" clef.shape="G"/></staffGrp></scoreDef><section>${bar(n, notes('c4:1'))}${bar(n + 1, notes('d4:1'))}</section></score></mdiv>`;
    const { score, codes } = read(
      `<mei><music><body>${movement('2s', 1)}<mdiv>${movement('1f', 1)}</mdiv></body></music></mei>`,
    );
    expect(score.parts.map(({ name, keys }) => [name, keys.map(({ fifths }) => fifths)])).toEqual([
      ['Oboe', [2, -1]],
    ]);
    expect(bars(score)).toEqual(['1 1 4/4', '2 1 4/4', '1 1 4/4', '2 1 4/4']);
    expect(score.bars[1]?.barline).toBe('final');
    expect(codes).toContain('several-pieces');
  });
  it('that spell out another order than their signs are followed by their signs', () => {
    const file = (plist: string): string =>
      section(
        `<expansion plist="${plist}"/><section xml:id="A">${bar(1, notes('c4:1'), '', 'right="rptend"')}</section><section xml:id="B">${bar(2, notes('d4:1'))}</section>`,
      );
    expect(read(file('#A #A #B')).codes).toEqual([]);
    expect(read(file('#A #B')).codes).toEqual(['expansion-differs']);
  });
});

describe('what is not common notation', () => {
  it('is refused in plain words', () => {
    const neumes =
      '<mei><music><body><mdiv><score><scoreDef><staffGrp><staffDef n="1" notationtype="neume"/></staffGrp></scoreDef><section><staff n="1"><layer><syllable><neume/></syllable></layer></staff></section></score></mdiv></body></music></mei>';
    expect(refusal(neumes)).toBe('not-a-score');
    expect(refusal(neumes.replace(' notationtype="neume"', ''))).toBe('not-a-score');
    expect(refusal('<mei><meiHead/></mei>')).toBe('no-bars');
    expect(refusal(section(''))).toBe('no-bars');
  });
  it('is read under any prefix and version', () => {
    const plain = section(bar(1, notes('c4:1')), { version: '3.0.0' });
    const prefixed = plain.replace(/<(\/?)(\w)/g, '<$1mei:$2').replace('xmlns=', 'xmlns:mei=');
    expect(sounding(read(prefixed).score)).toEqual(['0 1 60']);
    expect(
      read(plain.replace('meter.unit="4"', 'meter.unit="4" key.sig="3f"')).score.parts[0]?.keys[0]?.fifths,
    ).toBe(-3);
  });
});
