/** The players' markings of a piece as a file, and a drill's folder that has them. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  asInScore,
  makeDrill,
  markingsFile,
  newMarking,
  newPiece,
  pieceHash,
  readMarkings,
  shelfFile,
  type MarkingText,
  type ShelfRecord,
} from '../../src/desk/index.ts';
import { jsonSchemas } from '../../src/desk/formats.ts';
import { readRecord, recordKey } from '../../src/desk/shelf/records.ts';

const fixture = (name: string): unknown =>
  JSON.parse(readFileSync(path.resolve('test', 'desk', 'fixtures', name), 'utf8'));

const bytes = new TextEncoder().encode('X:1\nT:Round\nM:4/4\nL:1/4\nK:C\nC D E F | G A B c |\n');
const score = pieceHash(bytes);
const said: MarkingText = {
  kind: 'dynamics',
  part: '',
  bar: 0,
  beat: '2',
  text: 'f',
  time: 2,
  note: '1/1',
};
const marking = newMarking('m1', `own.${score}`, said);
const encode = (json: unknown): Uint8Array => new TextEncoder().encode(JSON.stringify(json));
const code = (read: ReturnType<typeof readMarkings>): string => (read.ok ? 'read' : read.error.code);

describe('markings in a file', () => {
  it('come back as they were, from the file and from a shelf', () => {
    const file = markingsFile(score, 'Round', [marking]);
    const read = readMarkings(file, score);
    expect(read.ok && read.value).toStrictEqual([marking]);
    expect(markingsFile(score, 'Round', [marking])).toStrictEqual(file);
    const records: readonly ShelfRecord[] = [
      { kind: 'piece', value: newPiece('own', score, { file: 'a', found: '' }) },
      { kind: 'marking', value: marking },
    ];
    const shelf = shelfFile({
      records: new Map(records.map((record) => [recordKey(record), record])),
      scores: new Map([[score, bytes]]),
    });
    const fromShelf = readMarkings(shelf, score);
    expect(fromShelf.ok && fromShelf.value).toStrictEqual([marking]);
    expect(code(readMarkings(shelf, pieceHash(file)))).toBe('markings-other-piece');
  });

  it('say plainly what is wrong: damaged, newer, of another piece, of several ensembles', () => {
    const list = { format: 'levare.markings/1', score, title: 'Round', markings: [marking] };
    expect(code(readMarkings(encode(list), score))).toBe('read');
    expect(code(readMarkings(encode(list).subarray(0, 40), score))).toBe('markings-damaged');
    expect(code(readMarkings(encode({ ...list, score: 3 }), score))).toBe('markings-damaged');
    expect(code(readMarkings(encode([marking]), score))).toBe('markings-damaged');
    const doodle = { ...list, markings: [{ ...marking, kind: 'doodle' }] };
    expect(code(readMarkings(encode(doodle), score))).toBe('markings-damaged');
    expect(code(readMarkings(encode({ ...list, format: 'levare.markings/2' }), score))).toBe('format-newer');
    const later = { ...list, markings: [{ ...marking, format: 'levare.marking/3' }] };
    expect(code(readMarkings(encode(later), score))).toBe('format-newer');
    const other = readMarkings(encode(list), pieceHash(encode(list)));
    expect(!other.ok && other.error.message).toContain('"Round"');
    const records = ['own', 'e1'].flatMap((ensemble): readonly ShelfRecord[] => {
      const piece = newPiece(ensemble, score, { file: 'a', found: '' });
      return [
        { kind: 'piece', value: piece },
        { kind: 'marking', value: newMarking(`m-${ensemble}`, piece.id, said) },
      ];
    });
    const shelf = shelfFile({
      records: new Map(records.map((record) => [recordKey(record), record])),
      scores: new Map(),
    });
    expect(code(readMarkings(shelf, score))).toBe('markings-several');
  });

  it('a marking of version 1 is brought up to date: each time, the first note', () => {
    const older = readRecord(fixture('levare.marking.1.json'));
    const now = fixture('levare.marking.2.json');
    expect(older.ok && older.value.value).toStrictEqual(now);
    expect(readRecord(now)).toMatchObject({ ok: true, value: { kind: 'marking' } });
  });

  it('have a schema', () => {
    expect(Object.keys(jsonSchemas())).toContain('levare.markings.1.json');
  });

  it('what the players wrote is told from what the score has in the MusicXML of a drill', () => {
    const markings: readonly MarkingText[] = [
      { ...said, kind: 'breath', text: '', time: null },
      { ...said, kind: 'words', text: 'sing', time: null },
    ];
    const made = makeDrill(bytes, { bars: 'all' }, { rate: 8000, settings: { ...asInScore, markings } });
    const file = made.ok ? made.value.files.find(({ name }) => name === 'drill.musicxml') : undefined;
    const xml = [...(file?.chunks ?? [])].map((chunk) => new TextDecoder().decode(chunk)).join('');
    expect(xml).toContain('<breath-mark color="#555555"/>');
    expect(xml).toContain('<words color="#555555">sing</words>');
  });
});
