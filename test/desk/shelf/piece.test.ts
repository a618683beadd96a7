/** A piece keeps what sounds and how long a touch waits; older pieces are brought up to date. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { keptSound, soundIn } from '../../../src/app/shelf/keptSound.ts';
import { usualSound } from '../../../src/app/soundSettings.ts';
import { readShelfFile, shelfFile, type Piece } from '../../../src/desk/index.ts';
import { changeRecord, mergeRecords } from '../../../src/desk/shelf/merge.ts';
import { readRecord, recordKey } from '../../../src/desk/shelf/records.ts';

const fixture = (version: number): unknown =>
  JSON.parse(readFileSync(path.resolve('test', 'desk', 'fixtures', `levare.piece.${version}.json`), 'utf8'));

const piece = (json: unknown): Piece => {
  const read = readRecord(json);
  if (!read.ok || read.value.kind !== 'piece') throw new Error('No piece.');
  return read.value.value;
};

describe('a piece on the shelf', () => {
  it('of the first version has nothing set for its sound', () => {
    expect(piece(fixture(1))).toMatchObject({ format: 'levare.piece/2', sound: {}, asked: { from: '3' } });
    expect(soundIn(piece(fixture(1)).sound)).toStrictEqual({ sound: usualSound, wait: null });
  });

  it('keeps levels, the silent part, the side of the click, A and the wait, through a file and back', () => {
    const value = piece(fixture(2));
    const record = { kind: 'piece', value } as const;
    const file = readShelfFile(
      shelfFile({ records: new Map([[recordKey(record), record]]), scores: new Map() }),
    );
    if (!file.ok) throw new Error(file.error.message);
    const back = file.value.records.get(recordKey(record));
    expect(back?.value).toStrictEqual(value);
    const { sound, wait } = soundIn(value.sound);
    expect(sound).toStrictEqual({
      parts: true,
      levels: { P1: null, P2: 'f' },
      click: 'mf',
      count: 'spoken',
      place: 'left',
      pitch: '415',
    });
    expect(wait).toBe(8);
    // How counts are heard was not kept yet when this piece was.
    expect(keptSound(sound, 8)).toStrictEqual({ ...value.sound, count: 'spoken' });
    const clicked = keptSound({ ...sound, count: 'clicked' }, 8);
    expect(soundIn(clicked).sound.count).toBe('clicked');
  });

  it('takes levels of two windows together', () => {
    const record = { kind: 'piece', value: piece(fixture(2)) } as const;
    const one = changeRecord(record, { sound: { 'level/P1': 'p' } }, 'a');
    const two = changeRecord(record, { sound: { wait: '5' } }, 'b');
    const merged = mergeRecords(one, two);
    expect(merged.value).toMatchObject({ sound: { 'level/P1': 'p', wait: '5', click: 'mf' } });
  });

  it('takes no word for a level that is none, and no wait of a day', () => {
    expect(soundIn({ click: 'loud', 'level/P1': 'ffff', wait: '86400', pitch: 'high' })).toStrictEqual({
      sound: usualSound,
      wait: null,
    });
  });
});
