/** All statistics of a table, in the printed format. */
import { problem, type Problem } from '../units/index.ts';
import { npvi } from './articulation.ts';
import { asynchrony, type Asynchrony } from './asynchrony.ts';
import { clockMotor, fewestForClock } from './clockMotor.ts';
import { correctionsOf } from './corrections.ts';
import { drift, fewestForDrift } from './drift.ts';
import type { PrintedEstimate, Reading } from './format.ts';
import { mappedEstimate, type Estimate } from './interval.ts';
import { following } from './lead.ts';
import { evenSteps, stepsOf, type Onset, type Place, type Player } from './model.ts';
import { mean } from './moments.ts';
import type { OnsetTable } from './table.ts';
import { arrivals, arrivalsAtClick, tempoByBar } from './tempo.ts';

/** Figures are printed to a millionth: nanoseconds in milliseconds. */
const tidy = (value: number): number => Number(value.toFixed(6));

const printed = ({ value, ci95 }: Estimate): PrintedEstimate => ({
  value: tidy(value),
  ci95: ci95 === null ? null : [tidy(ci95.low), tidy(ci95.high)],
});

const orNull = (estimate: Estimate | null | undefined): PrintedEstimate | null =>
  estimate === null || estimate === undefined ? null : printed(estimate);

const inMs = (estimate: Estimate): Estimate => mappedEstimate(estimate, (seconds) => 1000 * seconds);

const msOrNull = (estimate: Estimate | null | undefined): PrintedEstimate | null =>
  estimate === null || estimate === undefined ? null : printed(inMs(estimate));

const spreadFields = (seen: Asynchrony) => {
  const [m, sd, size, bare] = [seen.mean, seen.sd, seen.meanSize, seen.sdWithoutNoise].map(msOrNull);
  return {
    n: seen.n,
    meanMs: m?.value ?? null,
    sdMs: sd?.value ?? null,
    meanAbsMs: size?.value ?? null,
    sdWithoutNoiseMs: bare?.value ?? null,
    ci95: {
      meanMs: m?.ci95 ?? null,
      sdMs: sd?.ci95 ?? null,
      meanAbsMs: size?.ci95 ?? null,
      sdWithoutNoiseMs: bare?.ci95 ?? null,
    },
    lag1: seen.lag1 === null ? null : tidy(seen.lag1),
    effectiveN: seen.effective === null ? null : tidy(seen.effective),
  };
};

const paceOf = (onsets: readonly Onset[], places: readonly Place[]) => {
  const seen = drift(stepsOf(onsets, places));
  return { tempo: orNull(seen?.perMinute), driftPercentPerMinute: orNull(seen?.driftPercent) };
};

const playerOf = ({ name, onsets }: Player, places: readonly Place[]) => {
  const even = evenSteps(stepsOf(onsets, places));
  const levels = even === null ? null : clockMotor(even.steps);
  const there = onsets.flatMap((time) => time ?? []);
  const lengths = there.slice(1).map((time, i) => time - (there[i] ?? time));
  const uneven = npvi(lengths);
  return {
    part: name,
    n: there.length,
    ...paceOf(onsets, places),
    clockSdMs: msOrNull(levels?.clockSd),
    motorSdMs: msOrNull(levels?.motorSd),
    clockMotorFits: levels?.fits ?? null,
    npvi: uneven === null ? null : tidy(uneven),
  };
};

const correctionsIn = (players: readonly Player[], places: readonly Place[]): Reading['corrections'] =>
  correctionsOf(players, places).map(({ part, to, correction: { n, gains, clockSd, motorSd } }) => ({
    part,
    n,
    to: [...to],
    gains: gains.map(printed),
    clockSdMs: tidy(1000 * clockSd),
    motorSdMs: tidy(1000 * motorSd),
  }));

const few = (reading: Omit<Reading, 'format'>): readonly Problem[] => {
  const alone = reading.pairs.filter(({ n }) => n < 2).map(({ parts }) => parts.join(' and '));
  const slow = reading.players.filter(({ tempo }) => tempo === null).map(({ part }) => part);
  const unread = reading.players.filter(({ clockMotorFits }) => clockMotorFits === null);
  const against = reading.players.filter(({ clockMotorFits }) => clockMotorFits === false);
  const note = (code: string, message: string): Problem => problem('note', code, message);
  return [
    ...(alone.length === 0
      ? []
      : [
          note(
            'pair-too-few',
            `Fewer than two places are shared by ${alone.join('; ')}: their spread cannot be told.`,
          ),
        ]),
    ...(slow.length === 0 || reading.unit === null
      ? []
      : [
          note(
            'tempo-too-few',
            `Tempo and drift need ${fewestForDrift} intervals: not told for ${slow.join(', ')}.`,
          ),
        ]),
    ...(unread.length === 0 || reading.unit === null
      ? []
      : [
          note(
            'clock-too-few',
            `Clock and motor variance need ${fewestForClock} intervals of one length, most of them in a row: not told for ${unread.map(({ part }) => part).join(', ')}.`,
          ),
        ]),
    ...(against.length === 0
      ? []
      : [
          note(
            'clock-no-fit',
            `A variance came out below zero for ${against.map(({ part }) => part).join(', ')}: the model of clock and hand does not describe this playing, or the notes are too few. It is left out.`,
          ),
        ]),
  ];
};

/**
 * Everything that can be told of a table. `noiseMs`: standard deviation of the measuring error of one onset in milliseconds,
 * null where it is not known. What cannot be told is null, and said as a problem: `pair-too-few`, `tempo-too-few`,
 * `clock-too-few`, `clock-no-fit`.
 */
export const readingOf = (
  { players, places, click, unit }: OnsetTable,
  noiseMs: number | null,
): { readonly reading: Reading; readonly problems: readonly Problem[] } => {
  const noise = noiseMs === null ? null : (noiseMs / 1000) ** 2;
  const lines = players.map(({ onsets }) => onsets);
  const middle = places.map((_, i) => mean(lines.flatMap((onsets) => onsets[i] ?? [])));
  const atClick = new Map(
    (click === null ? [] : arrivalsAtClick(lines, click, places, noise)).map(({ bar, late }) => [bar, late]),
  );
  const reading: Omit<Reading, 'format'> = {
    unit,
    noiseMs,
    players: players.map((player) => playerOf(player, places)),
    pairs: players.flatMap((first, i) =>
      players.slice(i + 1).map((second): Reading['pairs'][number] => {
        const seen = asynchrony(first.onsets, second.onsets, noise === null ? null : 2 * noise);
        const tempi = following(first.onsets, second.onsets, places);
        return {
          parts: [first.name, second.name],
          ...spreadFields(seen),
          firstAhead: orNull(seen.firstAhead),
          following: {
            together: orNull(tempi.together),
            firstFollows: orNull(tempi.firstFollows),
            secondFollows: orNull(tempi.secondFollows),
          },
        };
      }),
    ),
    click:
      click === null
        ? []
        : players.map(({ name, onsets }) => ({
            part: name,
            ...spreadFields(asynchrony(onsets, click, noise)),
          })),
    corrections: correctionsIn(players, places),
    ensemble: paceOf(middle, places),
    bars: tempoByBar(lines, places).map(({ barName, n, perMinute }) => ({
      bar: barName,
      n,
      tempo: printed(perMinute),
    })),
    barLines: arrivals(lines, places).map(({ bar, barName, late }) => ({
      bar: barName,
      lateMs: printed(inMs(late)),
      clickMs: msOrNull(atClick.get(bar)),
    })),
  };
  return { reading: { format: 'levare.together/1', ...reading }, problems: few(reading) };
};
