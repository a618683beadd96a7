/** From notes to what a musician asks: who is ahead, how the tempo goes, where bars begin, how lines are handed over. */
import type { NoteEvent } from '../drill/model.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import { drift } from '../together/drift.ts';
import { meanEstimate, meanSizeEstimate, sdWithoutNoise } from '../together/estimates.ts';
import type { Estimate } from '../together/interval.ts';
import { stepsOf, type Place } from '../together/model.ts';
import { F } from '../units/index.ts';
import type {
  Figure,
  Reading,
  ReadingArticulation,
  ReadingBarLine,
  ReadingClock,
  ReadingEvenness,
  ReadingNote,
  ReadingPair,
  ReadingSeam,
  ReadingTempo,
} from './reading.ts';

type Figures = Pick<
  Reading,
  'pairs' | 'drift' | 'tempo' | 'barLines' | 'seams' | 'articulation' | 'evenness'
>;

/** A note with where it stands; only those that were surely heard have a time. */
interface Heard {
  readonly event: NoteEvent;
  /** On the drill's axis, in whole notes. */
  readonly at: number;
  readonly length: number;
  readonly expected: number;
  /** Perceived beat in seconds; null unless surely heard. */
  readonly time: number | null;
  readonly end: number | null;
  readonly uncertainty: number;
}

const figure = ({ value, ci95 }: Estimate, more = 0, least = -Infinity): Figure => {
  if (ci95 === null) return { value, low: null, high: null };
  const low = value - Math.hypot(value - ci95.low, more);
  return { value, low: Math.max(least, low), high: value + Math.hypot(ci95.high - value, more) };
};

const ms = 1000;
/** Whole notes: positions are exact fractions, so that only rounding lies in between. */
const same = 1e-9;

/**
 * Seconds, one standard deviation: how differently two instruments' beginnings may be perceived, after the model has
 * done its part. Not calibrated for a pair of players; our estimate from rendered material.
 */
const lagError = 0.002;

/** One line for each part: of notes struck together the first stands for all. */
const linesOf = (
  { timeline }: WorkedDrill,
  notes: readonly ReadingNote[],
): ReadonlyMap<string, readonly Heard[]> => {
  const byId = new Map(notes.map((note) => [note.id, note]));
  const lines = new Map<string, Heard[]>();
  for (const event of timeline.notes) {
    const note = byId.get(event.id);
    if (note === undefined) continue;
    const line = lines.get(event.part) ?? [];
    lines.set(event.part, line);
    const at = F.toNumber(event.at);
    const before = line.at(-1);
    if (before !== undefined && at - before.at < same) continue;
    const sure = note.state === 'heard';
    line.push({
      event,
      at,
      length: F.toNumber(event.length),
      expected: note.expected,
      time: sure ? note.perceived : null,
      end: sure ? note.offset : null,
      uncertainty: note.perceivedUncertainty ?? 0,
    });
  }
  return lines;
};

const mean = (values: readonly number[]): number =>
  values.reduce((a, b) => a + b, 0) / Math.max(1, values.length);

const pairOf = (
  parts: readonly [string, string],
  [first, second]: readonly [readonly Heard[], readonly Heard[]],
  clocks: readonly ReadingClock[],
): ReadingPair => {
  const others = new Map(second.map((heard) => [Math.round(heard.at / same), heard]));
  const both = first.flatMap((heard) => {
    const other = others.get(Math.round(heard.at / same));
    if (other === undefined || heard.time === null || other.time === null) return [];
    return [
      {
        apart: (heard.time - other.time) * ms,
        noise: ms * ms * (heard.uncertainty ** 2 + other.uncertainty ** 2),
      },
    ];
  });
  const apart = both.map((one) => one.apart);
  const own = clocks.filter(({ part }) => parts.includes(part));
  const joined = own.every(({ by }) => by === 'clicks');
  const systematic = 1.96 * ms * Math.hypot(...own.map(({ offsetError }) => offsetError), lagError);
  const [average, size] = [meanEstimate(apart), meanSizeEstimate(apart)];
  const sd = sdWithoutNoise(apart, mean(both.map(({ noise }) => noise)));
  return {
    parts,
    places: apart.length,
    mean: joined && average !== null ? figure(average, systematic) : null,
    sd: sd === null ? null : figure(sd, 0, 0),
    meanAbsolute: joined && size !== null ? figure(size, systematic, 0) : null,
  };
};

const pairsOf = (
  lines: ReadonlyMap<string, readonly Heard[]>,
  clocks: readonly ReadingClock[],
): readonly ReadingPair[] => {
  const parts = [...lines.keys()].sort((a, b) => order(clocks, a) - order(clocks, b));
  return parts.flatMap((first, i) =>
    parts
      .slice(i + 1)
      .map((second) => pairOf([first, second], [lines.get(first) ?? [], lines.get(second) ?? []], clocks)),
  );
};

const order = (clocks: readonly ReadingClock[], part: string): number =>
  clocks.findIndex((clock) => clock.part === part);

/** How the tempo drifts against the drill's own: time heard over time asked for, each repetition on its own. */
const driftOf = (part: string, line: readonly Heard[]): Figures['drift'] => {
  const places: Place[] = line.map(({ expected, event }) => ({
    beats: expected,
    bar: event.barIndex,
    barName: event.bar,
    onBarLine: false,
  }));
  const steps = stepsOf(
    line.map(({ time }) => time),
    places,
  ).filter(({ place }) => line[place]?.event.rep === line[place + 1]?.event.rep);
  const pace = drift(steps);
  return pace === null ? [] : [{ part, percentPerMinute: figure(pace.driftPercent) }];
};

const barKey = ({ event }: Heard): string =>
  `${event.rep}/${event.pass}/${event.barIndex}/${Math.floor(event.rep)}`;

/** Tempo of each bar: from its first sure note to the first sure note of the next bar. */
const tempoOf = (part: string, line: readonly Heard[]): readonly ReadingTempo[] => {
  const starts: Heard[] = [];
  for (const heard of line) {
    const last = starts.at(-1);
    if (heard.time !== null && (last === undefined || barKey(last) !== barKey(heard))) starts.push(heard);
  }
  return starts.flatMap((from, i) => {
    const to = starts[i + 1] ?? line.findLast(({ time, at }) => time !== null && at > from.at);
    if (to?.time === undefined || to.time === null || from.time === null || to.event.rep !== from.event.rep)
      return [];
    const quarters = 4 * (to.at - from.at);
    const { rep, bar, barIndex, pass } = from.event;
    if (!(quarters > 0 && to.time > from.time)) return [];
    const perMinute = (60 * quarters) / (to.time - from.time);
    return [
      { part, rep, bar, barIndex, pass, perMinute, asked: (60 * quarters) / (to.expected - from.expected) },
    ];
  });
};

const barLinesOf = (
  { timeline }: WorkedDrill,
  part: string,
  line: readonly Heard[],
  free: boolean,
): readonly ReadingBarLine[] => {
  const starts = new Set(
    timeline.bars
      .filter(({ kind }) => kind === 'bar')
      .map(({ start }) => Math.round(F.toNumber(start) / same)),
  );
  return line.flatMap(({ event, at, time, expected, uncertainty }) => {
    if (time === null || !starts.has(Math.round(at / same))) return [];
    const { rep, bar, barIndex, pass } = event;
    return [
      {
        part,
        rep,
        bar,
        barIndex,
        pass,
        late: free ? null : (time - expected) * ms,
        uncertainty: uncertainty * ms,
      },
    ];
  });
};

/** Longest note of a line that is handed over: an eighth. */
const shortNote = 1 / 8 + same;

/**
 * Seams: where one player's short note ends just when another's begins, the first then silent and the second silent
 * before. How late the second is against what the first player's note promised.
 */
const seamsOf = (lines: ReadonlyMap<string, readonly Heard[]>): readonly ReadingSeam[] => {
  const parts = [...lines.keys()];
  return parts.flatMap((from) =>
    parts
      .filter((to) => to !== from)
      .flatMap((to) => {
        const entering = new Map(
          (lines.get(to) ?? []).map((heard, i, all) => [
            Math.round(heard.at / same),
            { heard, before: all[i - 1] },
          ]),
        );
        return (lines.get(from) ?? []).flatMap((last, i, all): readonly ReadingSeam[] => {
          const end = last.at + last.length;
          const next = all[i + 1];
          const met = entering.get(Math.round(end / same));
          if (met === undefined || last.length > shortNote || met.heard.length > shortNote) return [];
          const { heard, before } = met;
          const handed =
            (next === undefined || next.at > end + same) &&
            (before === undefined || before.at + before.length < end - same);
          if (!handed || last.time === null || heard.time === null || last.event.rep !== heard.event.rep)
            return [];
          const { rep, bar, barIndex, beat } = heard.event;
          const late = (heard.time - last.time - (heard.expected - last.expected)) * ms;
          return [
            {
              from,
              to,
              rep,
              bar,
              barIndex,
              beat,
              late,
              uncertainty: ms * Math.hypot(last.uncertainty, heard.uncertainty),
            },
          ];
        });
      }),
  );
};

/** Fewer notes tell nothing of a player's way. */
const fewest = 5;

const articulationOf = (part: string, line: readonly Heard[]): readonly ReadingArticulation[] => {
  const ratios = line.flatMap(({ time, end, at, length }, i) => {
    const next = line[i + 1];
    if (time === null || end === null || next?.time === undefined || next.time === null) return [];
    if (Math.abs(at + length - next.at) > same || next.time <= time) return [];
    return [(end - time) / (next.time - time)];
  });
  const ratio = meanEstimate(ratios);
  return ratio === null || ratios.length < fewest
    ? []
    : [{ part, ratio: figure(ratio), notes: ratios.length }];
};

/** Pairs of equal short notes, the first on the stronger place: how much longer the first is than the second. */
const evennessOf = (part: string, line: readonly Heard[]): readonly ReadingEvenness[] => {
  const byValue = new Map<string, number[]>();
  line.forEach((first, i) => {
    const [second, after] = [line[i + 1], line[i + 2]];
    if (second === undefined || after === undefined || first.length > shortNote) return;
    const follow =
      Math.abs(first.at + first.length - second.at) < same &&
      Math.abs(second.at + second.length - after.at) < same;
    const equal = Math.abs(first.length - second.length) < same;
    // "2+1/2" begins on a fraction of a beat: the weaker place.
    if (
      !follow ||
      !equal ||
      first.event.beat.includes('+') ||
      first.time === null ||
      second.time === null ||
      after.time === null
    )
      return;
    const [long, short] = [second.time - first.time, after.time - second.time];
    if (!(long > 0 && short > 0)) return;
    const value = F.format(first.event.length);
    const logs = byValue.get(value) ?? [];
    logs.push(Math.log(long / short));
    byValue.set(value, logs);
  });
  return [...byValue].flatMap(([value, logs]) => {
    const middle = meanEstimate(logs);
    if (middle === null || logs.length < fewest) return [];
    const { ci95 } = middle;
    return [
      {
        part,
        value,
        longShort: {
          value: Math.exp(middle.value),
          low: ci95 === null ? null : Math.exp(ci95.low),
          high: ci95 === null ? null : Math.exp(ci95.high),
        },
        pairs: logs.length,
      },
    ];
  });
};

/** All figures of a reading, from its surely heard notes. `free`: no player held to the click. */
export const figuresOf = (
  worked: WorkedDrill,
  notes: readonly ReadingNote[],
  clocks: readonly ReadingClock[],
  free: boolean,
): Figures => {
  const lines = linesOf(worked, notes);
  const each = <T>(work: (part: string, line: readonly Heard[]) => readonly T[]): readonly T[] =>
    clocks.flatMap(({ part }) => work(part, lines.get(part) ?? []));
  return {
    pairs: pairsOf(lines, clocks),
    drift: each(driftOf),
    tempo: each(tempoOf),
    barLines: each((part, line) => barLinesOf(worked, part, line, free)),
    seams: seamsOf(lines),
    articulation: each(articulationOf),
    evenness: each(evennessOf),
  };
};
