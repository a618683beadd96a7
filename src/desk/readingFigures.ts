/** From notes to what a musician asks: who is ahead, how the tempo goes, where bars begin, how lines are handed over. */
import type { DrillBar } from '../drill/model.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import { findPlaces } from '../lines/index.ts';
import { secondsAtPosition } from '../rhythm/tempo.ts';
import { asynchrony } from '../together/asynchrony.ts';
import { clockMotor } from '../together/clockMotor.ts';
import { correctionsOf } from '../together/corrections.ts';
import { drift } from '../together/drift.ts';
import { evenSteps, stepsOf, type Onset, type Step } from '../together/model.ts';
import { mean } from '../together/moments.ts';
import { arrivals, arrivalsAtClick, tempoByBar } from '../together/tempo.ts';
import { beats, F, secondsNumber, type Beats } from '../units/index.ts';
import { figure, figureOrNull, joined, ms, perceptionError, systematic } from './figure.ts';
import type {
  Reading,
  ReadingBarLine,
  ReadingClock,
  ReadingDrift,
  ReadingNote,
  ReadingPair,
  ReadingTempo,
  ReadingTiming,
} from './reading.ts';
import { heldAgainst } from './freeTimes.ts';
import { entriesOf } from './readingEntries.ts';
import { linesOf, tick, type Lines } from './readingLines.ts';
import { noteShapes } from '../sound/parts/shapes.ts';
import { seamsOf } from './readingSeams.ts';
import { styleOf } from './readingStyle.ts';
import { barKey, givingBars, writtenOf } from './readingWritten.ts';
import { syncopationsOf } from './readingSyncopations.ts';

type Figures = Pick<
  Reading,
  | 'pairs'
  | 'written'
  | 'corrections'
  | 'timing'
  | 'drift'
  | 'tempo'
  | 'barLines'
  | 'played'
  | 'entries'
  | 'seams'
  | 'syncopations'
  | 'lengths'
  | 'articulation'
  | 'articulationBetween'
  | 'evenness'
  | 'evennessBetween'
>;

type Line = Lines['players'][number];

/** Bars that the tempo is asked to give way in. */
type Giving = ReturnType<typeof givingBars>;

const givesIn = (bar: DrillBar | undefined, giving: Giving): boolean => {
  const where = named(bar);
  return where !== null && giving.has(barKey(where));
};

const pairOf = (
  first: Line,
  second: Line,
  { heard }: Lines,
  clocks: readonly ReadingClock[],
): ReadingPair => {
  const parts = [first.name, second.name] as const;
  const others = new Map(heard.get(second.name)?.map((one) => [tick(one.at), one]));
  const noise = mean(
    (heard.get(first.name) ?? []).flatMap((one) => {
      const other = others.get(tick(one.at));
      return other === undefined || one.time === null || other.time === null ? [] : [one.noise + other.noise];
    }),
  );
  const seen = asynchrony(first.onsets, second.onsets, noise ?? 0);
  const [known, more] = [joined(parts, clocks), systematic(parts, clocks)];
  return {
    parts,
    n: seen.n,
    mean: known ? figureOrNull(seen.mean, { times: ms, more }) : null,
    sd: figureOrNull(seen.sd, { times: ms }),
    sdWithoutNoise: figureOrNull(seen.sdWithoutNoise, { times: ms }),
    meanAbsolute: known ? figureOrNull(seen.meanSize, { times: ms, more, least: 0 }) : null,
  };
};

/** Intervals within repetitions; a pause between two tells nothing of tempo, nor does a bar in which it is asked to give way. */
const stepsIn = (
  onsets: readonly Onset[],
  { places, reps, bars }: Lines,
  giving: Giving,
): readonly Step[] => {
  const gives = places.map(({ bar }) => bar !== null && givesIn(bars[bar], giving));
  const steps: Step[] = [];
  let from = 0;
  for (let i = 1; i <= reps.length; i += 1) {
    if (i < reps.length && reps[i] === reps[from]) continue;
    const own = stepsOf(onsets.slice(from, i), places.slice(from, i));
    let whole = true;
    for (const step of own) {
      const place = step.place + from;
      if (gives[place] !== true) steps.push({ ...step, place, joined: step.joined && whole });
      whole = gives[place] !== true;
    }
    from = i;
  }
  return steps;
};

const driftOf = (
  part: string | null,
  onsets: readonly Onset[],
  lines: Lines,
  giving: Giving,
): readonly ReadingDrift[] => {
  const seen = drift(stepsIn(onsets, lines, giving));
  if (seen === null) return [];
  // A "beat" of these places is a second that the drill asks for: 60 a minute are as asked.
  const pace = figure(seen.perMinute, { times: 100 / 60 });
  return [{ part, n: seen.n, pace, percentPerMinute: figure(seen.driftPercent) }];
};

const timingOf = ({ name, onsets }: Line, lines: Lines, giving: Giving): readonly ReadingTiming[] => {
  const even = evenSteps(stepsIn(onsets, lines, giving));
  const seen = even === null ? null : clockMotor(even.steps);
  if (seen === null) return [];
  const of = (sd: typeof seen.clockSd) => (seen.fits ? figureOrNull(sd, { times: ms, least: 0 }) : null);
  return [{ part: name, n: seen.n, clockSd: of(seen.clockSd), motorSd: of(seen.motorSd) }];
};

/** What names a bar of the drill; null for what is not in the score. */
const named = (bar: DrillBar | undefined) =>
  bar === undefined || bar.barIndex === null
    ? null
    : { rep: bar.rep, bar: bar.number ?? '', barIndex: bar.barIndex, pass: bar.pass ?? 1 };

/** Where the bars lie in time. */
const playedOf = ({ timeline: { tempo, bars } }: WorkedDrill, giving: Giving): Reading['played'] =>
  bars.flatMap((bar) => {
    const where = named(bar);
    const at = (position: Beats): number => secondsNumber(secondsAtPosition(tempo, position));
    return where === null
      ? []
      : [
          {
            ...where,
            start: at(bar.start),
            end: at(beats(F.add(bar.start, bar.length))),
            gives: giving.has(barKey(where)),
          },
        ];
  });

const tempoOf = (
  { timeline: { tempo } }: WorkedDrill,
  { name, onsets }: Line,
  { quarters, bars }: Lines,
): readonly ReadingTempo[] =>
  tempoByBar([onsets], quarters).flatMap(({ bar, n, perMinute }) => {
    const here = bars[bar];
    const where = named(here);
    if (here === undefined || where === null) return [];
    const [from, to] = [here.start, beats(F.add(here.start, here.length))].map((at) =>
      secondsNumber(secondsAtPosition(tempo, at)),
    );
    const asked = (240 * F.toNumber(here.length)) / ((to ?? 0) - (from ?? 0));
    return [{ part: name, ...where, n, perMinute: figure(perMinute), asked }];
  });

const barLinesOf = (
  { name, onsets }: Line,
  { heard, places, quarters, asked, bars }: Lines,
  click: boolean,
  clocks: readonly ReadingClock[],
): readonly ReadingBarLine[] => {
  const own = new Map(arrivals([onsets], places).map((line) => [line.bar, line]));
  const heardBy = perceptionError(name, clocks) ** 2;
  const byTick = new Map(heard.get(name)?.map((one) => [tick(one.at), one.variance]));
  const variances = quarters.map((place) => (byTick.get(tick((place.beats ?? 0) / 4)) ?? 0) + heardBy);
  const atClick = new Map(
    (click ? arrivalsAtClick([onsets], asked, places, variances) : []).map(({ bar, late }) => [bar, late]),
  );
  return [...new Set([...own.keys(), ...atClick.keys()])]
    .sort((a, b) => a - b)
    .flatMap((bar) => {
      const where = named(bars[bar]);
      const before = own.get(bar);
      if (where === null) return [];
      return [
        {
          part: name,
          ...where,
          late: figureOrNull(before?.late, { times: ms }),
          n: before?.n ?? 0,
          lateAtClick: figureOrNull(atClick.get(bar), { times: ms }),
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
  const giving = givingBars(worked);
  const shapes = noteShapes(worked.parts);
  const written = writtenOf(worked, shapes);
  const lines = linesOf(worked, heldAgainst(notes, written), clocks);
  const { players, places } = lines;
  const found = findPlaces(worked.score).places;
  const all = clocks.map(({ part }) => part);
  const middle =
    players.length > 1 && joined(all, clocks)
      ? places.map((_, i) => mean(players.flatMap(({ onsets }) => onsets[i] ?? [])))
      : null;
  return {
    pairs: players.flatMap((first, i) =>
      players.slice(i + 1).map((second) => pairOf(first, second, lines, clocks)),
    ),
    corrections: correctionsOf(players, places).map(({ part, to, correction: { n, gains } }) => ({
      part,
      to,
      n,
      gains: gains.map((gain) => figure(gain)),
    })),
    timing: players.flatMap((player) => timingOf(player, lines, giving)),
    drift: [
      ...(middle === null ? [] : driftOf(null, middle, lines, giving)),
      ...players.flatMap(({ name, onsets }) => driftOf(name, onsets, lines, giving)),
    ],
    tempo: players.flatMap((player) => tempoOf(worked, player, lines)),
    barLines: players.flatMap((player) =>
      barLinesOf(player, lines, !free && joined([player.name], clocks), clocks),
    ),
    played: playedOf(worked, giving),
    entries: entriesOf(found, lines, clocks, worked.parts),
    seams: seamsOf(found, lines, clocks, shapes),
    syncopations: syncopationsOf(found, lines),
    ...styleOf(lines, written),
    written,
  };
};
