/** Each kind of place in the smallest music that has it, and music that has it not. Rules: at the heads of the files in src/lines; no other source. */
import { describe, expect, it } from 'vitest';
import { findPlaces, type PlaceKind } from '../../src/lines/index.ts';
import type { Score } from '../../src/score/model.ts';
import { music } from '../support/music.ts';
import { scoreOf } from '../support/scores.ts';
import { tempoMark, tempoWords } from '../support/drills.ts';
import { note } from '../../src/units/index.ts';

const told = (score: Score, kind: PlaceKind): string[] =>
  findPlaces(score)
    .places.filter((place) => place.kind === kind)
    .map(
      ({ parts, from, to, seams }) =>
        `${parts.join(' ')} ${from.bar}:${from.beat}-${to.bar}:${to.beat}${seams.map((seam) => ` ${seam.bar}:${seam.beat} ${seam.to}`).join('')}`,
    );

const codes = (score: Score): string[] => findPlaces(score).problems.map(({ code }) => code);

describe('shared lines', () => {
  const run = 'C4/8 D4/8 E4/8 F4/8';
  it('are handed over with a joining note, which belongs to the one who takes over', () => {
    const score = music('4/4 ; 4/4', { P1: `${run} G4/2 | r/1`, P2: 'r/2 G4/8 F4/8 E4/8 D4/8 | C4/1' });
    expect(told(score, 'shared-line')).toEqual(['P1 P2 1:1-2:1 1:3 P2']);
  });
  it('live over long notes and under faster ones', () => {
    const score = music('4/4 ; 4/4', {
      P1: `${run} r/2 | r/1`,
      P2: 'r/2 G4/8 F4/8 E4/8 D4/8 | C4/1',
      P3: 'C3/1 | C3/1',
      P4: `${'G5/16 A5/16 '.repeat(8)} | ${'G5/16 A5/16 '.repeat(8)}`,
    });
    expect(told(score, 'shared-line')).toEqual(['P1 P2 1:1-2:1 1:3 P2']);
  });
  it('name the higher of two who take over together', () => {
    const score = music('4/4 ; 4/4', {
      P1: `${run} r/2 | r/1`,
      P2: 'r/2 E3/8 D3/8 C3/8 B2/8 | A2/1',
      P3: 'r/2 G3/8 F3/8 E3/8 D3/8 | C3/1',
    });
    expect(told(score, 'shared-line')).toEqual(['P1 P2 P3 1:1-2:1 1:3 P3']);
  });
  it('need somebody to hand over to', () => {
    const score = music('4/4', { P1: `${run} ${run}` });
    expect(told(score, 'shared-line')).toEqual([]);
    expect(codes(score)).toContain('places-one-part');
  });
  describe('without pitches', () => {
    const bare = (score: Score, which: (id: string) => boolean = () => true): Score => ({
      ...score,
      parts: score.parts.map((one) =>
        which(one.id)
          ? { ...one, notes: one.notes.map((sounding) => ({ ...sounding, pitch: null, midi: null })) }
          : one,
      ),
    });
    const drums = music('4/4 ; 4/4 ; 4/4', {
      P1: `${run} G4/8 r/4. | ${run} G4/8 r/4. | C4/1`,
      P2: `r/2 r/8 C4/8 D4/8 E4/8 | r/2 r/8 C4/8 D4/8 E4/8 | r/1`,
    });
    it('are found by rhythm, and that is said', () => {
      const seams = '1:3+1/2 P2 2:1 P1 2:3+1/2 P2';
      expect(told(bare(drums), 'shared-line')).toEqual([`P1 P2 1:1-2:4+1/2 ${seams}`]);
      const [problem] = findPlaces(bare(drums)).problems;
      expect(problem?.code).toBe('places-unpitched');
      expect(problem?.message).toContain('found by rhythm');
    });
    it('are not told where they are handed over once: nothing tells a line from accompaniment', () => {
      const once = music('4/4 ; 4/4', { P1: `${run} r/2 | r/1`, P2: 'r/2 G4/8 F4/8 E4/8 D4/8 | C4/1' });
      expect(told(bare(once), 'shared-line')).toEqual([]);
      expect(codes(bare(once))).toEqual(['places-unpitched', 'places-unpitched']);
    });
    it('are not handed from pitches to none', () => {
      expect(
        told(
          bare(drums, (id) => id === 'P2'),
          'shared-line',
        ),
      ).toEqual([]);
      expect(codes(bare(drums, (id) => id === 'P2'))).toEqual(['places-unpitched']);
    });
  });
});

describe('other places', () => {
  it.each<[PlaceKind, Score, string[]]>([
    ['joint-entry', music('4/4 ; 4/4', { P1: 'C4/2 r/2 | C4/1', P2: 'E4/2 r/2 | E4/1' }), ['P1 P2 2:1-2:1']],
    ['joint-entry', music('4/4 ; 4/4', { P1: 'C4/1! | C4/1', P2: 'E4/1! | E4/1' }), ['P1 P2 2:1-2:1']],
    ['joint-entry', music('4/4 ; 4/4', { P1: 'C4/2 r/2 | C4/1', P2: 'E4/1 | E4/1' }), []],
    [
      'rhythmic-unison',
      music('4/4 ; 4/4', { P1: 'C4/2 D4/4 E4/4 | F4/2 G4/2', P2: 'E4/2 F4/4 G4/4 | A4/2 B4/2' }),
      ['P1 P2 1:1-2:3'],
    ],
    [
      'rhythmic-unison',
      music('4/4 ; 4/4', { P1: 'C4/2 D4/4 E4/4 | F4/2 G4/2', P2: 'E4/4 F4/4 F4/4 G4/4 | A4/2 B4/2' }),
      [],
    ],
    [
      'after-beats',
      music('2/4 ; 2/4', { P1: 'r/8 E4/8 r/8 E4/8 | r/8 E4/8 r/8 E4/8', P2: 'C3/4 G3/4 | C3/4 G3/4' }),
      ['P1 1:1+1/2-2:2+1/2'],
    ],
    [
      'weak-beats',
      music('3/4 ; 3/4', { P1: 'r/4 E4/4 E4/4 | r/4 E4/4 E4/4', P2: 'C3/2. | G3/2.' }),
      ['P1 1:2-2:3'],
    ],
    [
      'weak-beats',
      music('4/4 ; 4/4', { P1: 'r/4 E4/4 r/4 E4/4 | r/4 E4/4 r/4 E4/4', P2: 'C3/2 G3/2 | C3/2 G3/2' }),
      ['P1 1:2-2:4'],
    ],
    ['syncopation', music('4/4', { P1: 'C4/8 D4/4 E4/4 F4/4 G4/8', P2: 'C3/4 C3/4 C3/4 C3/4' }), []],
    [
      'syncopation',
      music('4/4 ; 4/4', { P1: 'C4/8 D4/4 E4/4 F4/4 G4/8~ | G4/8 A4/16 B4/16 C5/4 r/2', P2: 'C3/1 | C3/1' }),
      ['P1 1:1+1/2-2:1+3/4'],
    ],
    [
      'cross-rhythm',
      music('2/4', { P1: 'C4/8t D4/8t E4/8t C4/8t D4/8t E4/8t', P2: 'C3/8 D3/8 C3/8 D3/8' }),
      ['P1 P2 1:1-1:2+2/3'],
    ],
    [
      'dots-against-triplets',
      music('2/4', { P1: 'C4/8t D4/8t E4/8t C4/8t D4/8t E4/8t', P2: 'C3/8. D3/16 C3/8. D3/16' }),
      ['P1 P2 1:1-1:2+3/4'],
    ],
    [
      'hemiola',
      music('3/4 ; 3/4 ; 3/4', {
        P1: 'C4/2 D4/4~ | D4/4 E4/2 | F4/2.',
        P2: 'E4/2 F4/4~ | F4/4 G4/2 | A4/2.',
      }),
      ['P1 P2 1:1-2:2'],
    ],
    ['metre-change', scoreOf('4/4 ; 3/4 ; 3/4'), [' 2:1-2:1']],
    [
      'tempo-change',
      scoreOf('4/4 ; 4/4', [
        tempoMark(note(0), 0, 60),
        tempoMark(note(1), 1, 90),
        tempoWords(note(3, 2), 1, 'rit.'),
      ]),
      [' 2:1-2:1', ' 2:3-2:3'],
    ],
    [
      'tie-over-bar',
      music('4/4 ; 4/4', { P1: 'C4/1 | C4/1', P2: 'C4/1 | C4/1', P3: 'C4/2 D4/2~ | D4/1' }),
      ['P3 1:3-2:1'],
    ],
    [
      'upbeat-start',
      music('4/4 ; 4/4 ; 4/4', { P1: 'C4/1 | C4/2 r/4 G4/4 | C5/1', P2: 'C3/1 | C3/2 r/2 | C3/1' }),
      ['P1 2:4-3:1'],
    ],
    ['last-notes', music('4/4 ; 4/4', { P1: 'C4/1 | C4/1', P2: 'C4/1 | C4/1' }), ['P1 P2 2:1-2:1']],
    [
      'long-note-then-run',
      music('4/4 ; 4/4', { P1: 'C4/2. D4/16 E4/16 F4/16 G4/16 | A4/1' }),
      ['P1 1:1-2:1'],
    ],
    [
      'imitation',
      music('4/4 ; 4/4', { P1: 'C4/4 D4/8 E4/8 C4/4 G4/4 | r/1', P2: 'r/2 G3/4 A3/8 B3/8 | G3/4 D4/4 r/2' }),
      ['P1 P2 1:1-2:2 1:3 P2'],
    ],
    [
      'imitation',
      music('4/4 ; 4/4 ; 4/4', {
        P1: 'C4/4 D4/8 E4/8 C4/4 G4/4 | r/1 | r/1',
        P2: 'r/1 | r/2 G3/4 A3/8 B3/8 | G3/4 D4/4 r/2',
      }),
      [],
    ],
  ])('%s', (kind, score, wanted) => {
    expect(told(score, kind)).toEqual(wanted);
  });
});

describe('scores that leave little to find', () => {
  it('say so: no parts, silent parts, no metre', () => {
    expect(codes(scoreOf('4/4 ; 4/4'))).toEqual(['places-no-parts']);
    expect(codes(music('4/4', { P1: 'C4/1', P2: 'r/1' }))).toEqual(['places-part-silent']);
    expect(codes(music('free:1/1', { P1: 'C4/1', P2: 'C4/1' }))).toEqual(['places-no-metre']);
  });

  it('find nothing in empty bars', () => {
    expect(findPlaces(music('4/4 ; 4/4', { P1: 'r/1 | r/1', P2: 'r/1 | r/1' })).places).toEqual([]);
  });

  it('take chords as one note and voices one by one', () => {
    const chords = music('4/4 ; 4/4', {
      P1: 'C4+E4/8 D4+F4/8 E4+G4/8 F4+A4/8 r/2 & C3/1 | r/1',
      P2: 'r/2 G4/8 F4/8 E4/8 D4/8 | C4/1',
    });
    expect(told(chords, 'shared-line')).toEqual(['P1 P2 1:1-2:1 1:3 P2']);
  });
});
