/** All bars of a piece, engraved a stretch at a time and only where one looks. */
import type { Screen, ScreenOptions } from '../desk/index.ts';
import type { RemoteDesk } from '../host/browser/index.ts';
import type { Problem } from '../units/index.ts';
import type { BarRange } from './barNames.ts';

/** Bars in a row that are engraved together. */
export interface Stretch extends BarRange {
  /** Null until it is engraved. */
  readonly screen: Screen | null;
  /** Why it could not be; null where it was not tried or could. */
  readonly error: Problem | null;
}

export interface Whole {
  readonly stretches: readonly Stretch[];
  /** What is being engraved; null: nothing is. */
  readonly writing: BarRange | null;
  /** Bars that are engraved, of how many. */
  readonly written: number;
  readonly count: number;
}

/** Bars that are engraved at once: two systems or so of a quartet, less than a second's work. */
export const stretchBars = 12;

/** A last system whose bars end left of this share of the width is given to the next stretch. */
const full = 0.85;

export const stretchesOf = (count: number): readonly Stretch[] =>
  Array.from({ length: Math.ceil(count / stretchBars) }, (_, i) => ({
    first: i * stretchBars,
    last: Math.min(count, (i + 1) * stretchBars) - 1,
    screen: null,
    error: null,
  }));

/**
 * An engraved stretch put among the others. Where its last system is half empty and what follows is not engraved yet, the
 * bars of that system go there.
 */
export const withScreen = (stretches: readonly Stretch[], at: number, screen: Screen): readonly Stretch[] => {
  const next = stretches[at + 1];
  const last = screen.systems.at(-1);
  const right = last?.bars.at(-1)?.right ?? Infinity;
  const moved = last?.bars[0]?.barIndex;
  const ragged = screen.systems.length > 1 && last !== undefined && right < full * last.width;
  const gives = ragged && next?.screen === null && moved !== undefined;
  return stretches.map((stretch, i) => {
    if (i === at)
      return gives
        ? { ...stretch, last: moved - 1, screen: { ...screen, systems: screen.systems.slice(0, -1) } }
        : { ...stretch, screen };
    return i === at + 1 && gives ? { ...stretch, first: moved } : stretch;
  });
};

export class WholePiece {
  readonly #desk: RemoteDesk;
  readonly #changed: (whole: Whole) => void;
  readonly #options: ScreenOptions;
  readonly #count: number;
  #stretches: readonly Stretch[];
  #wanted: readonly number[] = [];
  #writing: number | null = null;
  #left = false;

  constructor(desk: RemoteDesk, count: number, options: ScreenOptions, changed: (whole: Whole) => void) {
    this.#desk = desk;
    this.#count = count;
    this.#options = options;
    this.#changed = changed;
    this.#stretches = stretchesOf(count);
  }

  get shown(): Whole {
    const written = this.#stretches.reduce(
      (sum, { first, last, screen }) => sum + (screen === null ? 0 : last - first + 1),
      0,
    );
    const writing = this.#writing === null ? null : (this.#stretches[this.#writing] ?? null);
    return { stretches: this.#stretches, writing, written, count: this.#count };
  }

  get options(): ScreenOptions {
    return this.#options;
  }

  /** What is looked at, from the top: of all else nothing is engraved. */
  look(at: readonly number[]): void {
    this.#wanted = at;
    void this.#write();
  }

  /** Nobody looks any more. What is being engraved is the last. */
  leave(): void {
    this.#left = true;
    this.#wanted = [];
  }

  async #write(): Promise<void> {
    if (this.#writing !== null) return;
    for (let at = this.#next(); at !== null; at = this.#next()) {
      const stretch = this.#stretches[at];
      if (stretch === undefined) break;
      this.#writing = at;
      this.#changed(this.shown);
      const { first, last } = stretch;
      const made = await this.#desk('stretch', { first, last, options: this.#options });
      this.#writing = null;
      if (this.#left) return;
      this.#stretches = made.ok
        ? withScreen(this.#stretches, at, made.value)
        : this.#stretches.map((one, i) => (i === at ? { ...one, error: made.error } : one));
    }
    if (!this.#left) this.#changed(this.shown);
  }

  #next(): number | null {
    return (
      this.#wanted.find((at) => {
        const stretch = this.#stretches[at];
        return stretch?.screen === null && stretch.error === null;
      }) ?? null
    );
  }
}
