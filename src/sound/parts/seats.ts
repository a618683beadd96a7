/** Where the players sit: how much of each part goes to each channel. */
import { squareRoot } from '../tuning.ts';

/**
 * "mono": all in one channel. "seated": two channels, the players from left to right in score order. "apart": a channel
 * for each part.
 */
export type Seating = 'mono' | 'seated' | 'apart';

/** Gain of a part (row) in a channel (column); none above 1. */
export type Seats = readonly (readonly number[])[];

/** How far from the middle the outermost players sit, 1 being one loudspeaker alone. Common practice, no source. */
const width = 0.6;

/** Equal power: left² + right² = 1 for every place from -1 (left) to 1. */
const panned = (place: number): readonly [number, number] => [
  squareRoot((1 - place) / 2),
  squareRoot((1 + place) / 2),
];

export const seats = (
  parts: number,
  seating: Seating,
): { readonly channels: number; readonly gains: Seats } => {
  const rows = Array.from({ length: parts }, (_, i) => i);
  switch (seating) {
    case 'mono':
      return { channels: 1, gains: rows.map(() => [1]) };
    case 'apart':
      return { channels: Math.max(1, parts), gains: rows.map((i) => rows.map((j) => (i === j ? 1 : 0))) };
    case 'seated':
      return {
        channels: 2,
        gains: rows.map((i) => panned(parts === 1 ? 0 : width * ((2 * i) / (parts - 1) - 1))),
      };
  }
};
