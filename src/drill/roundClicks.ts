/** The clicks of one round: the placement over its bars, less where the click is to be silent. */
import { countWord } from '../click/countIn.ts';
import { placementText, type Placement } from '../click/placement.ts';
import { offered, strikes } from '../click/strikes.ts';
import { beatText, type BarGrid } from '../rhythm/beats.ts';
import { beats, F, fail, note, ok, problem, type Beats, type Problem, type Result } from '../units/index.ts';
import type { ClickEvent } from './model.ts';
import type { Recount, Round, Stretch } from './round.ts';
import { silencer, type Silences } from './silences.ts';

/** A click before its repetition and time are known. */
export type RoundClick = Omit<ClickEvent, 'time' | 'sample' | 'rep'>;

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

/** Where it clicks: by a rule, but for bars of a hemiola (offsets from the bar's start) and bars apart, by bar index. */
export interface Placements {
  readonly placement: Placement;
  readonly hemiola: ReadonlyMap<number, readonly Beats[]>;
  readonly apart: ReadonlyMap<number, Placement>;
}

/** How a placement fares in the metres of a passage. */
class Fitting {
  private readonly lacking = new Map<string, BarGrid>();
  private readonly partly = new Set<string>();
  private readonly uneven = new Set<string>();
  private free = false;
  private meant = 0;

  private readonly placement: Placement;
  private readonly hemiola: ReadonlyMap<number, readonly Beats[]>;
  private readonly apart: ReadonlyMap<number, Placement>;
  /** Bars clicked otherwise whose metre has not all that is asked there. */
  private readonly apartLacking = new Map<string, string>();

  constructor({ placement, hemiola, apart }: Placements) {
    this.placement = placement;
    this.hemiola = hemiola;
    this.apart = apart;
  }

  /** What clicks in a bar that has a placement of its own: what its metre lacks is told, and never clicked. */
  private offsetsApart({ bar, barCount }: Stretch, grid: BarGrid, own: Placement): readonly Beats[] {
    const found = strikes(own, grid, barCount) ?? [];
    const asked = own.kind === 'beats' ? own.list.length : own.kind === 'none' || own.kind === 'bars' ? 0 : 1;
    if (found.length < asked && F.isZero(grid.shift)) this.apartLacking.set(bar.number, placementText(own));
    return found;
  }

  /** Offsets from the bar's start. There is no click in music without metre. */
  offsetsIn(stretch: Stretch, grid: BarGrid): readonly Beats[] {
    const { bar, barCount } = stretch;
    if (grid.metre === 'free') {
      this.free = true;
      return [];
    }
    const own = this.apart.get(bar.index);
    if (own !== undefined) return this.offsetsApart(stretch, grid, own);
    const found = this.hemiola.get(bar.index) ?? strikes(this.placement, grid, barCount);
    // The upbeat takes what falls into it and neither proves nor disproves that the placement has a meaning.
    if (barCount === null) return found ?? [];
    if (found === null) this.lacking.set(grid.metre, grid);
    else {
      this.meant++;
      const { placement } = this;
      if (placement.kind === 'value' && !F.isZero(F.modulo(grid.full, placement.value)))
        this.uneven.add(grid.metre);
      const asked = this.placement.kind === 'beats' ? this.placement.list.length : 0;
      if (found.length < asked && F.isZero(grid.shift) && !this.hemiola.has(bar.index))
        this.partly.add(grid.metre);
    }
    return found ?? fallback(grid);
  }

  /** The error where no bar of the passage has the placement. */
  refusal(): Result<never> | null {
    if (this.lacking.size === 0 || this.meant > 0) return null;
    const [grid] = this.lacking.values();
    const offers = grid === undefined ? '' : offered(grid).join(', ');
    return fail(
      'placement-lacks-metre',
      `The click placement "${placementText(this.placement)}" has no meaning in ${[...this.lacking.keys()].join(', ')}. There you can have: ${offers}.`,
    );
  }

  told(): readonly Problem[] {
    const text = placementText(this.placement);
    const assume = (code: string, message: string): Problem => problem('assumption', code, message);
    const silent = this.free && this.placement.kind !== 'none';
    return [
      ...[...this.lacking.keys()].map((metre) =>
        assume(
          'placement-lacks-metre',
          `The click placement "${text}" has no meaning in the bars of ${metre}; they are clicked on their first beat.`,
        ),
      ),
      ...[...this.partly].map((metre) =>
        assume(
          'placement-lacks-metre',
          `The bars of ${metre} have not all of the beats "${text}"; those that they have are clicked.`,
        ),
      ),
      ...[...this.uneven].map((metre) =>
        assume(
          'click-uneven',
          `A bar of ${metre} does not divide into ${text}: the click begins anew with each bar.`,
        ),
      ),
      ...[...this.apartLacking].map(([bar, own]) =>
        problem(
          'assumption',
          'placement-lacks-metre',
          `Bar ${bar} has not all of "${own}"; what it has is clicked.`,
          {
            bar,
          },
        ),
      ),
      ...(silent ? [problem('note', 'click-silent', 'Music without metre has no click.')] : []),
    ];
  }
}

/**
 * All clicks of a round, in order. Fails with
 * `placement-lacks-metre` where the placement has no meaning in any bar of the passage, telling what is offered
 * instead; where only some bars lack it, those are clicked on their first beat and a Problem names their metre.
 */
export const roundClicks = (
  round: Round,
  grids: readonly BarGrid[],
  placements: Placements,
  silences: Silences,
): Result<readonly RoundClick[]> => {
  const fitting = new Fitting(placements);
  const { isSilent, told } = silencer(silences);
  const clicks = round.bars.flatMap((entry): readonly RoundClick[] => {
    const grid = grids[entry.bar.index];
    if (grid === undefined) return [];
    if (entry.kind === 'hold') return recountClicks(entry, grid);
    const end = F.add(entry.offset, entry.length);
    return fitting
      .offsetsIn(entry, grid)
      .filter(
        (offset) => F.atMost(entry.offset, offset) && F.less(offset, end) && !isSilent(entry, grid, offset),
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
  return fitting.refusal() ?? ok(clicks, [...fitting.told(), ...told()]);
};
