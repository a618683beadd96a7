/**
 * The tempo map in whole microseconds per quarter, which is all that MIDI says. Left alone, half a microsecond a
 * quarter adds up: 2.7 ms in an hour at 90. So the time of the file is kept beside the exact time, bar by bar, and as
 * soon as they would part by more than 10 microseconds (half a sample at 48 kHz) one bar is written up to 3
 * microseconds a quarter faster or slower. Gradual sections are steps, one for each quarter and each click, each of the
 * mean tempo of its stretch, so that both ends of each are on time to a microsecond.
 */
import type { Timeline } from '../../drill/model.ts';
import { beats, F, problem, type Beats, type Fraction, type Problem } from '../../units/index.ts';
import { meta, rank, type TrackEvent } from './bytes.ts';

type Section = Timeline['tempo']['sections'][number];

/** How far the file's time may stray from the exact time, in microseconds. */
const strayingLimit = 10;
const correction = 3;
/** Three bytes. */
const slowest = 0xff_ff_ff;

const million = F.fraction(1_000_000);
const quarter = F.fraction(1, 4);

/** Exact time of a position in a section: the area under a pace that changes linearly with the position. */
const timeIn = ({ start, end, time, from, to }: Section, at: Beats): Fraction => {
  const into = F.sub(at, start);
  const slope = end === null ? F.zero : F.div(F.sub(to, from), F.sub(end, start));
  return F.add(time, F.mul(into, F.add(from, F.mul(F.div(slope, F.fraction(2)), into))));
};

/** Positions inside a section at which the tempo may be set anew: bar lines, or every quarter and click where it bends. */
const breaks = (
  section: Section,
  until: Beats,
  bars: readonly Beats[],
  clicks: readonly Beats[],
): Beats[] => {
  const { start, from, to } = section;
  const inside = (at: Beats) => F.less(start, at) && F.less(at, until);
  if (F.equal(from, to)) return bars.filter(inside);
  const points = clicks.filter(inside);
  for (let at = F.add(start, quarter); F.less(at, until); at = F.add(at, quarter)) points.push(beats(at));
  return points.sort(F.compare).filter((at, k) => k === 0 || !F.equal(at, points[k - 1] ?? F.zero));
};

/** The tempo events of a timeline, from its beginning to `end`. */
export const tempoEvents = (
  { tempo, bars, clicks }: Pick<Timeline, 'tempo' | 'bars' | 'clicks'>,
  end: Beats,
  tick: (at: Beats) => number,
): { readonly events: readonly TrackEvent[]; readonly problems: readonly Problem[] } => {
  const events: TrackEvent[] = [];
  const problems: Problem[] = [];
  const barStarts = bars.map(({ start }) => start);
  const clickStarts = clicks.map(({ at }) => at);
  let stray: Fraction = F.zero;
  let running = 0;
  let gradual = 0;
  let clamped = false;
  for (const section of tempo.sections) {
    if (F.atMost(end, section.start) && events.length > 0) break;
    const until = section.end === null ? end : beats(F.min(section.end, end));
    const steady = F.equal(section.from, section.to);
    if (!steady) gradual += 1;
    const points = [section.start, ...breaks(section, until, barStarts, clickStarts), until];
    const exact = F.mul(F.mul(section.from, quarter), million);
    for (const [k, at] of points.slice(0, -1).entries()) {
      const next = points[k + 1] ?? until;
      const quarters = F.div(F.sub(next, at), quarter);
      const long = F.mul(F.sub(timeIn(section, next), timeIn(section, at)), million);
      const mean = F.isPositive(quarters) ? F.div(F.sub(long, stray), quarters) : exact;
      let value = nearest(mean);
      if (steady) {
        const plain = nearest(exact);
        const ahead = F.add(stray, F.sub(F.mul(F.fraction(plain), quarters), long));
        value = small(ahead) ? plain : Math.min(plain + correction, Math.max(plain - correction, value));
      }
      if (value > slowest || value < 1) clamped = true;
      value = Math.min(slowest, Math.max(1, value));
      if (value !== running) {
        const bytes = [value >> 16, (value >> 8) & 0xff, value & 0xff];
        events.push({ tick: tick(at), rank: rank.tempo, bytes: meta(0x51, bytes) });
      }
      running = value;
      stray = F.add(stray, F.sub(F.mul(F.fraction(value), quarters), long));
    }
  }
  if (gradual > 0)
    problems.push(
      problem(
        'note',
        'midi-tempo-steps',
        `MIDI knows no gradual tempo: in ${gradual} places it is written as steps, one for each quarter and each click.`,
      ),
    );
  if (clamped)
    problems.push(
      problem(
        'note',
        'tempo-absurd',
        'MIDI cannot say a tempo this slow or this fast; the file runs at the nearest that it can (3.6 quarters a minute is its slowest).',
      ),
    );
  return { events, problems };
};

const nearest = (value: Fraction): number => Number(F.floor(F.add(value, F.fraction(1, 2))));

const small = (value: Fraction): boolean =>
  F.atMost(value, F.fraction(strayingLimit)) && F.atMost(F.fraction(-strayingLimit), value);
