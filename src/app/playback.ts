/** What plays: the drill that is heard, and the one that was asked for meanwhile and waits for its place. */
import type { LiveDrill } from '../desk/index.ts';
import type { Player } from '../host/browser/index.ts';
import type { Result } from '../units/index.ts';
import type { Made, Shown } from './shown.ts';
import { balanceOf } from './soundSettings.ts';
import { atNextBar, atNextTime, type Switch } from './switching.ts';
import type { Written } from './written.ts';

/** What the rest of the page tells of itself. */
interface Around {
  readonly shown: () => Shown;
  readonly set: (change: Partial<Shown>) => void;
  /** Whether a drill is being worked out. */
  readonly working: () => boolean;
}

/** Hz; until the loudspeaker says its own. */
const usualRate = 48_000;

export class Playback {
  readonly #around: Around;
  #player: Player | null = null;
  /** What was asked for while another drill plays. */
  #pending: Made | null = null;
  /** Whether a change is wanted at the next bar already. */
  #atBar = false;
  /** A start that waits for the drill to be worked out: seconds of silence before it. */
  #next: number | null = null;

  constructor(around: Around) {
    this.#around = around;
  }

  get #shown(): Shown {
    return this.#around.shown();
  }

  get rate(): number {
    return this.#player?.sampleRate ?? usualRate;
  }

  /** The drill that was asked for last. */
  get latest(): LiveDrill | null {
    return this.#pending?.drill ?? this.#shown.drill;
  }

  /** Takes the loudspeaker, or learns that there is none. */
  hear(player: Result<Player>): void {
    this.#player = player.ok ? player.value : null;
    this.#around.set({ sounds: player.ok, ...(player.ok ? {} : { error: player.error }) });
  }

  /** Nothing that was asked for can be had. */
  forget(): void {
    this.#pending = null;
  }

  /** Shows what was made; while another drill plays, when that one is left. */
  take(made: Made): void {
    if (this.#shown.playing !== 'still' && this.#shown.drill !== null) {
      this.#pending = made;
      this.#around.set({ coming: made.drill?.summary ?? null });
      this.#goOver();
      return;
    }
    this.#adopt(made);
  }

  /** More of the page of a drill that was taken, or some of it drawn anew. */
  redrawn(drill: LiveDrill, screen: Written): void {
    if (this.#pending?.drill === drill) this.#pending = { ...this.#pending, screen };
    else if (this.#shown.drill === drill) this.#around.set({ screen });
  }

  #adopt(made: Made): void {
    this.#pending = null;
    this.#atBar = false;
    this.#around.set({ ...made, changed: null, coming: null });
    this.#load();
  }

  /** Has the loudspeaker ready for the drill that is shown. */
  #load(): void {
    const { drill } = this.#shown;
    if (drill === null) return;
    this.#player?.load({ clicks: drill.sound, parts: drill.parts });
    this.balance();
  }

  balance(): void {
    const { sound, drill } = this.#shown;
    this.#player?.balance(balanceOf(sound, drill?.parts?.ids ?? []));
  }

  /** What was changed while it plays is to count from the next bar on. */
  changeAtBar(): void {
    this.#atBar = true;
    this.#goOver();
  }

  /** Tells the loudspeaker where the drill that plays is to be left for the one that was asked for. */
  #goOver(): void {
    const { drill: now } = this.#shown;
    const next = this.#pending?.drill ?? null;
    if (now === null || next === null || this.#player === null) return;
    const place = this.#placeToGoOver(now, next, this.#player);
    this.#around.set({ changed: place === null ? 'start' : this.#atBar ? 'bar' : 'time' });
    if (place !== null) this.#player.then({ clicks: next.sound, parts: next.parts }, place.at, place.from);
  }

  #placeToGoOver(now: LiveDrill, next: LiveDrill, { heard, sampleRate }: Player): Switch | null {
    const at = heard() ?? 0;
    return this.#atBar
      ? atNextBar(now.marks, next.marks, at, sampleRate)
      : atNextTime(now.marks, at, sampleRate);
  }

  /** Told by the loudspeaker when the drill that was asked for has taken over. */
  tookOver(): void {
    if (this.#pending !== null) this.#adopt(this.#pending);
  }

  /** Plays after so many seconds of silence; where the drill is still being worked out, once it is. */
  play(wait: number): void {
    const { drill, playing } = this.#shown;
    if (this.#player === null || playing !== 'still') return;
    if (this.#around.working()) {
      this.#player.wake();
      this.#next = wait;
      return;
    }
    if (drill === null) return;
    this.#player.play(wait);
    this.#around.set({ playing: wait > 0 ? 'waiting' : 'playing' });
  }

  /** Told when nothing is worked on any more: a start that waited for it begins. */
  ready(): void {
    const wait = this.#next;
    this.#next = null;
    if (wait !== null) this.play(wait);
  }

  stop(): void {
    this.#next = null;
    if (this.#shown.playing !== 'still') this.#player?.stop();
  }

  /** Told by the loudspeaker when all is played or a stop has faded out. */
  ended(): void {
    const made = this.#pending;
    this.#around.set({ playing: 'still' });
    if (made !== null) this.#adopt(made);
    else this.#around.set({ changed: null });
  }

  /** Once more from the beginning, at once. */
  again(): void {
    if (this.#shown.playing === 'still') {
      this.play(0);
      return;
    }
    // What was changed meanwhile counts with the new start.
    if (this.#pending !== null) this.#adopt(this.#pending);
    this.#player?.play(0);
  }

  wake(): void {
    this.#player?.wake();
  }

  /** Sample of the drill that is heard; null while nothing plays. */
  heard(): number | null {
    const heard = this.#player?.heard() ?? null;
    if (heard !== null && heard >= 0 && this.#shown.playing === 'waiting')
      this.#around.set({ playing: 'playing' });
    return heard;
  }
}
