/** What is told of single places: entries, bar lines, hand-overs, short notes after syncopations. */
import type { ReadingFigures, ReadingSeam } from '../reading.ts';
import type { FindingKind } from './model.ts';
import { givesAround } from './gives.ts';
import { pooledPlaces, sharedBy, type Once } from './pooled.ts';
import { less, scaled, sure, upright, widened, widening, type Seen, type Sure } from './weigh.ts';

/**
 * Ends of the same notes, heard in the same room, err alike each time: over repetitions a length is known no better than the one time that tells it best. More is
 * shared than any one figure's interval.
 */
const endsAlike = Infinity;

/** One kind of place: repetitions together, the intervals widened by how many places there are. */
const among = (
  kind: FindingKind,
  unit: Seen['unit'],
  each: readonly Once[],
  { clock }: Pick<ReadingFigures, 'clock'>,
): readonly Seen[] => {
  const places = pooledPlaces(each, (place) =>
    unit === 'ms' ? sharedBy(place, clock) : kind === 'seam-length' ? endsAlike : 0,
  );
  const by = widening(places.length);
  return places.map((place) => {
    const figure = widened(place.figure, places.length, by);
    return {
      ...place,
      kind,
      unit,
      toBar: null,
      among: places.length,
      figure: kind === 'entry' || kind === 'first-entry' ? upright(figure) : figure,
    };
  });
};

interface Where {
  readonly bar: string;
  readonly barIndex: number;
  readonly pass: number;
  readonly rep: number;
}

const at = ({ bar, barIndex, pass, rep }: Where, beat: string) => ({ bar, barIndex, pass, rep, beat });

/** The same entry seen from who gives the cue: how long after that player's note the other comes in. */
const cuedEntry = (entry: ReadingFigures['entries'][number]): readonly Once[] => {
  const figure = sure(entry.apart);
  if (figure === null || entry.cue === undefined) return [];
  const [first, second] = entry.parts;
  const cuesFirst = entry.cue === first;
  const parts = cuesFirst ? [first, second] : [second, first];
  return [{ ...at(entry, entry.beat), parts, n: 2, figure: cuesFirst ? scaled(figure, -1) : figure }];
};

/** Who cues matters where no click gives the entry: in free playing. */
export const entriesSeen = (reading: ReadingFigures): readonly Seen[] => {
  const cued = ({ cue }: ReadingFigures['entries'][number]): boolean =>
    reading.playing === 'free' && cue !== undefined;
  const plain = [true, false].flatMap((first) =>
    among(
      first ? 'first-entry' : 'entry',
      'ms',
      reading.entries
        .filter((entry) => entry.first === first && !cued(entry))
        .flatMap((entry) => {
          const figure = sure(entry.apart);
          return figure === null ? [] : [{ ...at(entry, entry.beat), parts: entry.parts, n: 2, figure }];
        }),
      reading,
    ),
  );
  return [...plain, ...among('cued-entry', 'ms', reading.entries.filter(cued).flatMap(cuedEntry), reading)];
};

/**
 * Against the click, and only where it falls once a bar or less: with more, each bar line is led to by the click itself. Where the tempo is asked to give way the
 * click is silent.
 */
export const barLinesSeen = (reading: ReadingFigures): readonly Seen[] =>
  reading.playing === 'free' || reading.click.perBar > 1
    ? []
    : among(
        'bar-line',
        'ms',
        reading.barLines.flatMap((line) => {
          const figure = sure(line.lateAtClick);
          return figure === null || givesAround(line, reading)
            ? []
            : [{ ...at(line, '1'), parts: [line.part], n: 1, figure }];
        }),
        reading,
      );

/** Quarters a minute that are asked for around a seam, for slopes that are in percent. */
const askedAt = ({ tempo }: ReadingFigures, { barIndex, rep }: ReadingSeam): number | null =>
  (tempo.find((one) => one.barIndex === barIndex && one.rep === rep) ?? tempo[0])?.asked ?? null;

const lessOrNull = (a: Sure | null, b: Sure | null): Sure | null =>
  a === null || b === null ? null : less(a, b);

/** Time, length, level each against the player's own line, and where loudness and tempo are heading. */
export const seamsSeen = (reading: ReadingFigures): readonly Seen[] => {
  const { seams, playing } = reading;
  const of = (
    figureOf: (seam: ReadingSeam) => Sure | null,
  ): readonly (Once & { readonly seam: ReadingSeam })[] =>
    seams.flatMap((seam) => {
      const figure = figureOf(seam);
      const n = Math.min(seam.n.from, seam.n.to);
      return figure === null
        ? []
        : [{ ...at(seam, seam.beat), parts: [seam.from, seam.to], n, figure, seam }];
    });
  const levels = of(({ level }) => lessOrNull(sure(level.to), sure(level.from)));
  const swells = of(({ levelSlope: { before, after } }) => lessOrNull(sure(after), sure(before)));
  const pushes = of(({ tempoSlope: { before, after } }) => lessOrNull(sure(after), sure(before)));
  const inPace = pushes.flatMap(({ seam, figure, ...place }): readonly Once[] => {
    const asked = askedAt(reading, seam);
    return asked === null || givesAround(seam, reading)
      ? []
      : [{ ...place, figure: scaled(figure, asked / 100), whole: asked, asked }];
  });
  // A line that is asked to give way leads nowhere by itself.
  const bound = of(({ late }) => sure(late)).filter(({ seam }) => !givesAround(seam, reading));
  return [
    ...among('seam-time', 'ms', bound, reading),
    ...among('seam-level', 'dB', levels, reading),
    ...among(
      'seam-length',
      'share',
      of(({ length }) => sure(length)),
      reading,
    ),
    ...among('seam-level-slope', 'dB-slope', swells, reading),
    ...(playing === 'free' ? [] : among('seam-tempo-slope', 'pace-slope', inPace, reading)),
  ];
};

/** In free playing the line may bend there. */
export const syncopationsSeen = (reading: ReadingFigures): readonly Seen[] =>
  reading.playing === 'free'
    ? []
    : among(
        'after-syncopation',
        'ms',
        reading.syncopations.flatMap((one) => {
          const figure = sure(one.late);
          return figure === null || givesAround(one, reading)
            ? []
            : [{ ...at(one, one.beat), parts: [one.part], n: one.n, figure }];
        }),
        reading,
      );
