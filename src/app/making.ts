/** Makes what the margin asks for: first the drill, then the beginning of its page, then the places where the parts depend on each other. */
import type { LiveDrill, Overview, RequestTexts, Screen, ScreenOptions } from '../desk/index.ts';
import type { RemoteDesk } from '../host/browser/index.ts';
import type { Problem, Result } from '../units/index.ts';
import { requestOf } from './asked.ts';
import type { BarRange } from './barNames.ts';
import type { Playback } from './playback.ts';
import type { Shown } from './shown.ts';
import type { Language } from './words/language.ts';
import { pageStretches, Writing } from './written.ts';

/** What the rest of the page tells of itself. */
interface Around {
  readonly shown: () => Shown;
  readonly set: (change: Partial<Shown>) => void;
  /** The size in which the page is engraved; null while it is not known. */
  readonly options: () => ScreenOptions | null;
  /** In which counts are spoken; null: they are clicked. */
  readonly spoken: () => Language | null;
}

export class Making {
  readonly #desk: RemoteDesk;
  readonly #playback: Playback;
  readonly #around: Around;
  /** The piece that `places` are of. */
  #placesOf: Overview | null = null;
  #working = false;
  /** Whether all that is worked on is the places: the drill is there. */
  #pencilling = false;
  #again = false;

  constructor(desk: RemoteDesk, playback: Playback, around: Around) {
    this.#desk = desk;
    this.#playback = playback;
    this.#around = around;
  }

  /** Whether a drill is being worked out. */
  get working(): boolean {
    return this.#working && (this.#again || !this.#pencilling);
  }

  /** The desk does not know the places any more. */
  forgetPlaces(): void {
    this.#placesOf = null;
  }

  get #shown(): Shown {
    return this.#around.shown();
  }

  /** Only the last wish is worked on: what was asked for in between is never made. */
  async refresh(): Promise<void> {
    if (this.#shown.piece === null) return;
    if (this.#working) {
      this.#again = true;
      return;
    }
    this.#working = true;
    do {
      this.#again = false;
      await this.#work();
    } while (this.#wanted());
    this.#working = false;
    this.#around.set({ busy: null });
    this.#playback.ready();
  }

  #wanted(): boolean {
    return this.#again;
  }

  async #work(): Promise<void> {
    const { rate } = this.#playback;
    const { asked, sound } = this.#shown;
    // Where other settings are read, the places before stand until those of now are found.
    this.#around.set({ busy: 'drill' });
    const options = {
      parts: sound.parts,
      reference: Number(sound.pitch.replace(',', '.')),
      spoken: this.#around.spoken(),
    };
    const texts = requestOf(asked);
    const drill = await this.#desk('drill', { texts, rate, sound: options });
    if (this.#wanted()) return;
    if (!drill.ok) {
      this.#refuse(drill.error);
      return;
    }
    this.#around.set({ error: null, busy: 'engraving' });
    const size = this.#around.options();
    const page = size === null ? null : this.#pageOf(drill.value, texts, size);
    await page?.writing.look([0]);
    if (this.#wanted()) {
      page?.writing.leave();
      return;
    }
    const screen = page?.writing.shown ?? null;
    const failed = screen?.stretches[0]?.error ?? null;
    if (failed !== null) this.#around.set({ error: failed });
    this.#playback.take({
      drill: drill.value,
      screen: failed === null ? screen : null,
      problems: [...drill.problems, ...(page?.problems ?? [])],
    });
    await this.#pencilPlaces(page?.writing ?? null);
  }

  /** The page of a drill, of which nothing is engraved yet, and the remarks on its beginning, once that is. */
  #pageOf(
    drill: LiveDrill,
    texts: RequestTexts,
    options: ScreenOptions,
  ): { readonly writing: Writing; readonly problems: readonly Problem[] } {
    let problems: readonly Problem[] = [];
    const engrave = async (bars: BarRange): Promise<Result<Screen>> => {
      const made = await this.#desk('screen', { ...bars, texts, options });
      if (made.ok && bars.first === 0) problems = made.problems;
      return made;
    };
    const writing = new Writing(engrave, pageStretches(drill.pageBars.length), (screen) =>
      this.#playback.redrawn(drill, screen),
    );
    return {
      writing,
      get problems() {
        return problems;
      },
    };
  }

  /**
   * Finds the places of a piece, once, and draws the page anew with them: in a long score that takes longer than the page, and
   * neither it nor a start waits for them.
   */
  async #pencilPlaces(page: Writing | null): Promise<void> {
    if (this.#shown.piece === this.#placesOf || page === null) return;
    this.#pencilling = true;
    this.#around.set({ busy: 'places' });
    this.#playback.ready();
    await this.#findPlaces();
    if (!this.#wanted()) await page.renew();
    this.#pencilling = false;
  }

  /** Finds the places of a piece, once; where none can be found the page is as good without. */
  async #findPlaces(): Promise<void> {
    const { piece } = this.#shown;
    const found = await this.#desk('places', null);
    if (piece !== this.#shown.piece) return;
    if (found.ok) this.#placesOf = piece;
    this.#around.set({ places: found.ok ? found.value : [] });
  }

  #refuse(error: Problem): void {
    if (error.code === 'stopped') return;
    this.#playback.forget();
    // What plays goes on as it is.
    if (this.#shown.playing === 'still') this.#around.set({ drill: null, error, problems: [] });
    else this.#around.set({ error, changed: null, coming: null });
  }
}
