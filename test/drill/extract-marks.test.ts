/**
 * What an extract carries beside its notes: tempo, cue notes, notes held over. Source of every check, unless said beside it: our
 * definition (src/drill/extract.ts, extractMarks.ts, extractNotes.ts).
 */
import { describe, expect, it } from 'vitest';
import { extractScore } from '../../src/drill/extract.ts';
import type { Drill } from '../../src/drill/model.ts';
import { scoreTempo } from '../../src/rhythm/scoreTempo.ts';
import { secondsAtPosition } from '../../src/rhythm/tempo.ts';
import type { Mark, Score } from '../../src/score/model.ts';
import { playingOrder } from '../../src/score/playing.ts';
import { F, note } from '../../src/units/index.ts';
import { place, tempoMark, tempoWords, worked } from '../support/drills.ts';
import { music } from '../support/music.ts';
import { scoreOf } from '../support/scores.ts';

const extract = (score: Score, drill: Partial<Drill> = {}): Score =>
  extractScore(worked(score, { tempo: [], ...drill }));

/** Tempo marks as "unit=figure@place", in brackets where not printed; words and letters as they are. */
const marksText = ({ marks }: Score): string[] =>
  marks.map((mark: Mark) => {
    if (mark.kind === 'relation') return 'relation';
    if (mark.kind !== 'tempo') return `${mark.text}@${F.format(mark.at)}`;
    const text = `${F.format(mark.unit)}=${F.format(mark.perMinute)}`;
    return `${mark.printed ? text : `(${text})`}@${F.format(mark.at)}`;
  });

/** Written notes as "kind:length@place", cue notes said so, ties as "~" on their side. */
const writtenText = ({ parts }: Score): string[] =>
  parts.flatMap(({ written }) =>
    written.map(
      ({ kind, duration, onset, tieStart, tieStop, cue }) =>
        `${tieStop ? '~' : ''}${cue ? 'cue ' : ''}${kind}:${F.format(duration)}@${F.format(onset)}${tieStart ? '~' : ''}`,
    ),
  );

describe('the tempo of an extract', () => {
  const changing = scoreOf('4/4 ; 4/4 ; 4/4', [
    tempoMark(note(0), 0, 60),
    tempoMark(place('3/2'), 1, 90),
    tempoMark(note(2), 2, 120),
  ]);

  it('is what is written, from the passage on', () => {
    expect(marksText(extract(changing))).toEqual(['1/4=60@0', '1/4=90@3/2', '1/4=120@2']);
    // The tempo in force stands at the beginning.
    expect(marksText(extract(changing, { bars: '2' }))).toEqual(['1/4=60@0', '1/4=90@1/2']);
    expect(marksText(extract(changing, { bars: '3' }))).toEqual(['1/4=120@0']);
  });

  it('is a share of it where the drill asks for one; of several steps, the first', () => {
    expect(marksText(extract(changing, { tempo: ['50%', '100%'] }))).toEqual([
      '1/4=30@0',
      '1/4=45@3/2',
      '1/4=60@2',
    ]);
    expect(marksText(extract(changing, { tempo: ['80%'] }))).toEqual(['1/4=48@0', '1/4=72@3/2', '1/4=96@2']);
  });

  it('is the one that the drill gives, throughout', () => {
    expect(marksText(extract(changing, { tempo: ['72', '80'] }))).toEqual(['1/4=72@0']);
  });

  it('is marked again where a repeat goes back to an earlier one', () => {
    const repeated = scoreOf('|: 4/4 ; 4/4 :|', [tempoMark(note(0), 0, 60), tempoMark(note(1), 1, 120)]);
    expect(marksText(extract(repeated))).toEqual(['1/4=60@0', '1/4=120@1', '1/4=60@2', '1/4=120@3']);
    expect(marksText(extract(repeated, { tempo: ['50%'] }))).toEqual([
      '1/4=30@0',
      '1/4=60@1',
      '1/4=30@2',
      '1/4=60@3',
    ]);
  });

  it('changes gradually from its word to its goal, and is marked nowhere between them', () => {
    const marks = [tempoMark(note(0), 0, 60), tempoWords(note(1), 1, 'accel.'), tempoMark(note(3), 3, 120)];
    const score = scoreOf('4/4 ; 4/4 ; 4/4 ; 4/4', marks);
    const found = extract(score);
    expect(marksText(found)).toEqual(['1/4=60@0', 'accel.@1', '1/4=120@3']);
    // Read by itself it takes as long as the drill: 4 s, twice 4 quarters of 3/4 s on average, 2 s.
    const { map } = scoreTempo(found, playingOrder(found).order);
    expect(F.format(secondsAtPosition(map, note(4)))).toBe('12');
    expect(F.format(worked(score, { tempo: [] }).timeline.duration)).toBe('12');
    // Where the goal is cut off it goes on in steps that the page does not show.
    expect(marksText(extract(score, { bars: '1-3' }))).toEqual(['1/4=60@0', 'accel.@1', '(1/4=80)@2']);
    expect(marksText(extract(score, { bars: '3-4' }))).toEqual(['1/4=80@0', '1/4=120@1']);
  });

  it('keeps the unit and the print of its own marks', () => {
    const hidden: Mark = { ...tempoMark(note(1), 1, 80), printed: false } as Mark;
    const dotted: Mark = { ...tempoMark(note(2), 2, 50), unit: note(3, 8) } as Mark;
    const score = scoreOf('4/4 ; 4/4 ; 4/4', [tempoMark(note(0), 0, 60), hidden, dotted]);
    expect(marksText(extract(score))).toEqual(['1/4=60@0', '(1/4=80)@1', '3/8=50@2']);
    // At its beginning the tempo is printed, whatever it was.
    expect(marksText(extract(score, { bars: '2' }))).toEqual(['1/4=80@0']);
  });

  it('speaks of the beat, or of a value in which the figure can be written out', () => {
    const six = (quarters: number) => scoreOf('6/8', [tempoMark(note(0), 0, quarters)]);
    expect(marksText(extract(six(90)))).toEqual(['3/8=60@0']);
    expect(marksText(extract(six(100)))).toEqual(['1/4=100@0']);
  });

  it('has words and letters of the bars played, before the figure, and as often as they are played', () => {
    const letter: Mark = { kind: 'rehearsal', at: note(1), bar: 1, text: 'A' };
    const marks = [
      tempoMark(note(0), 0, 60),
      letter,
      tempoWords(note(1), 1, 'dolce'),
      tempoMark(note(1), 1, 90),
    ];
    const score = scoreOf('4/4 ; |: 4/4 :|', marks);
    expect(marksText(extract(score, { bars: 'all' }))).toEqual([
      '1/4=60@0',
      'A@1',
      'dolce@1',
      '1/4=90@1',
      'A@2',
      'dolce@2',
    ]);
    expect(marksText(extract(score, { bars: '1' }))).toEqual(['1/4=60@0']);
  });
});

describe('the notes of an extract', () => {
  it('of a cue stay, whatever the filter', () => {
    const score = music('4/4', { P1: 'C4/4c D4/4c E4/2' });
    expect(writtenText(extract(score, { keep: '1/16' }))).toEqual([
      'cue note:1/4@0',
      'cue note:1/4@1/4',
      'rest:1/2@1/2',
    ]);
    // They do not sound.
    expect(extract(score).parts[0]?.notes.length).toBe(1);
  });

  it('go with their grace notes, and what is left of a chord stays', () => {
    const graced = music('4/4', { P1: 'B3/16g C4/2 A3/16g D4/4 r/4' });
    expect(writtenText(extract(graced, { keep: '1/4' }))).toEqual([
      'rest:1/2@0',
      'grace:0@1/2',
      'note:1/4@1/2',
      'rest:1/4@3/4',
    ]);
    const chord = music('4/4', { P1: 'C4+E4/2 G4/2' });
    expect(extract(chord).parts[0]?.written.map(({ chord: is }) => is)).toEqual([false, true, false]);
  });

  it('held into the passage begin with it, cut and untied', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/1~ | C4/2 D4/2' });
    expect(writtenText(extract(score, { bars: '2' }))).toEqual(['note:1/2@0', 'note:1/2@1/2']);
    const { notes } = worked(score, { bars: '2' }).timeline;
    expect(notes.map(({ at, length }) => `${F.format(at)}+${F.format(length)}`)).toEqual([
      '0+1/2',
      '1/2+1/2',
    ]);
  });

  it('held into an upbeat begin with the upbeat', () => {
    const score = music('4/4 ; 4/4', { P1: 'C4/2. r/4 | D4/1', P2: 'r/2 C3/4 D3/4 | E3/1' });
    const found = extract(score, { bars: '2', upbeat: '1/2' });
    expect(writtenText(found)).toEqual([
      'note:1/4@0',
      'rest:1/4@1/4',
      'note:1@1/2',
      'note:1/4@0',
      'note:1/4@1/4',
      'note:1@1/2',
    ]);
  });

  it('held over a jump do not sound on after it, where nobody plays them', () => {
    // Bar 2 ends the repeat; D4 tied into bar 3 is not heard in bar 1, nor C4 of bar 1 where bar 1 is not before it.
    const score = music('4/4 ; |: 4/4 ; 4/4 :|', { P1: 'C4/1~ | C4/1 | D4/1' });
    const { notes } = worked(score, { bars: 'all' }).timeline;
    expect(notes.map(({ midi, at, length }) => `${midi ?? '-'}@${F.format(at)}+${F.format(length)}`)).toEqual(
      ['60@0+2', '62@2+1', '62@4+1'],
    );
    // The passage itself begins after the tie: there it sounds.
    const inside = worked(score, { bars: '2' }).timeline.notes;
    expect(inside.map(({ midi, at }) => `${midi ?? '-'}@${F.format(at)}`)).toEqual(['60@0']);
  });

  it('are tied only where both notes are there', () => {
    const score = music('4/4 ; 4/4 ; 4/4', { P1: 'C4/1~ | C4/1~ | C4/1' });
    expect(writtenText(extract(score))).toEqual(['note:1@0~', '~note:1@1~', '~note:1@2']);
    expect(writtenText(extract(score, { bars: '2' }))).toEqual(['note:1@0']);
  });

  it('keep their beams only where the whole group is there', () => {
    const beams = (keep: string) =>
      extract(music('2/4', { P1: 'C4/8( D4/8) E4/8( F4/16- G4/16)' }), { keep }).parts[0]?.written.map(
        (piece) => piece.beams[0] ?? '-',
      );
    expect(beams('all')).toEqual(['begin', 'end', 'begin', 'continue', 'end']);
    expect(beams('1/8')).toEqual(['begin', 'end', '-', '-']);
  });
});
