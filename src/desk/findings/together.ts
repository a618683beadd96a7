/** What is told of two players: how far apart they are, who leads, whether they bend the tempo alike. */
import type { ReadingFigures, ReadingNote, ReadingPair, ReadingTempo } from '../reading.ts';
import { heldAgainst } from '../freeTimes.ts';
import { pooledPlaces } from './pooled.ts';
import { less, sure, upright, widened, widening, type Seen } from './weigh.ts';

interface Apart {
  readonly note: ReadingNote;
  /** Milliseconds, first less second. */
  readonly by: number;
}

const placeOf = ({ rep, expected }: ReadingNote): string => `${rep}/${expected.toFixed(6)}`;

/** How far apart the two are at each place that both surely played. */
const apartOf = (
  [first, second]: readonly [string, string],
  { notes, written }: ReadingFigures,
): readonly Apart[] => {
  const held = heldAgainst(notes, written);
  const of = (part: string): readonly ReadingNote[] =>
    held.filter((note) => note.part === part && note.state === 'heard');
  const others = new Map(of(second).map((note) => [placeOf(note), note.perceived]));
  return of(first).flatMap((note) => {
    const other = others.get(placeOf(note)) ?? null;
    return note.perceived === null || other === null ? [] : [{ note, by: 1000 * (note.perceived - other) }];
  });
};

/** Repetitions that a figure of the whole take rests on. */
export const timesOf = ({ notes }: Pick<ReadingFigures, 'notes'>): number =>
  Math.max(1, new Set(notes.filter(({ state }) => state === 'heard').map(({ rep }) => rep)).size);

const where = ({ bar, barIndex, beat, pass, rep }: ReadingNote) => ({ bar, barIndex, beat, pass, rep });

/** The place at which `size` is largest. */
const clearest = (places: readonly Apart[], size: (by: number) => number): ReadingNote | null =>
  places.reduce<Apart | null>(
    (most, place) => (most === null || size(place.by) > size(most.by) ? place : most),
    null,
  )?.note ?? null;

const ofPair = (
  { parts, n, mean, sdWithoutNoise }: ReadingPair,
  reading: ReadingFigures,
): readonly Seen[] => {
  const places = apartOf(parts, reading);
  const middle = places.reduce((sum, { by }) => sum + by / places.length, 0);
  const [spread, ahead] = [sure(sdWithoutNoise), sure(mean)];
  const widest = clearest(places, (by) => Math.abs(by - middle));
  const most = clearest(places, (by) => by * Math.sign(middle));
  const among = reading.pairs.length;
  const common = { toBar: null, n, among, unit: 'ms', times: timesOf(reading) } as const;
  return [
    ...(spread === null || widest === null
      ? []
      : [{ ...common, ...where(widest), kind: 'spread', parts, figure: widened(spread, among) } as const]),
    ...(ahead === null || most === null
      ? []
      : [
          {
            ...common,
            ...where(most),
            kind: 'lead',
            parts: ahead.value < 0 ? parts : [parts[1], parts[0]],
            figure: upright(widened(ahead, among)),
          } as const,
        ]),
  ];
};

/** Spread and lead of every pair. */
export const pairsSeen = (reading: ReadingFigures): readonly Seen[] =>
  reading.pairs.flatMap((pair) => ofPair(pair, reading));

const placed = ({ bar, barIndex, pass, rep }: ReadingTempo) => ({ bar, barIndex, pass, rep, beat: '1' });

/** In free playing: by how much two players' tempi differ in a bar. Their tempo itself is theirs. */
export const bendsSeen = ({ playing, pairs, tempo }: ReadingFigures): readonly Seen[] => {
  if (playing !== 'free') return [];
  const found = pairs.flatMap(({ parts }) => {
    const [first, second] = parts.map((part) => tempo.filter((one) => one.part === part));
    return (first ?? []).flatMap((a) => {
      const b = second?.find(
        ({ rep, barIndex, pass }) => rep === a.rep && barIndex === a.barIndex && pass === a.pass,
      );
      const [x, y] = [sure(a.perMinute), sure(b?.perMinute ?? null)];
      return x === null || y === null
        ? []
        : [
            {
              ...placed(a),
              parts,
              n: Math.min(a.n, b?.n ?? 0),
              figure: less(x, y),
              whole: (x.value + y.value) / 2,
            },
          ];
    });
  });
  const places = pooledPlaces(found);
  const by = widening(places.length);
  return places.map((place) => ({
    ...place,
    kind: 'bend',
    toBar: null,
    among: places.length,
    unit: 'pace',
    figure: upright(widened(place.figure, places.length, by)),
  }));
};
