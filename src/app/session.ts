/** What the page knows and does: the piece that is open, the drill that is asked for, and whether it plays. */
import type { LiveDrill, Overview, Screen, ScreenOptions } from '../desk/index.ts';
import type { ClickPlayer, MadeFile, RemoteDesk } from '../host/browser/index.ts';
import type { Problem, Result } from '../units/index.ts';
import { nothingAsked, requestOf, type Asked } from './asked.ts';

export interface Shown {
  readonly piece: Overview | null;
  readonly asked: Asked;
  readonly drill: LiveDrill | null;
  readonly screen: Screen | null;
  /** What is being waited for. */
  readonly busy: 'reading' | 'engraving' | null;
  /** Why there is no drill or no page; null where there is. */
  readonly error: Problem | null;
  /** About the drill that is shown. */
  readonly problems: readonly Problem[];
  readonly playing: 'still' | 'waiting' | 'playing';
  /** Whether something was changed since it began to play. */
  readonly changed: boolean;
  /** Seconds that a start by touch waits. */
  readonly wait: number;
  /** Whether sound can be made; null while that is not known. */
  readonly sounds: boolean | null;
}

/** Bars shown of a piece of which nothing is asked yet: as much as a page holds. */
const firstBars = 12;

/** Hz; until the loudspeaker says its own. */
const usualRate = 48_000;

export class Session {
  readonly #desk: RemoteDesk;
  readonly #changed: () => void;
  #shown: Shown = {
    piece: null,
    asked: nothingAsked,
    drill: null,
    screen: null,
    busy: 'reading',
    error: null,
    problems: [],
    playing: 'still',
    changed: false,
    wait: 3,
    sounds: null,
  };
  #player: ClickPlayer | null = null;
  #options: ScreenOptions | null = null;
  #working = false;
  #again = false;
  /** A start that waits for the drill to be worked out: seconds of silence before it. */
  #playNext: number | null = null;

  constructor(desk: RemoteDesk, changed: () => void) {
    this.#desk = desk;
    this.#changed = changed;
  }

  get shown(): Shown {
    return this.#shown;
  }

  #set(change: Partial<Shown>): void {
    this.#shown = { ...this.#shown, ...change };
    this.#changed();
  }

  /** Opens a score; `asked` is what to show of it, the beginning where it is left out. */
  async open(bytes: Uint8Array, asked?: Asked): Promise<void> {
    this.stop();
    this.#set({ busy: 'reading', error: null });
    const piece = await this.#desk('open', bytes);
    if (!piece.ok) {
      this.#set({ busy: null, error: piece.error });
      return;
    }
    const { bars } = piece.value.look;
    const last = bars[Math.min(bars.length, firstBars) - 1];
    const beginning = { ...nothingAsked, from: bars[0]?.number ?? '', to: last?.number ?? '' };
    this.#set({ piece: piece.value, asked: asked ?? beginning, drill: null, screen: null, problems: [] });
    await this.#refresh();
  }

  /** Says why a score could not be opened. */
  refuse(error: Problem): void {
    this.#set({ error });
  }

  ask(change: Partial<Asked>): void {
    const asked = { ...this.#shown.asked, ...change };
    const playing = this.#shown.playing !== 'still';
    this.#set({ asked, changed: playing });
    if (!playing) void this.#refresh();
  }

  waitFor(seconds: number): void {
    this.#set({ wait: seconds });
  }

  /** The size in which the page is to be engraved. */
  fit(options: ScreenOptions): void {
    const before = this.#options;
    if (before?.staff === options.staff && before.width === options.width) return;
    this.#options = options;
    if (this.#shown.piece !== null && this.#shown.playing === 'still') void this.#refresh();
  }

  /** Takes the loudspeaker, or learns that there is none. */
  hear(player: Result<ClickPlayer>): void {
    this.#player = player.ok ? player.value : null;
    this.#set({ sounds: player.ok, ...(player.ok ? {} : { error: player.error }) });
    if (player.ok && player.value.sampleRate !== usualRate) void this.#refresh();
  }

  /** Only the last wish is worked on: what was asked for in between is never made. */
  async #refresh(): Promise<void> {
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
    this.#set({ busy: null });
    const wait = this.#playNext;
    this.#playNext = null;
    if (wait !== null) this.play(wait);
  }

  #wanted(): boolean {
    return this.#again;
  }

  async #work(): Promise<void> {
    const rate = this.#player?.sampleRate ?? usualRate;
    this.#set({ busy: 'engraving' });
    const drill = await this.#desk('drill', { texts: requestOf(this.#shown.asked), rate });
    if (this.#wanted()) return;
    if (!drill.ok) {
      this.#set({ drill: null, error: drill.error, problems: [] });
      return;
    }
    this.#set({ drill: drill.value, error: null, problems: drill.problems });
    if (this.#options === null) return;
    const screen = await this.#desk('screen', this.#options);
    if (this.#wanted()) return;
    if (screen.ok) this.#set({ screen: screen.value, problems: [...drill.problems, ...screen.problems] });
    else this.#set({ screen: null, error: screen.error });
  }

  /** Plays after so many seconds of silence; where the drill is still being worked out, once it is. */
  play(wait: number): void {
    const { drill, playing } = this.#shown;
    if (this.#player === null || playing !== 'still') return;
    if (this.#working) {
      this.#player.wake();
      this.#playNext = wait;
      return;
    }
    if (drill === null) return;
    this.#player.play(drill.sound, wait);
    this.#set({ playing: wait > 0 ? 'waiting' : 'playing' });
  }

  stop(): void {
    this.#playNext = null;
    if (this.#shown.playing !== 'still') this.#player?.stop();
  }

  /** Told by the loudspeaker when all is played or a stop has faded out. */
  ended(): void {
    const { changed } = this.#shown;
    this.#set({ playing: 'still', changed: false });
    if (changed) void this.#refresh();
  }

  wake(): void {
    this.#player?.wake();
  }

  /** Sample of the drill that is heard; null while nothing plays. */
  heard(): number | null {
    const heard = this.#player?.heard() ?? null;
    if (heard !== null && heard >= 0 && this.#shown.playing === 'waiting') this.#set({ playing: 'playing' });
    return heard;
  }

  /** A file of the drill as it stands in the margin. */
  async file(name: string): Promise<MadeFile | null> {
    const texts = requestOf(this.#shown.asked);
    const files = await this.#desk('files', { texts, names: [name], rate: usualRate });
    if (!files.ok) this.#set({ error: files.error });
    return files.ok ? (files.value[0] ?? null) : null;
  }
}
