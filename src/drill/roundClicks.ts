/** The clicks of one round: the placement over its bars, less where the click is to be silent. */
import { countWord } from '../click/countIn.ts';
import type { ClickRule } from '../click/placement.ts';
import { hemiola, offered, strikes } from '../click/strikes.ts';
import { beatText, type BarGrid } from '../rhythm/beats.ts';
import type { GradualSpan } from '../rhythm/gradual.ts';
import { beats, F, fail, note, ok, problem, type Beats, type Result } from '../units/index.ts';
import type { Bar } from '../score/model.ts';
import type { ClickEvent, Drill } from './model.ts';
import type { Fermata, Recount, Round, Stretch } from './round.ts';

/** A click before its repetition and time are known. */
export type RoundClick = Omit<ClickEvent, 'time' | 'sample' | 'rep'>;

export interface Silences {
  readonly tacet: Drill['tacet'];
  readonly fermatas: readonly Fermata[];
  /** Written or marked ritardandi and the like. */
  readonly gradual: readonly GradualSpan[];
  /** Indices of bars in which everyone rests. */
  readonly pauses: ReadonlySet<number>;
  /** Bars clicked as a hemiola, by index of the first and last; null for none. */
  readonly hemiola: { readonly first: number; readonly last: number } | null;
}

/** Offsets from the bar's start of the clicks of a hemiola, by bar index. */
const hemiolaStrikes = (
  grids: readonly BarGrid[],
  span: Silences['hemiola'],
): Result<ReadonlyMap<number, readonly Beats[]>> => {
  if (span === null) return ok(new Map());
  const row = grids.slice(span.first, span.last + 1);
  const found = hemiola(row);
  if (found === null) {
    const metres = [...new Set(row.map(({ metre }) => metre))].join(', ');
    return fail(
      'placement-lacks-metre',
      `A hemiola needs pairs of full bars of three beats, or full bars of 6/8 or 6/4; these ${row.length} bars are ${metres}.`,
    );
  }
  return ok(new Map(found.map((offsets, i) => [span.first + i, offsets])));
};

const spanAt = <T extends { readonly from: Beats; readonly to: Beats }>(
  spans: readonly T[],
  place: F.Fraction,
): T | undefined => spans.find(({ from, to }) => F.atMost(from, place) && F.less(place, to));

/** Whether "so many bars with the click, so many without" silences this bar. */
const tacetBar = (tacet: Drill['tacet'], barCount: number | null): boolean =>
  tacet !== null && barCount !== null && barCount % (tacet.with + tacet.without) >= tacet.with;

/** Where the click falls in a bar whose metre lacks the placement: on its first beat (and a Problem says so). */
const fallback = (grid: BarGrid): readonly Beats[] => (F.isZero(grid.shift) ? [note(0)] : []);

/** The bar counted again after a fermata, by the numbers of its beats, so that the music goes on in its place. */
const recountClicks = (hold: Recount, grid: BarGrid): readonly RoundClick[] => {
  const place = F.add(hold.offset, grid.shift);
  return grid.beats
    .filter(({ offset }) => F.less(offset, grid.full))
    .map(({ number, offset }) => ({ number, after: F.modulo(F.sub(offset, place), grid.full) }))
    .sort((a, b) => F.compare(a.after, b.after))
    .map(({ number, after }) => ({
      kind: 'count-in',
      at: beats(F.add(hold.start, after)),
      bar: null,
      barIndex: null,
      beat: String(number),
      pass: null,
      word: countWord(number, false),
      first: number === 1,
    }));
};

/**
 * All clicks of a round, in order. Fails with `placement-lacks-metre` where the placement has no meaning in any bar of
 * the passage, telling what is offered instead; where only some bars lack it, those are clicked on their first beat
 * and a Problem names their metre. There is no click at fermatas, in gradual tempo changes, in general pauses but for
 * the last beat as a cue, and in music without metre.
 */
export const roundClicks = (
  round: Round,
  grids: readonly BarGrid[],
  rule: ClickRule,
  silences: Silences,
): Result<readonly RoundClick[]> => {
  const special = hemiolaStrikes(grids, silences.hemiola);
  if (!special.ok) return special;
  const lacking = new Map<string, BarGrid>();
  const givingWay = new Map<GradualSpan, Bar>();
  const held = new Map<Fermata, Bar>();
  let meant = 0;

  const offsetsIn = ({ bar, barCount }: Stretch, grid: BarGrid): readonly Beats[] => {
    if (grid.metre === 'free') return [];
    const hemiolaOffsets = special.value.get(bar.index);
    const found = hemiolaOffsets ?? strikes(rule.placement, grid, barCount);
    if (found === null && barCount !== null) lacking.set(grid.metre, grid);
    if (found !== null && barCount !== null) meant++;
    return found ?? (barCount === null ? [] : fallback(grid));
  };

  const silent = ({ bar, barCount }: Stretch, grid: BarGrid, offset: Beats): boolean => {
    const place = F.add(bar.start, offset);
    const lastBeat = grid.beats.findLast((beat) => F.less(beat.offset, F.add(grid.shift, grid.length)));
    const cue = lastBeat !== undefined && F.atMost(lastBeat.offset, F.add(offset, grid.shift));
    const fermata = spanAt(silences.fermatas, place);
    const gradual = spanAt(silences.gradual, place);
    if (fermata !== undefined && !held.has(fermata)) held.set(fermata, bar);
    if (gradual !== undefined && !givingWay.has(gradual)) givingWay.set(gradual, bar);
    const silenced = fermata !== undefined || gradual !== undefined || tacetBar(silences.tacet, barCount);
    return silenced || (silences.pauses.has(bar.index) && !cue);
  };

  const clicks = round.bars.flatMap((entry): readonly RoundClick[] => {
    const grid = grids[entry.bar.index];
    if (grid === undefined) return [];
    if (entry.kind === 'hold') return recountClicks(entry, grid);
    const end = F.add(entry.offset, entry.length);
    return offsetsIn(entry, grid)
      .filter(
        (offset) => F.atMost(entry.offset, offset) && F.less(offset, end) && !silent(entry, grid, offset),
      )
      .map((offset) => ({
        kind: 'click',
        at: beats(F.add(entry.start, F.sub(offset, entry.offset))),
        bar: entry.bar.number,
        barIndex: entry.bar.index,
        beat: beatText(grid, offset),
        pass: entry.visit.pass,
        word: null,
        first: F.isZero(F.add(offset, grid.shift)),
      }));
  });

  if (lacking.size > 0 && meant === 0) {
    const [grid] = lacking.values();
    const offers = grid === undefined ? '' : offered(grid).join(', ');
    return fail(
      'placement-lacks-metre',
      `This click placement has no meaning in ${[...lacking.keys()].join(', ')}. There you can have: ${offers}.`,
    );
  }
  return ok(clicks, [
    ...[...lacking.keys()].map((metre) =>
      problem(
        'assumption',
        'placement-lacks-metre',
        `This click placement has no meaning in the bars of ${metre}; they are clicked on their first beat.`,
      ),
    ),
    ...[...givingWay].map(([{ text }, bar]) =>
      problem(
        'note',
        'click-silent',
        `From "${text}" in bar ${bar.number} the click is silent while the tempo gives way.`,
        {
          bar: bar.number,
        },
      ),
    ),
    ...[...held.values()].map((bar) =>
      problem('note', 'click-silent', `The click stops at the fermata in bar ${bar.number}.`, {
        bar: bar.number,
      }),
    ),
  ]);
};
