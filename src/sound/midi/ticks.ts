import { F, problem, countText, type Beats, type Fraction, type Problem } from '../../units/index.ts';

/**
 * Ticks per quarter where nothing asks for more: 10080 = 2^5 x 3^2 x 5 x 7 holds 128th notes and every tuplet of 3, 5,
 * 6, 7, 9 and 10 exactly. The header has 15 bits for it.
 */
const usual = 10_080n;
const most = 32_767n;
/** The finest grid tried for what no number of ticks holds: 10080 with one more three. */
const finest = 30_240n;

const perQuarter = F.fraction(4);

/** Turns positions into ticks. */
export interface TickScale {
  readonly ticksPerQuarter: number;
  /** The tick of a position: exact wherever the file can be; else the nearest, halves up. */
  readonly tick: (at: Beats) => number;
  readonly problems: readonly Problem[];
}

/**
 * The scale on which all positions are whole ticks: 10080 to the quarter where that does it, else the smallest number
 * from 960 up that does, else 30240 with a Problem that says how many positions are rounded.
 */
export const tickScale = (positions: readonly Beats[]): TickScale => {
  const quarters = positions.map((at) => F.mul(at, perQuarter));
  const needed = F.commonDenominator(quarters);
  const fitting = needed * ((959n + needed) / needed);
  const resolution =
    usual % needed === 0n ? usual : fitting <= most ? fitting : needed <= most ? needed : finest;
  const exact = (quarter: Fraction): Fraction => F.mul(quarter, F.fraction(resolution));
  const problems: Problem[] = [];
  const rounded = quarters.filter((quarter) => exact(quarter).d !== 1n).length;
  if (rounded > 0)
    problems.push(
      problem(
        'note',
        'midi-position-rounded',
        `MIDI has no room for ${countText(rounded, 'position of this music: it is', 'positions of this music: they are')} moved by up to 1/${String(2n * resolution)} of a quarter.`,
      ),
    );
  return {
    ticksPerQuarter: Number(resolution),
    tick: (at) => Number(F.floor(F.add(exact(F.mul(at, perQuarter)), F.fraction(1, 2)))),
    problems,
  };
};
