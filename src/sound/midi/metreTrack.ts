import type { DrillBar } from '../../drill/model.ts';
import { F, problem, type Beats, type Fraction, type Problem } from '../../units/index.ts';
import { meta, rank, textEvent, type TrackEvent } from './bytes.ts';

/** What a MIDI time signature can say: one byte above, a power of two below. */
interface Signature {
  readonly numerator: number;
  /** Exponent of two. */
  readonly power: number;
}

const powerOf = (unit: bigint): number | null => {
  const power = unit.toString(2).length - 1;
  return unit === 1n << BigInt(power) && power <= 255 ? power : null;
};

/** The signature of a length, over the metre's own unit where that holds it: two quarters of 4/4 are 2/4, not 1/2. */
const signatureOf = (length: Fraction, unit: number): Signature | null => {
  const least = powerOf(length.d);
  if (least === null || length.n > 255n) return null;
  const wanted = Math.max(least, powerOf(BigInt(unit)) ?? 0);
  const numerator = Number(length.n) * 2 ** (wanted - least);
  return numerator <= 255 ? { numerator, power: wanted } : { numerator: Number(length.n), power: least };
};

/** MIDI clocks (24 to the quarter) in a beat: a dotted one in compound time. */
const clocks = ({ numerator, power }: Signature): number => {
  const unit = 96 / 2 ** power;
  const compound = power >= 3 && numerator > 3 && numerator % 3 === 0;
  return Math.max(1, Math.min(255, Math.round(compound ? 3 * unit : unit)));
};

const markerOf = ({ kind, number }: DrillBar): string =>
  kind === 'count-in' ? 'count-in' : kind === 'gap' ? 'rest' : (number ?? '');

/** Time signatures wherever they change, and the printed number of each bar as a marker. */
export const metreEvents = (
  bars: readonly DrillBar[],
  tick: (at: Beats) => number,
): { readonly events: readonly TrackEvent[]; readonly problems: readonly Problem[] } => {
  const events: TrackEvent[] = [];
  const summed = new Set<string>();
  const unsaid = new Set<string>();
  let running = '';
  for (const bar of bars) {
    const at = tick(bar.start);
    const { components } = bar.metre;
    const name = bar.number ?? markerOf(bar);
    const signature = signatureOf(bar.length, Math.max(1, ...components.map(({ unit }) => unit)));
    const additive = components.length > 1 || components.some(({ numerators }) => numerators.length > 1);
    if (signature === null) unsaid.add(name);
    else if (additive) summed.add(name);
    const said = signature === null ? '' : `${signature.numerator}/${signature.power}`;
    if (signature !== null && said !== running) {
      const bytes = [signature.numerator, signature.power, clocks(signature), 8];
      events.push({ tick: at, rank: rank.metre, bytes: meta(0x58, bytes) });
    }
    running = said;
    const marker = markerOf(bar);
    if (marker !== '') events.push({ tick: at, rank: rank.text, bytes: textEvent(0x06, marker) });
  }
  const list = (names: ReadonlySet<string>) => {
    const shown = [...names].slice(0, 5).join(', ');
    return names.size > 5 ? `${shown} and ${names.size - 5} more` : shown;
  };
  const problems: Problem[] = [];
  if (summed.size > 0)
    problems.push(
      problem(
        'note',
        'midi-metre-summed',
        `MIDI writes one figure over one: the groups of the metre are summed in bars ${list(summed)} (3+2/8 is 5/8 there).`,
      ),
    );
  if (unsaid.size > 0)
    problems.push(
      problem(
        'note',
        'midi-metre-left-out',
        `MIDI has no time signature for the length of bars ${list(unsaid)}; bar lines of other programs do not fit there.`,
      ),
    );
  return { events, problems };
};

/** Length that the bars fill, from 0. */
export const barsEnd = (bars: readonly DrillBar[]): Fraction => {
  const last = bars.at(-1);
  return last === undefined ? F.zero : F.add(last.start, last.length);
};
