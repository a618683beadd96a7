/** What is rough counts in no figure: 200 ms and 20 dB away it changes none, where notes that were heard would. No outside source: a rule of our own. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { findingsOf } from '../../src/desk/findings/index.ts';
import { parseReading, pieceHash, usualDrill } from '../../src/desk/index.ts';
import type { ReadingNote } from '../../src/desk/reading.ts';
import { figuresOf } from '../../src/desk/readingFigures.ts';
import { readPiece } from '../../src/desk/readOnce.ts';
import { workOut } from '../../src/drill/workOut.ts';

const bytes = new Uint8Array(readFileSync(path.resolve('demo', 'lanterns-on-the-towpath.musicxml')));
const kept = parseReading(
  JSON.parse(readFileSync(path.resolve('test', 'desk', 'fixtures', 'levare.reading.4.json'), 'utf8')),
);
const piece = readPiece(bytes);
const worked = piece.ok
  ? workOut(
      piece.value.score,
      {
        ...usualDrill,
        format: 'levare.drill/2',
        score: { sha256: pieceHash(bytes), title: '', file: 'score.musicxml' },
        bars: '10-12',
        click: 'every',
      },
      48_000,
    )
  : piece;

const everyFourth = (state: ReadingNote['state'], seconds: number, db: number): string => {
  if (!kept.ok || !worked.ok) throw new Error('The fixture or the demo cannot be read.');
  const { clock } = kept.value;
  const moved = (at: number | null): number | null => (at === null ? null : at + seconds);
  const notes = kept.value.notes.map((note, i): ReadingNote => {
    if (i % 4 !== 0) return { ...note, state: 'heard' };
    const { onset, perceived, offset, level } = note;
    return {
      ...note,
      state,
      onset: moved(onset),
      perceived: moved(perceived),
      offset: moved(offset),
      level: level === null ? null : level + db,
    };
  });
  const figures = { ...kept.value, ...figuresOf(worked.value, notes, clock, false), notes };
  const findings = findingsOf(figures);
  return JSON.stringify({ ...figures, notes: [], findings });
};

it('rests on no rough note', () => {
  expect(everyFourth('rough', 0.2, 20)).toBe(everyFourth('rough', 0, 0));
  expect(everyFourth('heard', 0.2, 20)).not.toBe(everyFourth('heard', 0, 0));
});
