/** What is told of a whole passage: how the tempo goes, how long notes are held, how even pairs are. */
import { median } from '../../together/moments.ts';
import type { Reading, ReadingFigures } from '../reading.ts';
import { givesIn } from './gives.ts';
import { pooled } from './pooled.ts';
import { timesOf } from './together.ts';
import { scaled, sure, tells, upright, widened, widening, worth, type Seen, type Sure } from './weigh.ts';

/** From the first bar of the drill to its last. */
const passage = ({ notes }: ReadingFigures) => {
  const [first, last] = [notes[0], notes.at(-1)];
  return first === undefined || last === undefined
    ? null
    : {
        bar: first.bar,
        barIndex: first.barIndex,
        beat: first.beat,
        pass: first.pass,
        rep: first.rep,
        toBar: last.bar,
        times: timesOf({ notes }),
      };
};

/** All together, or the one who was heard alone: several without a common clock have no tempo together. */
const ofAll = ({ drift, parts }: ReadingFigures): Reading['drift'][number] | null =>
  drift.find(({ part }) => part === null) ?? (parts.length === 1 ? (drift[0] ?? null) : null);

/** By how much the tempo moves on or broadens over the take. Not in free playing. */
export const driftSeen = (reading: ReadingFigures): readonly Seen[] => {
  const [all, where, asked] = [ofAll(reading), passage(reading), reading.tempo[0]?.asked ?? null];
  const grows = sure(all?.percentPerMinute ?? null);
  if (reading.playing === 'free' || all === null || where === null || asked === null || grows === null)
    return [];
  const seconds = (reading.notes.at(-1)?.expected ?? 0) - (reading.notes[0]?.expected ?? 0);
  const figure = scaled(grows, ((seconds / 60) * asked) / 100);
  const parts = reading.parts.map(({ id }) => id);
  return [{ ...where, kind: 'drift', parts, n: all.n, among: 1, unit: 'pace', figure, whole: asked, asked }];
};

/** A bar's tempo over what is asked for there, of all who tell it and of all times that it was played, less what the take has on the whole. */
interface Bar {
  readonly tempo: Reading['tempo'][number];
  readonly parts: readonly string[];
  readonly n: number;
  readonly times: number;
  /** Share of the tempo asked for. */
  readonly off: Sure;
}

const grouped = <T>(items: readonly T[], keyOf: (item: T) => string): readonly (readonly T[])[] => {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return [...groups.values()];
};

/** One time through a bar: the mean of all who tell it. */
const together = (several: readonly Reading['tempo'][number][], own: number): Sure | null => {
  const known = several.flatMap(({ perMinute, asked }) => {
    const figure = sure(perMinute);
    return figure === null ? [] : [scaled(figure, 1 / asked)];
  });
  if (known.length === 0) return null;
  const value = known.reduce((sum, one) => sum + one.value / known.length, 0) - own;
  const low = Math.hypot(...known.map((one) => one.value - one.low)) / known.length;
  const high = Math.hypot(...known.map((one) => one.high - one.value)) / known.length;
  return { value, low: value - low, high: value + high };
};

/** Bars from which on the middle one says what the take's own tempo is. Our choice. */
const enoughBars = 5;

/** The take's own tempo over what is asked for: that of its middle bar, so that some bars that move on do not hide themselves; of few bars the mean of the players. */
const ownPace = (steady: ReadingFigures['tempo'], { drift }: ReadingFigures): number => {
  const bars = grouped(steady, ({ barIndex, pass, rep }) => `${barIndex}/${pass}/${rep}`).map((bar) =>
    bar.reduce((sum, { perMinute, asked }) => sum + perMinute.value / asked / bar.length, 0),
  );
  if (bars.length >= enoughBars) return median(bars) ?? 1;
  const paces = drift.filter(({ part }) => part !== null).map(({ pace }) => pace.value / 100);
  return paces.length === 0 ? 1 : paces.reduce((sum, pace) => sum + pace / paces.length, 0);
};

const barsOf = (reading: ReadingFigures): readonly Bar[] => {
  const steady = reading.tempo.filter((one) => !givesIn(one, reading));
  const own = ownPace(steady, reading);
  return grouped(steady, ({ barIndex, pass }) => `${barIndex}/${pass}`).flatMap((several) => {
    const each = grouped(several, ({ rep }) => String(rep)).flatMap((once) => together(once, own) ?? []);
    const [first, off] = [several[0], pooled(each)];
    return first === undefined || off === null
      ? []
      : [
          {
            tempo: first,
            parts: [...new Set(several.map(({ part }) => part))],
            n: several.reduce((sum, { n }) => sum + n, 0),
            times: each.length,
            off,
          },
        ];
  });
};

/** Bars whose tempo stands out from that of the take; neighbours that stand out alike are told together, by the clearest of them. */
export const barTempoSeen = (reading: ReadingFigures): readonly Seen[] => {
  if (reading.playing === 'free') return [];
  const all = barsOf(reading);
  const place = new Map(
    reading.played.map(({ barIndex, pass, rep }, i) => [`${rep}/${barIndex}/${pass}`, i]),
  );
  const indexOf = ({ tempo: { rep, barIndex, pass } }: Bar): number | null =>
    place.get(`${rep}/${barIndex}/${pass}`) ?? null;
  const by = widening(all.length);
  const bars = all.map((bar) => ({ ...bar, off: widened(bar.off, all.length, by) }));
  const runs: (typeof bars)[number][][] = [];
  const stands = ({ off }: Bar): boolean => tells(off) && Math.abs(off.value) >= worth['bar-tempo'];
  // Readings of version 1 do not know where bars lie: they are taken in their order.
  const follows = (a: Bar, b: Bar): boolean => (indexOf(a) ?? -1) + 1 === (indexOf(b) ?? 0);
  bars.forEach((bar, i) => {
    const before = bars[i - 1];
    const joins =
      before !== undefined &&
      stands(bar) &&
      stands(before) &&
      follows(before, bar) &&
      before.off.value * bar.off.value > 0;
    if (joins) runs.at(-1)?.push(bar);
    else runs.push([bar]);
  });
  return runs.flatMap((run) => {
    const [first, last] = [run[0], run.at(-1)];
    const [clearest] = [...run].sort((a, b) => Math.abs(b.off.value) - Math.abs(a.off.value));
    if (first === undefined || last === undefined || clearest === undefined) return [];
    const { asked } = clearest.tempo;
    const { bar, barIndex, pass, rep } = first.tempo;
    return [
      {
        kind: 'bar-tempo',
        bar,
        barIndex,
        beat: '1',
        pass,
        rep,
        times: clearest.times,
        toBar: run.length > 1 ? last.tempo.bar : null,
        parts: clearest.parts,
        n: clearest.n,
        among: bars.length,
        unit: 'pace',
        figure: scaled(clearest.off, asked),
        whole: asked,
        asked,
      } as const,
    ];
  });
};

/** Two players' lengths and evenness held against each other. One alone is never told: inequality is style. */
export const styleSeen = (reading: ReadingFigures): readonly Seen[] => {
  const { articulationBetween, evennessBetween } = reading;
  const spot = passage(reading);
  if (spot === null) return [];
  return [
    ...articulationBetween.flatMap(({ parts, difference, n }): readonly Seen[] => {
      const figure = sure(difference);
      if (figure === null) return [];
      const among = articulationBetween.length;
      return [
        {
          ...spot,
          kind: 'length',
          parts,
          n: Math.min(...n),
          among,
          unit: 'share',
          figure: upright(widened(figure, among)),
        },
      ];
    }),
    ...evennessBetween.flatMap(({ parts, value, ratio, n }): readonly Seen[] => {
      const figure = sure(ratio);
      if (figure === null) return [];
      const among = evennessBetween.length;
      const logs = {
        value: Math.log(figure.value),
        low: Math.log(figure.low),
        high: Math.log(figure.high),
      };
      const counts = upright(widened(logs, among));
      const shown = {
        value: Math.exp(counts.value),
        low: Math.exp(counts.low),
        high: Math.exp(counts.high),
      };
      return [
        {
          ...spot,
          kind: 'evenness',
          parts,
          n: Math.min(...n),
          among,
          unit: 'factor',
          figure: shown,
          counts,
          value,
        },
      ];
    }),
  ];
};
