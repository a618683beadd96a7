/**
 * Ensembles that rehearse a place, made from parameters, seeded. Each player's next interval is the player's own, with the noise of a clock and of
 * a hand (Wing & Kristofferson 1973, Percept Psychophys 14:5), less a share of the distance to each other player (Vorberg & Schulze 2002, J
 * Math Psychol 46:56; Wing et al. 2014, J R Soc Interface 11:20131125) and, where a click has just sounded, to the click.
 */
import { asynchrony } from '../../src/together/asynchrony.ts';
import type { Estimate } from '../../src/together/interval.ts';
import { judgeTake, type TakeFigures } from '../../src/plan/take.ts';
import { proposeNext, standingOf, type Proposed, type TriedStep } from '../../src/plan/nextStep.ts';
import { meanArrival, tempoChange } from '../../src/plan/tempoChange.ts';
import type { Random } from '../../src/units/index.ts';
import { times } from '../together/simulate.ts';

export interface Ensemble {
  /** Seconds, standard deviations of the inner clock by beat and of the hand by note. */
  readonly clock: number;
  readonly motor: number;
  /** Share of the distance to each other that is made good by the next note. */
  readonly gain: number;
  /** The same to the click. */
  readonly toClick: number;
  /** Each player's own tempo over what is asked for. */
  readonly own: readonly number[];
  /** Seconds, standard deviation of the error of each onset that is read. */
  readonly noise: number;
}

/** Every how many beats a click sounds; 0: none. The last has no count-in either. */
export const clicks = [2, 4, 8, 0, 0];

const beat = 60 / 90;
const bars = 12;
const perBar = 4;

/** Onsets of one take by player, in seconds from its beginning, as they were played. */
const play = (who: Ensemble, every: number, normal: Random): number[][] => {
  const { own, clock, motor, gain, toClick } = who;
  // Where a click is heard throughout, an ensemble's own tempo shows only between the clicks.
  let heard = own.map(() => motor * normal());
  let delay = own.map((_, i) => heard[i] ?? 0);
  const columns: number[][] = own.map(() => []);
  for (let note = 0; note < bars * perBar; note++) {
    const now = heard;
    for (const [i, time] of now.entries()) columns[i]?.push(time);
    const next = own.map(() => motor * normal());
    const click = every > 0 && note % every === 0 ? note * beat : null;
    heard = now.map((time, i) => {
      const others = now.reduce((sum, other) => sum + gain * (time - other), 0);
      const paced = click === null ? 0 : toClick * (time - click);
      const length = beat / (own[i] ?? 1);
      return time + length + clock * normal() + (next[i] ?? 0) - (delay[i] ?? 0) - others - paced;
    });
    delay = next;
  }
  return columns;
};

const ms = 1000;

/** What a reading finds of a take: the onsets with measuring noise, and the house's own statistics. */
const read = (
  played: readonly (readonly number[])[],
  who: Ensemble,
  every: number,
  normal: Random,
): TakeFigures => {
  const { noise } = who;
  const columns = played.map((column) => column.map((time) => time + noise * normal()));
  const figure = (estimate: Estimate | null, by: number) =>
    estimate === null
      ? null
      : {
          value: estimate.value * by,
          low: estimate.ci95 === null ? null : estimate.ci95.low * by,
          high: estimate.ci95 === null ? null : estimate.ci95.high * by,
        };
  const pairs = columns.flatMap((first, i) =>
    columns.slice(i + 1).map((second, j) => {
      const seen = asynchrony(first, second, 2 * noise * noise);
      return {
        parts: [`P${i + 1}`, `P${i + j + 2}`] as const,
        n: seen.n,
        sd: figure(seen.sdWithoutNoise, ms),
      };
    }),
  );
  const middle = times(
    bars * perBar,
    (k) => columns.reduce((sum, one) => sum + (one[k] ?? 0), 0) / columns.length,
  );
  const lines = times(bars, (bar) => (middle[perBar * bar] ?? 0) - perBar * bar * beat).slice(1);
  const late = every >= perBar ? meanArrival(lines.map((one) => one * ms)) : null;
  const tempi = times(bars - 1, (bar) => ({
    rep: 1,
    share: (perBar * beat) / ((middle[perBar * (bar + 1)] ?? 0) - (middle[perBar * bar] ?? 0)),
  }));
  const all = columns.length * bars * perBar;
  return {
    playing: every === 0 ? 'free' : 'click',
    heard: all,
    notes: all,
    pairs,
    arrival: late === null ? null : { late, spacing: every * beat * ms },
    change: every === 0 ? tempoChange(tempi) : null,
  };
};

/** A take at a step, as it was played and read. */
export const takeOf = (who: Ensemble, step: number, normal: Random, again = 1): readonly TakeFigures[] => {
  const every = clicks[step] ?? 0;
  const played = play(who, every, normal);
  return times(again, () => read(played, who, every, normal));
};

export interface Course {
  readonly takes: readonly TriedStep[];
  readonly proposals: readonly Proposed[];
  /** The highest step that was reached, and the standing in the end. */
  readonly reached: number;
  readonly kind: ReturnType<typeof standingOf>['kind'];
}

/** Some rehearsals with some takes each; the ensemble does what is proposed. `lucky`: numbers of takes that are played by another ensemble; `take`: what is played. */
export const rehearse = (
  who: Ensemble,
  {
    rehearsals,
    most,
    lucky = () => null,
    take = takeOf,
  }: {
    rehearsals: number;
    most: number;
    lucky?: (take: number) => Ensemble | null;
    take?: (who: Ensemble, step: number, normal: Random) => readonly TakeFigures[];
  },
  normal: Random,
): Course => {
  const takes: TriedStep[] = [];
  const proposals: Proposed[] = [];
  let reached = 0;
  for (let r = 0; r < rehearsals; r++) {
    let step = standingOf(takes, clicks.length).step;
    for (let t = 0; t < most; t++) {
      const playing = lucky(takes.length) ?? who;
      const [figures] = take(playing, step, normal);
      if (figures === undefined) break;
      takes.push({ rehearsal: `r${r}`, step, verdict: judgeTake(figures).verdict });
      const next = proposeNext(takes, clicks.length);
      proposals.push(next);
      step = next.to;
      reached = Math.max(reached, step);
      if (next.proposal === 'leave') break;
    }
  }
  return { takes, proposals, reached, kind: standingOf(takes, clicks.length).kind };
};

/** Changes of direction: on and then back, or back and then on, one after the other among the moves. */
export const swings = (proposals: readonly Proposed[]): number => {
  const moves = proposals.map(({ proposal }) => proposal).filter((one) => one === 'on' || one === 'back');
  return moves.filter((move, i) => i > 0 && move !== moves[i - 1]).length;
};
