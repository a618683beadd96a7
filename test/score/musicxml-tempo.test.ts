import { describe, expect, test } from 'vitest';
import { F } from '../../src/units/index.ts';
import { attributes, fullBar, measure, onePart, read, twoParts } from './musicxml-fragments.ts';

/** Tempo marks. Each check names the part of the W3C MusicXML 4.0 documentation that it follows. */

const whole = attributes(1);

describe('tempo and rehearsal marks', () => {
  const direction = (types: string, rest = ''): string =>
    `<direction><direction-type>${types}</direction-type>${rest}</direction>`;
  const metronome = (content: string): string => `<metronome>${content}</metronome>`;
  const marks = (content: string): { marks: string[]; codes: readonly string[] } => {
    const { score, codes } = read(onePart(measure('1', whole + content + fullBar())));
    return {
      marks: score.marks.map((mark) => {
        switch (mark.kind) {
          case 'tempo':
            return `${F.format(mark.unit)}=${F.format(mark.perMinute)}${mark.printed ? '' : ' sound'}`;
          case 'relation':
            return `${F.format(mark.from)}=${F.format(mark.to)}`;
          case 'tempoWords':
          case 'rehearsal':
            return mark.text;
        }
      }),
      codes,
    };
  };

  test('a dotted quarter at 60 beside its playback tempo of 90 quarters is one mark', () => {
    // elements metronome and sound: tempo is in quarters per minute
    expect(
      marks(
        direction(
          metronome('<beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>60</per-minute>'),
          '<sound tempo="90"/>',
        ),
      ),
    ).toEqual({ marks: ['3/8=60'], codes: [] });
  });

  test('the printed figure wins over a contradicting playback tempo', () => {
    expect(
      marks(
        direction(
          metronome('<beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>60</per-minute>'),
          '<sound tempo="60"/>',
        ),
      ),
    ).toEqual({ marks: ['3/8=60'], codes: ['tempo-contradiction'] });
  });

  test('playback tempi are exact decimals', () => {
    expect(marks('<sound tempo="133.33"/>')).toEqual({ marks: ['1/4=13333/100 sound'], codes: [] });
  });

  test('about, from-to, tied units, changes of beat', () => {
    const quarter = '<beat-unit>quarter</beat-unit>';
    expect(marks(direction(metronome(`${quarter}<per-minute>c. 108</per-minute>`)))).toEqual({
      marks: ['1/4=108'],
      codes: ['tempo-approximate'],
    });
    expect(marks(direction(metronome(`${quarter}<per-minute>100-110</per-minute>`)))).toEqual({
      marks: ['1/4=105'],
      codes: ['tempo-approximate'],
    });
    expect(
      marks(direction(metronome(`${quarter}<per-minute>100-110</per-minute>`), '<sound tempo="104"/>')),
    ).toEqual({
      marks: ['1/4=104'],
      codes: ['tempo-approximate'],
    });
    expect(
      marks(
        direction(
          metronome(
            `<beat-unit>half</beat-unit><beat-unit-tied><beat-unit>eighth</beat-unit></beat-unit-tied><per-minute>40</per-minute>`,
          ),
        ),
      ),
    ).toEqual({ marks: ['5/8=40'], codes: [] });
    expect(marks(direction(metronome(`${quarter}<beat-unit>half</beat-unit><beat-unit-dot/>`)))).toEqual({
      marks: ['1/4=3/4'],
      codes: [],
    });
    expect(
      marks(
        direction(
          metronome(
            '<metronome-note><metronome-type>eighth</metronome-type></metronome-note><metronome-relation>equals</metronome-relation><metronome-note><metronome-type>quarter</metronome-type><metronome-dot/></metronome-note>',
          ),
        ),
      ),
    ).toEqual({ marks: ['1/8=3/8'], codes: [] });
  });

  test('tempo 0, absurd and unreadable are left out, and told', () => {
    expect(marks('<sound tempo="0"/>')).toEqual({ marks: [], codes: ['tempo-unreadable'] });
    expect(marks('<sound tempo="1e9"/>')).toEqual({ marks: [], codes: ['tempo-unreadable'] });
    expect(marks(direction(metronome('<beat-unit>quarter</beat-unit><per-minute>?</per-minute>')))).toEqual({
      marks: [],
      codes: ['tempo-unreadable'],
    });
  });

  // type per-minute: "a number, or a text description including numbers"; which descriptions are understood is our rule
  test.each([
    ['92', '1/4=92'],
    ['133.33', '1/4=13333/100'],
    ['92,5', '1/4=185/2'],
    ['+92', '1/4=92'],
    ['c. 108', '1/4=108 about'],
    ['ca.108', '1/4=108 about'],
    ['(c. 72)', '1/4=72 about'],
    ['108 ca.', '1/4=108 about'],
    ['[66]', '1/4=66 about'],
    ['M.M. = 60', '1/4=60 about'],
    ['100-110', '1/4=105 about'],
    ['100 \u2013 110', '1/4=105 about'],
    ['92 to 96', '1/4=94 about'],
    ['ca. 60 bis 63', '1/4=123/2 about'],
  ])('the figure "%s" is understood', (text, mark) => {
    const found = marks(
      direction(metronome(`<beat-unit>quarter</beat-unit><per-minute>${text}</per-minute>`)),
    );
    const about = found.codes.includes('tempo-approximate') ? ' about' : '';
    expect(found.marks.map((one) => one + about)).toEqual([mark]);
    expect(found.codes).toEqual(about === '' ? [] : ['tempo-approximate']);
  });
  test.each(['1e308', '1e2', '60 72', '60-72-80', '108?', 'the 3rd of 90', '12:30', '-60', '1e', '9x'])(
    'the figure "%s" leaves no tempo',
    (text) => {
      const found = marks(
        direction(metronome(`<beat-unit>quarter</beat-unit><per-minute>${text}</per-minute>`)),
      );
      expect(found).toEqual({ marks: [], codes: ['tempo-unreadable'] });
    },
  );

  test('words of tempo hold for all, other words stay with their part', () => {
    // common practice, no source
    const { score } = read(
      twoParts(
        measure(
          '1',
          whole +
            direction('<words>Allegro ma non troppo</words>') +
            direction('<rehearsal>A</rehearsal>') +
            direction('<words>dolce</words>') +
            fullBar(),
        ),
        measure(
          '1',
          whole +
            direction('<words>Allegro ma non troppo</words>') +
            direction('<rehearsal>A</rehearsal>') +
            direction('<words>pizz.</words>') +
            fullBar(),
        ),
      ),
    );
    expect(score.marks.map((mark) => [mark.kind, 'text' in mark ? mark.text : ''])).toEqual([
      ['tempoWords', 'Allegro ma non troppo'],
      ['rehearsal', 'A'],
    ]);
    expect(score.parts.map(({ directions }) => directions.map(({ value }) => value))).toEqual([
      ['dolce'],
      ['pizz.'],
    ]);
  });
});
