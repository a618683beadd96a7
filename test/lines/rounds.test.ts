/**
 * Rounds in the public domain come back as canons at the distance and interval at which they are sung. Melodies traditional, from memory; the
 * distances are those at which they are known to work (Frère Jacques two bars, Three Blind Mice four, Row, Row, Row Your Boat two, all at the
 * unison or, for low voices, the octave; Tallis's Canon, T. Tallis c. 1567: tenor follows treble a bar later, an octave lower).
 */
import { describe, expect, it } from 'vitest';
import { findPlaces } from '../../src/lines/index.ts';
import type { Place } from '../../src/lines/model.ts';
import { F } from '../../src/units/index.ts';
import { music } from '../support/music.ts';

const frere =
  'C4/4 D4/4 E4/4 C4/4 | C4/4 D4/4 E4/4 C4/4 | E4/4 F4/4 G4/2 | E4/4 F4/4 G4/2 | G4/8 A4/8 G4/8 F4/8 E4/4 C4/4 | G4/8 A4/8 G4/8 F4/8 E4/4 C4/4 | C4/4 G3/4 C4/2 | C4/4 G3/4 C4/2';
const mice =
  'E4/4. D4/4. | C4/2. | E4/4. D4/4. | C4/2. | G4/4. F4/4 F4/8 | E4/2. | G4/4. F4/4 F4/8 | E4/4. r/4 G4/8 | C5/4 C5/8 B4/8 A4/8 B4/8 | C5/4 G4/8 G4/4 G4/8 | C5/8 C5/8 C5/8 B4/8 A4/8 B4/8 | C5/4 G4/8 G4/4 F4/8 | E4/4. D4/4. | C4/2.';
const row =
  'C4/4. C4/4. | C4/4 D4/8 E4/4. | E4/4 D4/8 E4/4 F4/8 | G4/2. | C5/8 C5/8 C5/8 G4/8 G4/8 G4/8 | E4/8 E4/8 E4/8 C4/8 C4/8 C4/8 | G4/4 F4/8 E4/4 D4/8 | C4/2.';
// In G, upbeat left out, even quarters: the hymn "Glory to Thee, my God, this night".
const tallis =
  'G4/4 G4/4 F#4/4 G4/4 | G4/4 A4/4 A4/4 B4/4 | G4/4 C5/4 C5/4 B4/4 | B4/4 A4/4 A4/4 G4/4 | D4/4 G4/4 F#4/4 G4/4 | A4/4 A4/4 B4/4 G4/4 | C5/4 B4/4 A4/4 G4/4';

const lower = (melody: string, octaves: number): string =>
  melody.replace(
    /([A-G][#b]?)(\d)/g,
    (_, step: string, octave: string) => `${step}${Number(octave) - octaves}`,
  );

/** Voices that come in one after the other. */
const round = (metre: string, melody: string, delay: number, octaves: readonly number[]): Place[] => {
  const bars = melody.split('|').length + delay * (octaves.length - 1);
  const rest = metre === '4/4' ? 'r/1' : 'r/2.';
  const parts = octaves.map((octave, i): [string, string] => {
    const own = lower(melody, octave).split('|');
    const before = Array.from({ length: delay * i }, () => rest);
    const after = Array.from({ length: bars - own.length - before.length }, () => rest);
    return [`P${i + 1}`, [...before, ...own, ...after].join('|')];
  });
  const row = Array.from({ length: bars }, () => metre).join(' ; ');
  return [...findPlaces(music(row, Object.fromEntries(parts))).places];
};

const told = (places: readonly Place[]): unknown[] =>
  places
    .filter(({ kind }) => kind === 'canon')
    .map(({ parts, facts, seams, from }) => [
      parts.join(' '),
      from.bar,
      facts.lag === null ? null : F.format(facts.lag),
      facts.steps,
      seams.map(
        ({ bar, beat, from: leader, to, also }) => `${bar}:${beat} ${leader}>${[to, ...also].join('+')}`,
      ),
    ]);

describe('rounds', () => {
  it.each<[string, Place[], unknown]>([
    [
      'Frère Jacques',
      round('4/4', frere, 2, [0, 0, 0, 0]),
      ['P1 P2 P3 P4', '1', '2', 0, ['3:1 P1>P2', '5:1 P2>P3', '7:1 P3>P4']],
    ],
    [
      'Three Blind Mice',
      round('6/8', mice, 4, [0, 0, 0]),
      ['P1 P2 P3', '1', '3', 0, ['5:1 P1>P2', '9:1 P2>P3']],
    ],
    [
      'Row, Row, Row Your Boat',
      round('6/8', row, 2, [0, 0, 1, 1]),
      ['P1 P2 P3 P4', '1', '3/2', 0, ['3:1 P1>P2', '5:1 P2>P3', '7:1 P3>P4']],
    ],
    ["Tallis's Canon", round('4/4', tallis, 1, [0, 1]), ['P1 P2', '1', '1', -7, ['2:1 P1>P2']]],
  ])('%s is one canon', (_, places, wanted) => {
    expect(told(places)).toEqual([wanted]);
  });
});
