/** Many bars of music, engraved a stretch at a time and only where one looks: all bars of a piece, or a drill's page. */
import type { Screen } from '../desk/index.ts';
import type { Problem, Result } from '../units/index.ts';
import type { BarRange } from './barNames.ts';

/** Bars in a row that are engraved together, by their place among all. */
export interface Stretch extends BarRange {
  /** Null until it is engraved. */
  readonly screen: Screen | null;
  /** Why it could not be; null where it was not tried or could. */
  readonly error: Problem | null;
}

export interface Written {
  readonly stretches: readonly Stretch[];
  /** What is being engraved; null: nothing is. */
  readonly writing: BarRange | null;
  /** Bars that are engraved, of how many. */
  readonly written: number;
  readonly count: number;
  /** Tells which stretches are looked at, from the top: of all else nothing is engraved. */
  readonly look: (stretches: readonly number[]) => void;
}

/** Bars that are engraved at once: two systems or so of a quartet, less than a second's work. */
const stretchBars = 12;

/** A page of so many bars is engraved in one go: seams between stretches, which cut slurs and ties, are not worth it. */
const atOnce = 32;

/** A last system whose bars end left of this share of the width is given to the next stretch. */
const full = 0.85;

export const stretchesOf = (count: number, size: number = stretchBars): readonly Stretch[] =>
  Array.from({ length: Math.ceil(count / size) }, (_, i) => ({
    first: i * size,
    last: Math.min(count, (i + 1) * size) - 1,
    screen: null,
    error: null,
  }));

/** The stretches of a drill's page of so many bars. */
export const pageStretches = (count: number): readonly Stretch[] =>
  stretchesOf(count, count <= atOnce ? Math.max(1, count) : stretchBars);

/**
 * An engraved stretch put among the others. Where its last system is half empty and what follows is not engraved yet, the
 * bars of that system go there.
 */
const withScreen = (stretches: readonly Stretch[], at: number, screen: Screen): readonly Stretch[] => {
  const next = stretches[at + 1];
  const last = screen.systems.at(-1);
  const right = last?.bars.at(-1)?.right ?? Infinity;
  const bars = last?.bars.length ?? 0;
  const ragged = screen.systems.length > 1 && last !== undefined && right < full * last.width;
  const gives = ragged && next?.screen === null && bars > 0;
  return stretches.map((stretch, i) => {
    if (i === at)
      return gives
        ? {
            ...stretch,
            last: stretch.last - bars,
            screen: { ...screen, systems: screen.systems.slice(0, -1) },
            error: null,
          }
        : { ...stretch, screen, error: null };
    return i === at + 1 && gives ? { ...stretch, first: stretch.first - bars } : stretch;
  });
};

/** The stretches from the beginning that are engraved without a gap. */
export const writtenFromStart = ({ stretches }: Written): readonly Stretch[] => {
  const gap = stretches.findIndex(({ screen }) => screen === null);
  return gap < 0 ? stretches : stretches.slice(0, gap);
};

/** Everything that is engraved, in order. */
export const screensOf = ({ stretches }: Written): readonly Screen[] =>
  stretches.flatMap(({ screen }) => (screen === null ? [] : [screen]));

export class Writing {
  readonly #engrave: (bars: BarRange) => Promise<Result<Screen>>;
  readonly #changed: (written: Written) => void;
  readonly #count: number;
  readonly #look = (at: readonly number[]): void => void this.look(at);
  #stretches: readonly Stretch[];
  /** Engraved ones that are to be engraved anew; until then they are shown as they are. */
  #old: ReadonlySet<number> = new Set();
  #wanted: readonly number[] = [];
  #writing: number | null = null;
  #work: Promise<void> = Promise.resolve();
  #busy = false;
  #left = false;

  constructor(
    engrave: (bars: BarRange) => Promise<Result<Screen>>,
    stretches: readonly Stretch[],
    changed: (written: Written) => void,
  ) {
    this.#engrave = engrave;
    this.#changed = changed;
    this.#stretches = stretches;
    this.#count = (stretches.at(-1)?.last ?? -1) + 1;
  }

  get shown(): Written {
    const written = this.#stretches.reduce(
      (sum, { first, last, screen }) => sum + (screen === null ? 0 : last - first + 1),
      0,
    );
    const writing = this.#writing === null ? null : (this.#stretches[this.#writing] ?? null);
    return { stretches: this.#stretches, writing, written, count: this.#count, look: this.#look };
  }

  /** What is looked at, from the top; done when all of it is engraved. */
  look(at: readonly number[]): Promise<void> {
    this.#wanted = at;
    if (!this.#busy && this.#next() !== null) {
      this.#busy = true;
      // Not at once: whoever asks may be in the middle of drawing the page.
      this.#work = Promise.resolve().then(() => this.#write());
    }
    return this.#work;
  }

  /** Engraves anew what is looked at, and the rest when it is looked at again. */
  renew(): Promise<void> {
    this.#old = new Set(this.#stretches.flatMap(({ screen }, i) => (screen === null ? [] : [i])));
    return this.look(this.#wanted);
  }

  /** Nobody looks any more. What is being engraved is the last. */
  leave(): void {
    this.#left = true;
    this.#wanted = [];
  }

  async #write(): Promise<void> {
    for (let at = this.#next(); at !== null; at = this.#next()) {
      const stretch = this.#stretches[at];
      if (stretch === undefined) break;
      this.#writing = at;
      this.#changed(this.shown);
      const { first, last } = stretch;
      const made = await this.#engrave({ first, last });
      this.#writing = null;
      if (this.#left) break;
      this.#old = new Set([...this.#old].filter((one) => one !== at));
      // What could not be engraved anew stays as it was.
      this.#stretches = made.ok
        ? withScreen(this.#stretches, at, made.value)
        : this.#stretches.map((one, i) =>
            i === at && one.screen === null ? { ...one, error: made.error } : one,
          );
    }
    this.#busy = false;
    if (!this.#left) this.#changed(this.shown);
  }

  #next(): number | null {
    return (
      this.#wanted.find((at) => {
        const stretch = this.#stretches[at];
        return (stretch?.screen === null && stretch.error === null) || this.#old.has(at);
      }) ?? null
    );
  }
}
