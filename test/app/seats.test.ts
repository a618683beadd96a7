/** Seats and instruments are said once: kept with the piece, or with the player, and taken for the same player in another piece. */
import { expect, it } from 'vitest';
import { newEnsemble, newPiece, type Piece, type ShelfRecord } from '../../src/desk/index.ts';
import { instrumentChange, instrumentOf, metresIn, seatsOf } from '../../src/app/reading/seats.ts';

const ensemble = {
  ...newEnsemble('own', 'Duo'),
  players: { anna: { name: 'Anna', instrument: 'Flute' }, ben: null },
};
const piece = (score: string, change: Partial<Piece>): Piece => ({
  ...newPiece('own', score.repeat(64), { file: '', found: '' }),
  ...change,
});
const here = piece('a', { players: { P1: 'anna', P2: '' }, sound: { 'seat/P2': '1,5', click: 'ff' } });
const there = piece('b', { players: { P4: 'anna', P5: '' }, sound: { 'seat/P4': '3', 'seat/P5': '7' } });
const records = new Map(
  [here, there].map((value): [string, ShelfRecord] => [`piece:${value.id}`, { kind: 'piece', value }]),
);

it('seats are the piece’s own, else where the same player sat in another piece', () => {
  expect(seatsOf(here, records)).toEqual({ P1: '3', P2: '1,5' });
  // What was rubbed out here stays so.
  expect(seatsOf(piece('a', { ...here, sound: { 'seat/P1': '' } }), records)).toEqual({});
  expect(['1,5', '2.5', '', 'far', '-1', '51'].map(metresIn)).toEqual([1.5, 2.5, null, null, null, null]);
});

it('an instrument is the player’s where one is named, else the piece’s, else as the score says', () => {
  expect(instrumentOf(here, ensemble, 'P1')).toBe('Flute');
  expect(instrumentOf(here, ensemble, 'P2')).toBe('');
  expect(instrumentChange(here, ensemble, 'P1', 'Piccolo')).toEqual({
    key: 'ensemble:own',
    change: { players: { anna: { name: 'Anna', instrument: 'Piccolo' } } },
  });
  const { key, change } = instrumentChange(here, ensemble, 'P2', 'Viola');
  expect([key, change]).toEqual([`piece:${here.id}`, { sound: { 'instrument/P2': 'Viola' } }]);
  expect(instrumentOf(piece('a', { sound: { 'instrument/P2': 'Viola' } }), ensemble, 'P2')).toBe('Viola');
});
