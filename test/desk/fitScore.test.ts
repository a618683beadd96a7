/** What an ensemble sets for a piece: bar numbers, octaves, transpositions and title follow everywhere. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  asInScore,
  holdPiece,
  liveDrill,
  makeDrill,
  overview,
  type PieceSettings,
} from '../../src/desk/index.ts';
import { readPiece } from '../../src/desk/readOnce.ts';

const demo = readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml'));

const seen = (settings: Partial<PieceSettings>) => {
  const piece = overview(demo, { ...asInScore, ...settings });
  if (!piece.ok) throw new Error(piece.error.message);
  return piece.value.look;
};

const pitches = (settings: Partial<PieceSettings>, part: string): readonly (number | null)[] => {
  const piece = readPiece(demo, { ...asInScore, ...settings });
  if (!piece.ok) throw new Error(piece.error.message);
  const found = piece.value.score.parts.find(({ id }) => id === part);
  return (found?.notes ?? []).map(({ midi }) => midi);
};

const [flute = '', clarinet = ''] = seen({}).parts.map(({ id }) => id);

describe('bar numbers of the edition', () => {
  it('stand in the look, and passages are asked for by them', () => {
    const plain = seen({}).bars.map(({ number }) => number);
    const shifted = seen({ barShift: 100 }).bars.map(({ number }) => number);
    expect(shifted).toStrictEqual(plain.map((number) => String(Number(number) + 100)));
    const held = holdPiece(demo, { ...asInScore, barShift: 100 });
    if (!held.ok) throw new Error(held.error.message);
    const drill = liveDrill(held.value, { bars: '110-117' }, 48_000);
    if (!drill.ok) throw new Error(drill.error.message);
    expect(drill.value.live.summary.bars).toStrictEqual(Array.from({ length: 8 }, (_, i) => String(110 + i)));
    expect(liveDrill(held.value, { bars: '10-17' }, 48_000).ok).toBe(false);
  });

  it('that would begin below nought stay as they are, and that is told', () => {
    const { bars, problems } = seen({ barShift: -5 });
    expect(bars.map(({ number }) => number)).toStrictEqual(seen({}).bars.map(({ number }) => number));
    expect(problems.map(({ code }) => code)).toContain('bar-shift-below-zero');
  });

  it('keep letters, and numbers that do not count', () => {
    const plan = new TextEncoder().encode('1-2 3/4; 2a 3/4; X1 3/4; 3 3/4');
    const piece = overview(plan, { ...asInScore, barShift: 10 });
    expect(piece.ok && piece.value.look.bars.map(({ number }) => number)).toStrictEqual([
      '11',
      '12',
      '12a',
      'X1',
      '13',
    ]);
  });
});

describe('how a part sounds', () => {
  it('an octave is twelve semitones, and other parts stay', () => {
    const plain = pitches({}, flute);
    expect(plain.length).toBeGreaterThan(50);
    expect(pitches({ octaves: { [flute]: -1 } }, flute)).toStrictEqual(plain.map((midi) => (midi ?? 0) - 12));
    expect(pitches({ octaves: { [flute]: -1 } }, clarinet)).toStrictEqual(pitches({}, clarinet));
  });

  it('a clarinet in A sounds a semitone below one in B flat; the page shows the same notes', () => {
    // Sounding pitch of clarinets: a minor third and a tone below what is written; common practice, no source.
    const inA = { transpositions: { [clarinet]: { diatonic: -2, chromatic: -3 } } };
    expect(seen({}).parts[1]?.transpose).toBe(-2);
    expect(seen(inA).parts[1]?.transpose).toBe(-3);
    expect(pitches(inA, clarinet)).toStrictEqual(pitches({}, clarinet).map((midi) => (midi ?? 0) - 1));
    const both = { ...inA, octaves: { [clarinet]: 1 } };
    expect(pitches(both, clarinet)).toStrictEqual(pitches({}, clarinet).map((midi) => (midi ?? 0) + 11));
    expect(seen({ transpositions: { [clarinet]: null } })).toStrictEqual(seen({}));
  });

  it('is heard in the MIDI and shown in the MusicXML of a drill', () => {
    const made = (settings: PieceSettings) => {
      const drill = makeDrill(demo, { bars: '10-12' }, { settings });
      if (!drill.ok) throw new Error(drill.error.message);
      return (name: string): string =>
        Buffer.concat([...(drill.value.files.find((file) => file.name === name)?.chunks ?? [])]).toString(
          'latin1',
        );
    };
    const plain = made(asInScore);
    const inA = made({ ...asInScore, transpositions: { [clarinet]: { diatonic: -2, chromatic: -3 } } });
    expect(plain('drill.musicxml')).toContain('<chromatic>-2</chromatic>');
    expect(inA('drill.musicxml')).toContain('<chromatic>-3</chromatic>');
    expect(inA('drill.mid')).not.toBe(plain('drill.mid'));
    expect(inA('click.wav')).toBe(plain('click.wav'));
  });
});

it('a title of their own, and parts that the score does not have', () => {
  expect(seen({ title: ' Lanterns ' }).title).toBe('Lanterns');
  expect(seen({ title: ' ' }).title).toBe('Lanterns on the Towpath');
  expect(seen({ octaves: { P9: 1 }, transpositions: { P9: { diatonic: 0, chromatic: 0 } } })).toStrictEqual(
    seen({}),
  );
});
