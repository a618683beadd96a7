/** Where the click is silent though the placement would have it sound, and what is told of that. */
import type { GradualSpan } from '../rhythm/gradual.ts';
import type { BarGrid } from '../rhythm/beats.ts';
import type { Bar, Score } from '../score/model.ts';
import { F, problem, remembered, type Beats, type Problem } from '../units/index.ts';
import type { Drill } from './model.ts';
import type { Fermata, Stretch } from './round.ts';

export interface Silences {
  readonly tacet: Drill['tacet'];
  readonly fermatas: readonly Fermata[];
  /** Written or marked ritardandi and the like. */
  readonly gradual: readonly GradualSpan[];
  /** Indices of bars in which everyone rests. */
  readonly pauses: ReadonlySet<number>;
}

/** General pauses: bars in which no part of a score for several plays anything. */
export const generalPauses = remembered((score: Score): ReadonlySet<number> => {
  if (score.parts.length < 2) return new Set();
  const silent = new Set(score.bars.map(({ index }) => index));
  for (const { notes } of score.parts) {
    for (const { bar, onset, duration } of notes) {
      const end = F.add(onset, duration);
      for (let i = bar; i < score.bars.length && F.less(score.bars[i]?.start ?? end, end); i++) {
        silent.delete(i);
      }
    }
  }
  return silent;
});

const spanAt = <T extends { readonly from: Beats; readonly to: Beats }>(
  spans: readonly T[],
  place: F.Fraction,
): T | undefined => spans.find(({ from, to }) => F.atMost(from, place) && F.less(place, to));

/** Whether "so many bars with the click, so many without" silences this bar. */
const tacetBar = (tacet: Drill['tacet'], barCount: number | null): boolean =>
  tacet !== null && barCount !== null && barCount % (tacet.with + tacet.without) >= tacet.with;

/** The last beat of a bar is a cue after a pause. */
const onLastBeat = (grid: BarGrid, offset: Beats): boolean => {
  const last = grid.beats.findLast((beat) => F.less(beat.offset, F.add(grid.shift, grid.length)));
  return last !== undefined && F.atMost(last.offset, F.add(offset, grid.shift));
};

const note = (bar: Bar, message: string): Problem =>
  problem('note', 'click-silent', message, { bar: bar.number });

/** Decides click by click, and remembers what silenced any. Made anew for each round. */
export const silencer = (
  silences: Silences,
): {
  readonly isSilent: (stretch: Stretch, grid: BarGrid, offset: Beats) => boolean;
  readonly told: () => readonly Problem[];
} => {
  const gradual = new Map<GradualSpan, Bar>();
  const held = new Map<Fermata, Bar>();
  const paused = new Set<Bar>();
  const remember = <K>(map: Map<K, Bar>, key: K | undefined, bar: Bar): boolean => {
    if (key !== undefined && !map.has(key)) map.set(key, bar);
    return key !== undefined;
  };
  return {
    isSilent: ({ bar, barCount }, grid, offset) => {
      if (tacetBar(silences.tacet, barCount)) return true;
      const place = F.add(bar.start, offset);
      if (remember(held, spanAt(silences.fermatas, place), bar)) return true;
      if (remember(gradual, spanAt(silences.gradual, place), bar)) return true;
      const pause = silences.pauses.has(bar.index) && !onLastBeat(grid, offset);
      if (pause) paused.add(bar);
      return pause;
    },
    told: () => [
      ...[...gradual].map(([{ text }, bar]) =>
        note(bar, `From "${text}" in bar ${bar.number} the click is silent while the tempo gives way.`),
      ),
      ...[...held.values()].map((bar) => note(bar, `The click stops at the fermata in bar ${bar.number}.`)),
      ...[...paused].map((bar) =>
        note(bar, `Everyone rests in bar ${bar.number}: the click is silent but for its last beat.`),
      ),
    ],
  };
};
