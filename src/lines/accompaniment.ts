/**
 * Figures that pass from part to part under a tune: accompaniment, no divided line (our definition, after common practice):
 *
 *   1. A figure hardly goes by step: of the moves inside the turns of the line at most a quarter are seconds. So are repeated notes, broken
 *      chords and Alberti basses; a melody is not.
 *   2. A tune is a part beside the line, on average higher than it, that sounds for three quarters of its time at least, in two values or more
 *      and three notes or more, and is not mostly one note repeated.
 */
import type { Chain } from './chains.ts';
import { companions } from './companions.ts';
import type { Stream } from './handOver.ts';
import { strikesIn, type Strike } from './music.ts';
import { repeats } from './segments.ts';
import { span } from './turns.ts';

const mostSeconds = 0.25;
const leastSounding = 0.75;
const leastTune = { notes: 3, values: 2 };

/** Rule 1. */
const isFigure = (chain: Chain): boolean => {
  const moves = chain.flatMap(({ segment: { notes } }) =>
    notes.flatMap(({ step }, i) => {
      const before = notes[i - 1]?.step ?? null;
      return before === null || step === null ? [] : [Math.abs(step - before)];
    }),
  );
  return moves.length > 0 && moves.filter((move) => move === 1).length <= mostSeconds * moves.length;
};

const height = (notes: readonly Strike[]): number | null => {
  const sounding = notes.flatMap(({ midi }) => (midi === null ? [] : [midi]));
  return sounding.length === 0 ? null : sounding.reduce((sum, midi) => sum + midi, 0) / sounding.length;
};

/** Whether a chain is a figure of accompaniment under a tune. */
export const accompanies = (stream: Stream, chain: Chain): boolean => {
  if (!isFigure(chain)) return false;
  const [from, to] = span(chain);
  const inLine = new Set(
    chain.flatMap(({ segment }) => companions(stream, segment)).map(({ player }) => player),
  );
  const own = height(chain.flatMap(({ segment }) => segment.notes)) ?? Infinity;
  return stream.music.players.some(({ index, strikes }) => {
    if (inLine.has(index)) return false;
    const notes = strikesIn(strikes, from, to);
    if (notes.length < leastTune.notes || (height(notes) ?? -Infinity) <= own || repeats(notes)) return false;
    const lengths = new Set(notes.map(({ at, end }) => end - at));
    const sounding = notes.reduce((sum, { at, end }) => sum + Math.min(end, to) - at, 0);
    return lengths.size >= leastTune.values && sounding >= leastSounding * (to - from);
  });
};
