/**
 * Two who divide one line between them: only one sounds at a time, so only that one is heard. The other goes on inside and comes nearer to what it hears
 * by the same share at each note (`Ensemble.gain`). What is read is each hand-over, as the house reads seams; they never sound together, so that
 * the rule for fewer than twelve shared places is the one that is tried.
 */
import { gapSpread, seam } from '../../src/together/seams.ts';
import { meanArrival, tempoChange } from '../../src/plan/tempoChange.ts';
import type { TakeFigures } from '../../src/plan/take.ts';
import type { Random } from '../../src/units/index.ts';
import { times } from '../together/simulate.ts';
import { clicks, type Ensemble } from './ensembles.ts';

const beat = 60 / 90;
const eighth = beat / 2;
const bars = 12;
const perBar = 8;
/** Notes that a player has before handing on: half a bar. */
const group = 4;
const ms = 1000;

const sounding = (note: number): number => Math.floor(note / group) % 2;

/** Onsets of both, heard or not, in seconds. A clock that runs half as long varies half as much (variance; Wing & Kristofferson 1973, from memory). */
const play = ({ own, clock, motor, gain, toClick }: Ensemble, every: number, normal: Random): number[][] => {
  let now = [motor * normal(), motor * normal()];
  let delay = [...now];
  const columns: [number[], number[]] = [[], []];
  for (let note = 0; note < bars * perBar; note++) {
    const [first = 0, second = 0] = now;
    columns[0].push(first);
    columns[1].push(second);
    const heard = now[sounding(note)] ?? 0;
    const click = every > 0 && note % (2 * every) === 0 ? note * eighth : null;
    const next = [motor * normal(), motor * normal()];
    now = now.map((time, i) => {
      const paced = click === null ? 0 : toClick * (time - click);
      const mine = eighth / (own[i] ?? 1) + (clock / Math.SQRT2) * normal();
      return time + mine + (next[i] ?? 0) - (delay[i] ?? 0) - gain * (time - heard) - paced;
    });
    delay = next;
  }
  return columns;
};

/** A take at a step, as it was played and read. */
export const dividedTake = (who: Ensemble, step: number, normal: Random): readonly TakeFigures[] => {
  const every = clicks[step] ?? 0;
  const columns = play(who, every, normal);
  const line = times(bars * perBar, (note) => (columns[sounding(note)]?.[note] ?? 0) + who.noise * normal());
  const notes = (from: number) =>
    line.slice(from, from + group).map((onset, i) => ({
      beats: (from + i) / 2,
      onset,
      offset: null,
      level: null,
    }));
  const late = times((bars * perBar) / group - 1, (i) => {
    const seen = seam(notes(group * i), notes(group * (i + 1)));
    return seen.gap === null ? [] : [{ gap: seen.gap.value * ms, giverNotes: group }];
  }).flat();
  const sd = gapSpread(late, (who.noise * ms) ** 2);
  const arrivals = times(bars, (bar) => ((line[perBar * bar] ?? 0) - perBar * bar * eighth) * ms).slice(1);
  const arrival = every >= 4 ? meanArrival(arrivals) : null;
  const tempi = times(bars - 1, (bar) => ({
    rep: 1,
    share: (perBar * eighth) / ((line[perBar * (bar + 1)] ?? 0) - (line[perBar * bar] ?? 0)),
  }));
  return [
    {
      playing: every === 0 ? 'free' : 'click',
      heard: line.length,
      notes: line.length,
      pairs: [
        {
          parts: ['P1', 'P2'],
          n: late.length,
          sd:
            sd === null ? null : { value: sd.value, low: sd.ci95?.low ?? null, high: sd.ci95?.high ?? null },
        },
      ],
      arrival: arrival === null ? null : { late: arrival, spacing: every * beat * ms },
      change: every === 0 ? tempoChange(tempi) : null,
    },
  ];
};
