/** Touches on the music: a beat takes a click or loses it; a marking that waits takes its place at a beat or a note. */
import type { MarkingText, ScreenNote, TouchedBeat } from '../desk/index.ts';
import type { RemoteDesk } from '../host/browser/index.ts';
import { requestOf, touchedAsked, type Asked } from './asked.ts';
import type { Placing, Shown } from './shown.ts';

/** A note on the page that was touched. */
export type TouchedNote = Pick<ScreenNote, 'part' | 'barIndex' | 'beat' | 'note'>;

/** What touches read and change. */
export interface Touchable {
  shown(): Shown;
  set(change: Partial<Shown>): void;
  ask(change: Partial<Asked>): void;
}

export class Touches {
  readonly #desk: RemoteDesk;
  readonly #page: Touchable;
  /** Told where a marking is placed. */
  #placed: (marking: MarkingText) => void = () => undefined;
  /** Touches on beats are taken one after the other: each is a change of what the one before made. */
  #beats: Promise<void> = Promise.resolve();

  constructor(desk: RemoteDesk, page: Touchable) {
    this.#desk = desk;
    this.#page = page;
  }

  /** The next touch on a beat or a note is the place of a marking; null: a beat takes a click again. */
  place(placing: Placing | null, placed: (marking: MarkingText) => void = () => undefined): void {
    this.#placed = placed;
    this.#page.set({ placing });
  }

  /** A touch on a beat: it clicks there from now on, or no longer. */
  beat(touched: TouchedBeat): void {
    const { placing } = this.#page.shown();
    if (placing !== null) {
      this.#page.set({ placing: null });
      const { barIndex: bar, beat } = touched;
      this.#placed({ ...placing, part: placing.part ?? '', bar, beat, note: '' });
      return;
    }
    this.#beats = this.#beats.then(async () => {
      const { asked } = this.#page.shown();
      const click = await this.#desk('beat', { ...touched, texts: requestOf(asked) });
      if (!click.ok) {
        this.#page.set({ error: click.error });
        return;
      }
      this.#page.ask(touchedAsked(this.#page.shown().asked, click.value));
      this.#page.set({ touched: touched.barIndex });
    });
  }

  /** A touch on a note, while a marking waits for its place. */
  note({ part, barIndex: bar, beat, note }: TouchedNote): void {
    const { placing } = this.#page.shown();
    if (placing === null) return;
    this.#page.set({ placing: null });
    const own = placing.part === null || placing.part === part;
    this.#placed({ ...placing, part: placing.part ?? part, bar, beat, note: own ? note : '' });
  }
}
