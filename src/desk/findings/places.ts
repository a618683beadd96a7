/** What is told of single places: entries, bar lines, hand-overs, short notes after syncopations. */
import type { ReadingFigures, ReadingSeam } from '../reading.ts';
import type { FindingKind } from './model.ts';
import { less, scaled, sure, upright, widened, widening, type Seen, type Sure } from './weigh.ts';

type Place = Omit<Seen, 'kind' | 'among' | 'unit' | 'toBar'>;

/** One kind of place: the intervals widened by how many there are. */
const among = (kind: FindingKind, unit: Seen['unit'], places: readonly Place[]): readonly Seen[] => {
  const by = widening(places.length);
  return places.map((place) => ({
    ...place,
    kind,
    unit,
    toBar: null,
    among: places.length,
    figure: widened(place.figure, places.length, by),
  }));
};

interface Where {
  readonly bar: string;
  readonly barIndex: number;
  readonly pass: number;
  readonly rep: number;
}

const at = ({ bar, barIndex, pass, rep }: Where, beat: string) => ({ bar, barIndex, pass, rep, beat });

export const entriesSeen = ({ entries }: ReadingFigures): readonly Seen[] =>
  [true, false].flatMap((first) =>
    among(
      first ? 'first-entry' : 'entry',
      'ms',
      entries
        .filter((entry) => entry.first === first)
        .flatMap((entry) => {
          const figure = sure(entry.apart);
          return figure === null
            ? []
            : [{ ...at(entry, entry.beat), parts: entry.parts, n: 2, figure: upright(figure) }];
        }),
    ),
  );

/** Against the click, and only where it falls once a bar or less: with more, each bar line is led to by the click itself. */
export const barLinesSeen = ({ click, playing, barLines }: ReadingFigures): readonly Seen[] =>
  playing === 'free' || click.perBar > 1
    ? []
    : among(
        'bar-line',
        'ms',
        barLines.flatMap((line) => {
          const figure = sure(line.lateAtClick);
          return figure === null ? [] : [{ ...at(line, '1'), parts: [line.part], n: 1, figure }];
        }),
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
  ): readonly (Place & { readonly seam: ReadingSeam })[] =>
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
  const inPace = pushes.flatMap(({ seam, figure, ...place }): readonly Place[] => {
    const asked = askedAt(reading, seam);
    return asked === null ? [] : [{ ...place, figure: scaled(figure, asked / 100), whole: asked, asked }];
  });
  return [
    ...among(
      'seam-time',
      'ms',
      of(({ late }) => sure(late)),
    ),
    ...among('seam-level', 'dB', levels),
    ...among(
      'seam-length',
      'share',
      of(({ length }) => sure(length)),
    ),
    ...among('seam-level-slope', 'dB-slope', swells),
    ...(playing === 'free' ? [] : among('seam-tempo-slope', 'pace-slope', inPace)),
  ];
};

/** In free playing the line may bend there. */
export const syncopationsSeen = ({ playing, syncopations }: ReadingFigures): readonly Seen[] =>
  playing === 'free'
    ? []
    : among(
        'after-syncopation',
        'ms',
        syncopations.flatMap((one) => {
          const figure = sure(one.late);
          return figure === null ? [] : [{ ...at(one, one.beat), parts: [one.part], n: one.n, figure }];
        }),
      );
