/** Whose the recordings are that telephones made: by what their files are called, else in the order of the score. */
import { describe, expect, it } from 'vitest';
import { whose } from '../../src/app/takes/whose.ts';

const duo = [
  { id: 'P1', name: 'Flute' },
  { id: 'P2', name: 'Clarinet in B♭' },
];
const quartet = [
  { id: 'P1', name: 'Violin I' },
  { id: 'P2', name: 'Violin II' },
  { id: 'P3', name: 'Viola' },
  { id: 'P4', name: 'Violoncello' },
];
const players: Readonly<Record<string, string>> = { P1: 'Anna', P2: 'Ben' };
const nobody = (): readonly string[] => [];

describe('recordings that come together', () => {
  it('one is of all', () => expect(whose(['flute.wav'], duo, nobody)).toEqual(['']));

  it('go by the order of the score where their names say nothing', () =>
    expect(whose(['Voice 012.m4a', 'REC-7.wav'], duo, nobody)).toEqual(['P1', 'P2']));

  it('go by part or player where their names say so, whatever the order', () => {
    expect(whose(['Clarinet in B♭.wav', 'IMG 4.m4a'], duo, nobody)).toEqual(['P2', 'P1']);
    expect(whose(['Ben 28 Nov.m4a', "Anna's phone.m4a"], duo, (part) => [players[part] ?? ''])).toEqual([
      'P2',
      'P1',
    ]);
  });

  it('are nobody’s where that would be a guess: too few, too many, or two of the same name', () => {
    expect(whose(['a.wav', 'b.wav', 'c.wav'], duo, nobody)).toEqual(['', '', '']);
    expect(whose(['a.wav', 'viola.wav'], quartet, nobody)).toEqual(['', 'P3']);
    // "Violin II" says "Violin I" too.
    expect(whose(['violin ii.wav', 'viola.wav'], quartet, nobody)).toEqual(['', 'P3']);
    expect(whose(['Flute 1.wav', 'Flute 2.wav', 'x.wav'], duo, nobody)).toEqual(['', '', '']);
  });
});
