import { describe, expect, test } from 'vitest';
import {
  attributes,
  barLengths,
  measure,
  note,
  onePart,
  read,
  sounding,
  time,
} from './musicxml-fragments.ts';

/**
 * Divisions that are missing or nonsense. MusicXML 4.0, divisions: "how many divisions per quarter note are used to indicate a
 * note's duration"; type positive-divisions: above zero; type: the printed value. That printed values tell what a file does not
 * say is our rule. The default of 1: the public MusicXML test suite, 03e.
 */
const typed = (name: string, duration: number | string, type: string, more = ''): string =>
  note(name, duration, `<type>${type}</type>${more}`);
const triplet =
  '<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>';
/** A bar of 4/4 of every kind of note, with 24 divisions to the quarter. */
const mixed =
  typed('C4', 36, 'quarter', '<dot/>') +
  typed('D4', 12, 'eighth') +
  ['E4', 'F4', 'G4'].map((name) => typed(name, 8, 'eighth', triplet)).join('') +
  typed('A4', 24, 'quarter');
const metre = `<attributes>${time(4, 4)}</attributes>`;
const onsets = ['0 3/8 60', '3/8 1/8 62', '1/2 1/12 64', '7/12 1/12 65', '2/3 1/12 67', '3/4 1/4 69'];
const said = (text: string): string[] =>
  read(text).problems.map(({ code, message }) => `${code}: ${message}`);

describe('divisions that the file does not say', () => {
  test('are told by the printed values, where all agree', () => {
    const text = onePart(measure('1', metre + mixed));
    expect(sounding(read(text).score)).toEqual(onsets);
    expect(said(text)).toEqual([
      'divisions-missing: The file does not say into how many parts it divides a quarter; by the printed values of the notes it is 24.',
    ]);
  });

  test.each(['0', '-24', 'x', '1e99', '1/2'])('nor sensibly: "%s"', (divisions) => {
    const text = onePart(measure('1', attributes(divisions) + mixed));
    expect(sounding(read(text).score)).toEqual(onsets);
    expect(said(text)).toEqual([
      `divisions-unreadable: The file counts durations in "${divisions}" parts of a quarter, which makes no sense; by the printed values of the notes it is 24.`,
    ]);
  });

  test('the same in the middle of a piece, up to the next that are said', () => {
    const text = onePart(
      measure('1', attributes(1) + typed('C4', 4, 'whole')) +
        measure('2', attributes(0, '') + mixed) +
        measure('3', typed('C4', 96, 'whole')) +
        measure('4', attributes(2, '') + typed('C4', 8, 'whole')),
    );
    expect(barLengths(read(text).score)).toEqual(['1', '1', '1', '1']);
    expect(read(text).codes).toEqual(['divisions-unreadable']);
  });

  test('a note without sensible duration tells nothing and lasts its printed value', () => {
    const text = onePart(measure('1', metre + typed('C4', 0, 'half') + typed('D4', 480, 'half')));
    expect(sounding(read(text).score)).toEqual(['0 1/2 60', '1/2 1/2 62']);
    expect(read(text).codes).toEqual(['divisions-missing', 'duration-out-of-range']);
  });

  test('grace notes, notes without a value and rests that stand for a bar tell nothing', () => {
    const bar = measure(
      '1',
      `<attributes>${time(3, 4)}</attributes><note><grace/><pitch><step>C</step><octave>4</octave></pitch><type>eighth</type></note>` +
        note('C4', 10) +
        typed('D4', 10, 'quarter') +
        note('E4', 10),
    );
    const text = onePart(bar + measure('2', typed('r', 30, 'whole')));
    expect(barLengths(read(text).score)).toEqual(['3/4', '3/4']);
  });

  test('a move before the first note counts in them too', () => {
    const forward = '<forward><duration>24</duration></forward>';
    const text = onePart(measure('1', metre + forward + typed('C4', 72, 'half', '<dot/>')));
    expect(sounding(read(text).score)).toEqual(['1/4 3/4 60']);
  });

  test('count as 1, or as before, where values do not agree or are not there', () => {
    const unlike = typed('C4', 2, 'half') + typed('D4', 1, 'half');
    for (const [content, lengths] of [
      [unlike, ['3/4']],
      [note('C4', 2) + note('D4', 1), ['3/4']],
    ] as const) {
      expect(barLengths(read(onePart(measure('1', metre + content))).score)).toEqual(lengths);
      expect(said(onePart(measure('1', metre + content)))[0]).toContain('it is read as 1');
      const later = onePart(
        measure('1', attributes(3) + note('C4', 12)) + measure('2', attributes(0, '') + content),
      );
      expect(barLengths(read(later).score)).toEqual(['1', '1/4']);
      expect(said(later)[0]).toContain('the number before it');
    }
  });
});
