import { describe, expect, it } from 'vitest';
import { voiceOf } from '../../src/sound/voices/voiceOf.ts';
import { instruments, partOf } from './music.ts';

const named = (name: string, program: number | null = null) =>
  voiceOf({ id: 'P1', name, sound: '', program }).voice;

describe('the voice of a part', () => {
  it.each(instruments)('is known by its standard sound: $sound', ({ sound, voice }) => {
    expect(voiceOf(partOf(sound)).voice).toBe(voice);
  });

  // Names as they stand in printed scores; common practice, no source.
  it.each([
    ['Flute', 'flute'],
    ['Querflöte', 'flute'],
    ['Flûte traversière', 'flute'],
    ['Flauto I', 'flute'],
    ['Alto Flute', 'flute'],
    ['Dwarsfluit', 'flute'],
    ['Piccolo', 'flute'],
    ['Altblockflöte', 'recorder'],
    ['Tenor Recorder', 'recorder'],
    ['Flûte à bec', 'recorder'],
    ['Flauto dolce', 'recorder'],
    ['Hautbois', 'oboe'],
    ['Hobo 2', 'oboe'],
    ['English Horn', 'oboe'],
    ['Cor anglais', 'oboe'],
    ['Corno inglese', 'oboe'],
    ['Clarinet in B♭', 'clarinet'],
    ['Klarinette', 'clarinet'],
    ['Bass Clarinet', 'clarinet'],
    ['Corno di bassetto', 'clarinet'],
    ['Alto Sax', 'saxophone'],
    ['Fagott', 'bassoon'],
    ['Basson', 'bassoon'],
    ['Contrabassoon', 'bassoon'],
    ['Horn in F', 'horn'],
    ['Corno', 'horn'],
    ['Cor', 'horn'],
    ['Hoorn', 'horn'],
    ['Trompa', 'horn'],
    ['Tromba in C', 'trumpet'],
    ['Trompette', 'trumpet'],
    ['Flügelhorn', 'trumpet'],
    ['Bass Trombone', 'trombone'],
    ['Posaune', 'trombone'],
    ['Tuba', 'tuba'],
    ['Violin 1', 'violin'],
    ['Violino II', 'violin'],
    ['Violons', 'violin'],
    ['Geige', 'violin'],
    ['Viool', 'violin'],
    ['Viola', 'viola'],
    ['Bratsche', 'viola'],
    ['Altviool', 'viola'],
    ['Violoncello', 'cello'],
    ['Violonchelo', 'cello'],
    ['Viola da gamba', 'cello'],
    ['Kontrabass', 'double bass'],
    ['Contrebasse', 'double bass'],
    ['Double Bass', 'double bass'],
    ['Violone', 'double bass'],
    ['Soprano', 'voice'],
    ['Alt', 'voice'],
    ['Bariton', 'voice'],
    ['Bass', 'voice'],
    ['Cantus', 'voice'],
    ['Piano', 'piano'],
    ['Klavier', 'piano'],
    ['Cembalo', 'harpsichord'],
    ['Clavecin', 'harpsichord'],
    ['Orgel', 'organ'],
    ['Basso continuo', 'organ'],
    ['Guitarra', 'guitar'],
    ['Laute', 'guitar'],
    ['Harfe', 'harp'],
    ['Pauken', 'percussion'],
  ])('is known by its name: %s is %s', (name, voice) => {
    expect(named(name)).toBe(voice);
  });

  it('goes by the name before the program, and by the program for a bass', () => {
    expect(named('Oboe', 1)).toBe('oboe');
    expect(named('Bass', 44)).toBe('double bass');
    expect(named('', 61)).toBe('horn');
    expect(named('Part 3', 43)).toBe('cello');
  });
});
