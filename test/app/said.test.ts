/** Messages in German: filled, counted, and in English where a shape is not known. German names of notes: common practice. */
import { describe, expect, it } from 'vitest';
import { preferredLanguage } from '../../src/app/words/language.ts';
import { filled, matched, shapesOf } from '../../src/app/words/patterns.ts';
import { said } from '../../src/app/words/said.ts';
import { problem } from '../../src/units/index.ts';

const german = (code: string, message: string): string => said(problem('note', code, message), 'de');

describe('a message', () => {
  it('keeps bars, lengths and figures', () => {
    expect(
      german(
        'bar-overfull',
        'This bar holds 5/4 of a whole note, more than its metre 4/4; it is kept as long as its content.',
      ),
    ).toBe(
      'Dieser Takt enthält 5/4 einer ganzen Note, mehr als seine Taktart 4/4; er bleibt so lang wie sein Inhalt.',
    );
    expect(german('tempo-approximate', 'The metronome mark says "c. 92"; it is read as 92.5.')).toBe(
      'Die Tempoangabe lautet „c. 92“; sie gilt als 92,5.',
    );
  });

  it('counts one and several', () => {
    const kept = (count: string): string =>
      german(
        'kern-columns-wrong',
        `Line 3 has ${count} where there are 4; those that are missing hold nothing new.`,
      );
    expect(kept('1 column')).toContain('hat 1 Spalte,');
    expect(kept('2 columns')).toContain('hat 2 Spalten,');
  });

  it('names notes as Germans do', () => {
    const tied = (pitch: string): string =>
      german('tie-without-start', `A tie ends but none began on ${pitch}: the note keeps its own length.`);
    expect(
      ['B3', 'Bb3', 'Bbb3', 'F#4', 'Eb5', 'Ab2', 'Cb4', 'a drum note'].map(
        (pitch) => /auf (.*), aber/.exec(tied(pitch))?.[1],
      ),
    ).toEqual(['H3', 'B3', 'Heses3', 'Fis4', 'Es5', 'As2', 'Ces4', 'einer Schlagzeugnote']);
  });

  it('tells what is not kept', () => {
    expect(german('not-kept', 'The accidental "x" is not kept (found 3 times).')).toBe(
      'Nicht übernommen: das Vorzeichen „x“ (3-mal vorhanden).',
    );
  });

  it('stays in English where its shape is not known, never half in each', () => {
    for (const [code, message] of [
      ['not-kept', 'A thing that nobody knows is not kept (found once).'],
      ['bar-overfull', 'This bar holds too much.'],
      ['no-such-code', 'Something else.'],
      [
        'octave-unmarked',
        '"Viol" looks like a viol, which usually sounds an octave lower than written, but the score does not say so. It is read as sounding where it is written; if it sounds an octave lower, say --octave P1=-1.',
      ],
    ] as const)
      expect(german(code, message)).toBe(message);
  });

  it('is left alone in English', () => {
    expect(said(problem('error', 'no-piece', 'No score is open.'), 'en')).toBe('No score is open.');
  });
});

describe('a pattern', () => {
  it('stands for each of its alternatives', () => {
    expect(shapesOf('[a|b] {n} [c|]').map(({ fixed }) => fixed.join('.'))).toEqual([
      'a . c',
      'a . ',
      'b . c',
      'b . ',
    ]);
  });

  it('takes the shortest text for a hole, and the same text for the same hole', () => {
    const match = (pattern: string, text: string) =>
      shapesOf(pattern).map((shape) => matched(shape, text))[0] ?? null;
    expect(match('{a} of {b}', 'one of two of three')).toEqual(
      new Map([
        ['a', 'one'],
        ['b', 'two of three'],
      ]),
    );
    expect(match('{a}-{b}: {b}-{a}', '1-2: 2-1')).not.toBeNull();
    expect(match('{a}-{b}: {b}-{a}', '1-2: 1-2')).toBeNull();
    expect(match('x{a}', 'y')).toBeNull();
  });

  it('does not take overlapping texts for its fixed ones', () => {
    const [shape] = shapesOf('ab{x}ba');
    expect(shape === undefined ? null : matched(shape, 'aba')).toBeNull();
  });

  it('is not filled where a text is none of its kind', () => {
    const kinds = { none: () => null };
    expect(filled('{a}', new Map([['a', 'x']]), kinds)).toBe('x');
    expect(filled('{a:none}', new Map([['a', 'x']]), kinds)).toBeNull();
    expect(filled('{b}', new Map([['a', 'x']]), kinds)).toBeNull();
  });
});

describe('the language', () => {
  it('is the first that the page is written in', () => {
    expect(preferredLanguage(['fr-CH', 'de-CH', 'en'])).toBe('de');
    expect(preferredLanguage(['en-GB', 'de'])).toBe('en');
    expect(preferredLanguage(['nl'])).toBe('en');
    expect(preferredLanguage([])).toBe('en');
  });
});
