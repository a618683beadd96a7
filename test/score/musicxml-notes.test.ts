import { describe, expect, test } from 'vitest';
import { F } from '../../src/units/index.ts';
import {
  attributes,
  barLengths,
  fullBar,
  measure,
  note,
  onePart,
  read,
  sounding,
  time,
  twoParts,
} from './musicxml-fragments.ts';

/** Notes and time inside the bar. Each check names the part of the W3C MusicXML 4.0 documentation that it follows. */

const firstPart = (text: string) => {
  const [part] = read(text).score.parts;
  if (part === undefined) throw new Error('no part');
  return part;
};

describe('time', () => {
  test('tutorial "Hello, World": one whole note C4 in 4/4', () => {
    // MusicXML 4.0, Tutorial, "Hello World"
    const { score, problems } = read(
      onePart(
        measure(
          '1',
          `<attributes><divisions>1</divisions><key><fifths>0</fifths></key>${time(4, 4)}<clef><sign>G</sign><line>2</line></clef></attributes>` +
            note('C4', 4, '<type>whole</type>'),
        ),
        'Music',
      ),
    );
    expect(sounding(score)).toEqual(['0 1 60']);
    expect(problems).toEqual([]);
    expect(score.parts[0]).toMatchObject({
      id: 'P1',
      name: 'Music',
      clefs: [{ staff: 1, sign: 'G', line: 2, octave: 0 }],
      keys: [{ staff: null, fifths: 0, mode: '' }],
    });
    expect(score.bars[0]).toMatchObject({ number: '1', pickup: false, barline: 'regular' });
  });

  test('backup and forward lay voices over each other', () => {
    // MusicXML 4.0, elements backup and forward
    const { score } = read(
      onePart(
        measure(
          '1',
          attributes(2) +
            note('C5', 8, '<voice>1</voice>') +
            '<backup><duration>8</duration></backup><forward><duration>4</duration></forward>' +
            note('E4', 4, '<voice>2</voice>'),
        ),
      ),
    );
    expect(sounding(score)).toEqual(['0 1 72', '1/2 1/2 64']);
  });

  test('a change of divisions in mid-bar is exact', () => {
    // element divisions: how many divisions per quarter note, from there on
    const { score } = read(
      onePart(
        measure(
          '1',
          attributes(1) +
            note('C4', 1) +
            '<attributes><divisions>3</divisions></attributes>' +
            note('D4', 1) +
            note('E4', 1) +
            note('F4', 1) +
            '<attributes><divisions>7</divisions></attributes>' +
            note('G4', 14),
        ),
      ),
    );
    expect(sounding(score)).toEqual(['0 1/4 60', '1/4 1/12 62', '1/3 1/12 64', '5/12 1/12 65', '1/2 1/2 67']);
    expect(barLengths(score)).toEqual(['1']);
  });

  test('chord notes begin with the note before them, whatever stands between', () => {
    // element chord
    const { score } = read(
      onePart(
        measure(
          '1',
          attributes(1) +
            note('C4', 2) +
            '<direction><direction-type><dynamics><p/></dynamics></direction-type></direction>' +
            note('E4', 2, '', '<chord/>') +
            note('G4', 2),
        ),
      ),
    );
    expect(sounding(score)).toEqual(['0 1/2 60', '0 1/2 64', '1/2 1/2 67']);
    expect(score.parts[0]?.written.map(({ chord }) => chord)).toEqual([false, true, false]);
  });

  test('nested tuplets: time-modification is the product, 5 in the time of 4 inside 3 in the time of 2', () => {
    // element time-modification; durations are what counts
    const part = firstPart(
      onePart(
        measure(
          '1',
          attributes(15, time(1, 4)) +
            note(
              'C4',
              2,
              '<type>eighth</type><time-modification><actual-notes>15</actual-notes><normal-notes>8</normal-notes></time-modification><notations><tuplet type="start" number="1"/><tuplet type="start" number="2"/></notations>',
            ),
        ),
      ),
    );
    expect(part.written[0]?.tuplet).toEqual({ actual: 15, normal: 8 });
    expect(part.written[0]?.tupletMarks).toEqual([
      { type: 'start', number: 1 },
      { type: 'start', number: 2 },
    ]);
    expect(F.format(part.notes[0]?.duration ?? F.zero)).toBe('1/30');
    expect(part.notes[0]?.tuplet).toBe(true);
  });

  test('grace notes take no time and stand at the note they lean on; cue notes are silent but take their time', () => {
    // elements grace and cue: "a cue note is a silent note with no playback"
    const part = firstPart(
      onePart(
        measure(
          '1',
          attributes(1) +
            note('C4', 1) +
            '<note><grace slash="yes"/><pitch><step>D</step><octave>4</octave></pitch><type>eighth</type></note>' +
            note('E4', 1) +
            note('F4', 2, '', '<cue/>'),
        ),
      ),
    );
    expect(part.notes.map(({ midi }) => midi)).toEqual([60, 64]);
    const grace = part.written.find(({ kind }) => kind === 'grace');
    expect(grace).toMatchObject({ slash: true, id: 'P1-m0-n2' });
    expect(F.format(grace?.onset ?? F.one)).toBe('1/4');
    expect(F.format(grace?.duration ?? F.one)).toBe('0');
    expect(part.written.at(-1)).toMatchObject({ cue: true, kind: 'note' });
  });

  test('a whole-bar rest longer than its bar lasts the bar', () => {
    // element rest: measure="yes" is a complete measure rest; common practice: it fills the bar, whatever it is
    const { score, codes } = read(
      onePart(
        measure('1', `${attributes(1, time(3, 4))}<note><rest measure="yes"/><duration>4</duration></note>`) +
          measure('2', note('C4', 3)),
      ),
    );
    expect(barLengths(score)).toEqual(['3/4', '3/4']);
    expect(codes).toEqual(['rest-too-long']);
    expect(F.format(score.parts[0]?.written[0]?.duration ?? F.zero)).toBe('3/4');
  });

  test('without a duration the printed value decides; without either the note is left out', () => {
    const { score, codes } = read(
      onePart(
        measure(
          '1',
          attributes(1, time(2, 4)) +
            '<note><pitch><step>C</step><octave>4</octave></pitch><type>quarter</type><dot/></note>' +
            '<note><pitch><step>D</step><octave>4</octave></pitch></note>' +
            note('E4', '0', '<type>eighth</type>') +
            note('F4', '-3'),
        ),
      ),
    );
    expect(sounding(score)).toEqual(['0 3/8 60', '3/8 1/8 64']);
    expect(codes).toEqual([
      'duration-missing',
      'duration-missing',
      'duration-out-of-range',
      'duration-out-of-range',
    ]);
  });
});

describe('pitch', () => {
  test('B flat clarinet, and a bass clarinet with an octave on top', () => {
    // element transpose: "what must be added to a written pitch to get a correct sounding pitch"
    const transposed = (content: string): string =>
      onePart(
        measure('1', attributes(1, `${time(4, 4)}<transpose>${content}</transpose>`) + fullBar('D5')),
        'Clarinet',
      );
    expect(sounding(read(transposed('<diatonic>-1</diatonic><chromatic>-2</chromatic>')).score)).toEqual([
      '0 1 72',
    ]);
    const bass = read(
      transposed('<diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>-1</octave-change>'),
    ).score;
    expect(sounding(bass)).toEqual(['0 1 60']);
    expect(bass.parts[0]?.transpositions).toMatchObject([{ diatonic: -8, chromatic: -14 }]);
  });

  test('a change of instrument in mid-piece', () => {
    const { score } = read(
      onePart(
        measure('1', attributes(1) + fullBar('C5')) +
          measure(
            '2',
            `<attributes><transpose><diatonic>-2</diatonic><chromatic>-3</chromatic></transpose></attributes>${fullBar('C5')}`,
          ) +
          measure(
            '3',
            `<attributes><transpose><diatonic>0</diatonic><chromatic>0</chromatic></transpose></attributes>${fullBar('C5')}`,
          ),
      ),
    );
    expect(sounding(score)).toEqual(['0 1 72', '1 1 69', '2 1 72']);
  });

  test('quarter tones, unpitched notes, clefs with an octave', () => {
    const part = firstPart(
      onePart(
        measure(
          '1',
          attributes(
            1,
            `${time(2, 4)}<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>`,
          ) +
            '<note><pitch><step>A</step><alter>-0.5</alter><octave>4</octave></pitch><duration>1</duration></note>' +
            '<note><unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched><duration>1</duration></note>',
        ),
      ),
    );
    // A4 is MIDI 69 (MIDI 1.0); the clef's octave does not change the pitch (element clef-octave-change)
    expect(part.notes.map(({ midi }) => midi)).toEqual([68.5, null]);
    expect(part.clefs[0]?.octave).toBe(-1);
    expect(part.written[1]?.display).toEqual({ step: 'E', octave: 4 });
  });
});

describe('ties', () => {
  const tied = (kind: 'tie' | 'tied'): string => {
    const mark = (type: string): string =>
      kind === 'tie' ? `<tie type="${type}"/>` : `<notations><tied type="${type}"/></notations>`;
    return onePart(
      measure('1', attributes(1) + note('C4', 4, mark('start'))) +
        measure('2', note('C4', 4, mark('stop') + mark('start'))) +
        measure('3', note('C4', 2, mark('stop')) + note('C4', 2)),
    );
  };
  test('tied notes sound as one, written notes are kept', () => {
    // element tie
    const { score, codes } = read(tied('tie'));
    expect(sounding(score)).toEqual(['0 5/2 60', '5/2 1/2 60']);
    expect(score.parts[0]?.notes[0]?.written).toEqual(['P1-m0-n1', 'P1-m1-n1', 'P1-m2-n1']);
    expect(codes).toEqual([]);
  });
  test('ties that are only drawn are followed and told', () => {
    const { score, codes } = read(tied('tied'));
    expect(sounding(score)).toEqual(['0 5/2 60', '5/2 1/2 60']);
    expect(codes).toEqual(['tie-drawn-only']);
  });
});

describe('what hangs on a note', () => {
  test('articulations, ornaments, technical, fermata, slurs, dynamics, arpeggio, beams', () => {
    const part = firstPart(
      onePart(
        measure(
          '1',
          attributes(1) +
            note(
              'C4',
              4,
              '<type>whole</type><accidental>natural</accidental><stem>up</stem><notehead>x</notehead><beam number="2">end</beam><beam number="1">begin</beam>' +
                '<notations><slur type="start" number="2"/><articulations><staccato/><breath-mark>comma</breath-mark></articulations><ornaments><trill-mark/></ornaments>' +
                '<technical><fingering>3</fingering><up-bow/></technical><fermata>angled</fermata><dynamics><sfz/><other-dynamics>sffp</other-dynamics></dynamics><arpeggiate/></notations>',
            ),
        ),
      ),
    );
    expect(part.written[0]).toMatchObject({
      value: { type: 'whole', dots: 0 },
      accidental: 'natural',
      stem: 'up',
      notehead: 'x',
      beams: ['begin', 'end'],
      marks: {
        articulations: ['staccato', 'breath-mark'],
        ornaments: ['trill-mark'],
        technical: [
          { name: 'fingering', text: '3' },
          { name: 'up-bow', text: '' },
        ],
        fermata: 'angled',
        slurs: [{ type: 'start', number: 2 }],
        dynamics: ['sfz', 'sffp'],
        arpeggio: true,
      },
    });
  });

  test('lyrics: verses, elision, extender', () => {
    // element lyric: elided syllables are text, elision, text
    const part = firstPart(
      onePart(
        measure(
          '1',
          attributes(1) +
            note(
              'C4',
              4,
              '<lyric number="1"><syllabic>end</syllabic><text>na</text><elision>\u203f</elision><syllabic>begin</syllabic><text>in</text></lyric><lyric number="2"><extend/></lyric>',
            ),
        ),
      ),
    );
    expect(part.written[0]?.lyrics).toEqual([
      { verse: '1', syllabic: 'middle', text: 'na\u203fin', extend: false },
      { verse: '2', syllabic: 'single', text: '', extend: true },
    ]);
  });

  test('directions keep their place, kind and value', () => {
    const direction = (content: string, placement = 'below'): string =>
      `<direction placement="${placement}"><direction-type>${content}</direction-type></direction>`;
    const part = firstPart(
      onePart(
        measure(
          '1',
          attributes(1) +
            direction('<dynamics><mf/></dynamics>') +
            direction('<wedge type="crescendo" number="2"/>') +
            note('C4', 2) +
            direction('<words>dolce</words>', 'above') +
            direction('<octave-shift type="down" size="8"/>', 'above') +
            note('D4', 2) +
            direction('<wedge type="stop" number="2"/>'),
        ),
      ),
    );
    expect(
      part.directions.map(({ at, kind, value, number, above }) => [F.format(at), kind, value, number, above]),
    ).toEqual([
      ['0', 'dynamics', 'mf', 1, false],
      ['0', 'wedge', 'crescendo', 2, false],
      ['1/2', 'words', 'dolce', 1, true],
      ['1/2', 'octaveShift', 'down 8', 1, true],
      ['1', 'wedge', 'stop', 2, false],
    ]);
  });

  test('what the model has no place for is told once for each kind and part, with its count', () => {
    const harmony = '<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>';
    const { problems } = read(
      twoParts(
        measure('1', attributes(1) + harmony + harmony + fullBar()),
        measure('1', attributes(1) + harmony + fullBar()),
      ),
    );
    expect(problems.map(({ code, part, message }) => [code, part, /\((.*)\)/.exec(message)?.[1]])).toEqual([
      ['not-kept', 'P1', 'found 2 times'],
      ['not-kept', 'P2', 'found once'],
    ]);
  });
});
