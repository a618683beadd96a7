import { describe, expect, test } from 'vitest';
import { octaveQuestions, withOctaves } from '../../src/score/octaves.ts';
import { attributes, fullBar, measure, onePart, read, time } from './musicxml-fragments.ts';

const named = (name: string, more = '') =>
  read(onePart(measure('1', attributes(1, time(4, 4) + more) + fullBar()), name)).score;
const asked = (name: string, more = ''): string[] =>
  octaveQuestions(named(name, more)).map(({ message }) => /--octave (\S+)\./.exec(message)?.[1] ?? '');

/** Which instruments sound an octave away: common practice, no source. */
describe('instruments that usually sound an octave away', () => {
  test.each([
    'Descant Recorder',
    'Soprano recorder',
    'Sopranino Recorder',
    'Blockfl\u00f6te Sopran',
    'Sopranblockfl\u00f6te',
    'Bass Recorder',
    'Recorder (Bass)',
    'Bassblockfl\u00f6te',
    'Gro\u00dfbass-Blockfl\u00f6te',
    'fl\u00fbte \u00e0 bec basse',
    'flauto dolce soprano',
    'Flauto dolce basso',
    'Piccolo',
    'Ottavino',
    'Petite fl\u00fbte',
  ])('%s: up', (name) => expect(asked(name)).toEqual(['P1=+1']));

  test.each([
    'Double Bass',
    'Contrabass',
    'Kontrabass',
    'Contrebasse',
    'Guitar',
    'Gitarre',
    'Contrabassoon',
    'Kontrafagott',
    'Tenor',
    'T\u00e9nor',
  ])('%s: down', (name) => expect(asked(name)).toEqual(['P1=-1']));

  test.each([
    'Alto Recorder',
    'Treble Recorder',
    'Tenor Recorder',
    'Altblockfl\u00f6te',
    'Flute',
    'Violin',
    'Bassoon',
    'Fagott',
    'Bass',
    'Soprano',
    'Contrabass Clarinet',
    'Piccolo Trumpet',
    'Tenor Saxophone',
    '',
  ])('%s: nothing to ask', (name) => expect(asked(name)).toEqual([]));

  test('by the standard sound where the name is silent', () => {
    const text = onePart(measure('1', attributes(1) + fullBar()), 'III').replace(
      '</part-name>',
      '</part-name><score-instrument id="I1"><instrument-name>x</instrument-name><instrument-sound>wind.flutes.recorder.bass</instrument-sound></score-instrument>',
    );
    expect(octaveQuestions(read(text).score)).toHaveLength(1);
  });

  test('not where the score tells it, by transposition or by clef', () => {
    expect(
      asked(
        'Bass Recorder',
        '<clef><sign>F</sign><line>4</line><clef-octave-change>1</clef-octave-change></clef>',
      ),
    ).toEqual([]);
    expect(
      asked(
        'Double Bass',
        '<transpose><chromatic>0</chromatic><octave-change>-1</octave-change></transpose>',
      ),
    ).toEqual([]);
    expect(asked('Tenor', '<clef><sign>F</sign><line>4</line></clef>')).toEqual([]);
  });
});

describe('saying otherwise', () => {
  test('sounding pitch moves, written pitch stays', () => {
    const result = withOctaves(named('Bass Recorder'), { P1: 1 });
    const part = result.ok ? result.value.parts[0] : undefined;
    expect(part?.notes[0]?.midi).toBe(72);
    expect(part?.notes[0]?.pitch).toEqual({ step: 'C', alter: 0, octave: 4 });
    expect(part?.transpositions).toMatchObject([{ diatonic: 7, chromatic: 12 }]);
    expect(octaveQuestions(result.ok ? result.value : named('Bass Recorder'))).toEqual([]);
  });

  test('it is added to a transposition that is there', () => {
    const result = withOctaves(
      named('Clarinet', '<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>'),
      { P1: -1 },
    );
    expect(result.ok && result.value.parts[0]?.notes[0]?.midi).toBe(46);
    expect(result.ok && result.value.parts[0]?.transpositions[0]).toMatchObject({
      diatonic: -8,
      chromatic: -14,
    });
  });

  test('unknown parts and absurd octaves are refused', () => {
    const unknown = withOctaves(named('Flute'), { P7: 1 });
    expect(unknown.ok ? '' : unknown.error.code).toBe('part-unknown');
    const absurd = withOctaves(named('Flute'), { P1: 0.5 });
    expect(absurd.ok ? '' : absurd.error.code).toBe('octave-out-of-range');
  });
});
