/** What the page knows and does: the piece that is open, the drill that is asked for, and whether it plays. */
import {
  asInScore,
  type DrillSummary,
  type ListedPlace,
  type LiveDrill,
  type Overview,
  type PieceSettings,
  type Screen,
  type ScreenOptions,
} from '../desk/index.ts';
import type { MadeFile, Player, RemoteDesk } from '../host/browser/index.ts';
import type { Problem, Result } from '../units/index.ts';
import { nothingAsked, requestOf, type Asked } from './asked.ts';
import { balanceOf, soundOf, usualSound, type SoundSettings } from './soundSettings.ts';
import { stepped } from './tempoScale.ts';
import { atNextBar, atNextTime, type Switch } from './switching.ts';

export interface Shown {
  readonly piece: Overview | null;
  readonly asked: Asked;
  readonly drill: LiveDrill | null;
  readonly screen: Screen | null;
  /** Where the parts depend on each other, heaviest first; empty until they are found. */
  readonly places: readonly ListedPlace[];
  /** What is being waited for. */
  readonly busy: 'reading' | 'engraving' | null;
  /** Why there is no drill or no page; null where there is. */
  readonly error: Problem | null;
  /** About the drill that is shown. */
  readonly problems: readonly Problem[];
  readonly playing: 'still' | 'waiting' | 'playing';
  /**
   * When what was changed while it plays will count: at the next time through, at the next bar, or only at the next start;
   * null where nothing was changed.
   */
  readonly changed: 'time' | 'bar' | 'start' | null;
  /** Of the drill that waits for its place; null where none does. */
  readonly coming: DrillSummary | null;
  readonly sound: SoundSettings;
  /** Whether the music stands alone on the whole screen. */
  readonly stand: boolean;
  /** Seconds that a start by touch waits. */
  readonly wait: number;
  /** Whether sound can be made; null while that is not known. */
  readonly sounds: boolean | null;
}

/** A drill with its page. */
type Made = Pick<Shown, 'drill' | 'screen' | 'problems'>;

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
    places: [],
    busy: 'reading',
    error: null,
    problems: [],
    playing: 'still',
    changed: null,
    coming: null,
    sound: usualSound,
    stand: false,
    wait: 3,
    sounds: null,
  };
  #player: Player | null = null;
  /** What was asked for while another drill plays. */
  #pending: Made | null = null;
  /** Whether a change is wanted at the next bar already. */
  #atBar = false;
  #options: ScreenOptions | null = null;
  /** The piece that `places` are of. */
  #placesOf: Overview | null = null;
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

  /**
   * Opens a score, with what an ensemble has set for it; `asked` is what to show of it, the beginning where it is left out.
   * Done when the score is read.
   */
  async open(
    bytes: Uint8Array,
    asked?: Asked,
    settings: PieceSettings = asInScore,
  ): Promise<Result<Overview>> {
    this.stop();
    this.#set({ busy: 'reading', error: null });
    const piece = await this.#desk('open', { bytes, settings });
    if (!piece.ok) {
      this.#set({ busy: null, error: piece.error });
      return piece;
    }
    const { bars } = piece.value.look;
    const last = bars[Math.min(bars.length, firstBars) - 1];
    const beginning = { ...nothingAsked, from: bars[0]?.number ?? '', to: last?.number ?? '' };
    this.#set({ piece: piece.value, asked: asked ?? beginning, drill: null, screen: null, problems: [] });
    void this.#refresh();
    return piece;
  }

  /** Reads the score that is open once more with other settings; the bars that are asked for stay the same bars. */
  async fitTo(settings: PieceSettings): Promise<Result<Overview>> {
    const piece = await this.#desk('settings', settings);
    if (!piece.ok) {
      this.#set({ error: piece.error });
      return piece;
    }
    const { asked, piece: before } = this.#shown;
    this.#set({ piece: piece.value });
    const renumbered = (number: string): string => {
      const at = before?.look.bars.findIndex((bar) => bar.number === number.trim()) ?? -1;
      return piece.value.look.bars[at]?.number ?? number;
    };
    this.ask({ from: renumbered(asked.from), to: renumbered(asked.to) });
    return piece;
  }

  /** Says why a score could not be opened. */
  refuse(error: Problem): void {
    this.#set({ error });
  }

  ask(change: Partial<Asked>): void {
    this.#set({ asked: { ...this.#shown.asked, ...change } });
    if (this.#shown.playing !== 'still') this.#set({ changed: 'time' });
    void this.#refresh();
  }

  /** Loudness counts at once, all else with the next drill. */
  soundAs(change: Partial<SoundSettings>): void {
    const sound = { ...this.#shown.sound, ...change };
    const anew = sound.parts !== this.#shown.sound.parts || sound.pitch !== this.#shown.sound.pitch;
    this.#set({ sound });
    this.#balance();
    if (!anew) return;
    if (this.#shown.playing !== 'still') this.#set({ changed: 'time' });
    void this.#refresh();
  }

  /** One mark slower or faster. */
  tempoBy(by: 1 | -1): void {
    const drill = this.#pending?.drill ?? this.#shown.drill;
    if (drill !== null) this.ask({ tempo: stepped(drill, by) });
  }

  putOnStand(stand: boolean): void {
    this.#set({ stand });
  }

  /** What was changed while it plays is to count from the next bar on. */
  changeAtBar(): void {
    this.#atBar = true;
    this.#goOver();
  }

  /** Bars of a place, as a drill names them: "10-17", "@3-@5". */
  goTo(bars: string): void {
    const [from = '', to = from] = bars.split('-');
    this.ask({ from, to });
  }

  waitFor(seconds: number): void {
    this.#set({ wait: seconds });
  }

  /** The size, and the words, in which the page is to be engraved. */
  fit(options: ScreenOptions): void {
    const before = this.#options;
    if (before?.staff === options.staff && before.width === options.width && before.words === options.words)
      return;
    this.#options = options;
    if (this.#shown.piece !== null && this.#shown.playing === 'still') void this.#refresh();
  }

  /** Takes the loudspeaker, or learns that there is none. */
  hear(player: Result<Player>): void {
    this.#player = player.ok ? player.value : null;
    this.#set({ sounds: player.ok, ...(player.ok ? {} : { error: player.error }) });
    if (player.ok) void this.#refresh();
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
    const { asked, sound } = this.#shown;
    this.#set({ busy: 'engraving' });
    const options = { parts: sound.parts, reference: Number(sound.pitch.replace(',', '.')) };
    const drill = await this.#desk('drill', { texts: requestOf(asked), rate, sound: options });
    if (this.#wanted()) return;
    if (!drill.ok) {
      this.#refuseDrill(drill.error);
      return;
    }
    this.#set({ error: null });
    await this.#findPlaces();
    const screen = this.#options === null ? null : await this.#desk('screen', this.#options);
    if (this.#wanted()) return;
    if (screen?.ok === false) this.#set({ error: screen.error });
    this.#take({
      drill: drill.value,
      screen: screen?.ok === true ? screen.value : null,
      problems: [...drill.problems, ...(screen?.ok === true ? screen.problems : [])],
    });
  }

  /** Finds the places of a piece, once; where none can be found the page is as good without. */
  async #findPlaces(): Promise<void> {
    const { piece } = this.#shown;
    if (piece === this.#placesOf) return;
    this.#set({ places: [] });
    const found = await this.#desk('places', null);
    if (!found.ok || piece !== this.#shown.piece) return;
    this.#placesOf = piece;
    this.#set({ places: found.value });
  }

  #refuseDrill(error: Problem): void {
    this.#pending = null;
    // What plays goes on as it is.
    if (this.#shown.playing === 'still') this.#set({ drill: null, error, problems: [] });
    else this.#set({ error, changed: null, coming: null });
  }

  /** Shows what was made; while another drill plays, when that one is left. */
  #take(made: Made): void {
    if (this.#shown.playing !== 'still' && this.#shown.drill !== null) {
      this.#pending = made;
      this.#set({ coming: made.drill?.summary ?? null });
      this.#goOver();
      return;
    }
    this.#adopt(made);
  }

  #adopt(made: Made): void {
    this.#pending = null;
    this.#atBar = false;
    this.#set({ ...made, changed: null, coming: null });
    this.#load();
  }

  /** Has the loudspeaker ready for the drill that is shown. */
  #load(): void {
    const { drill } = this.#shown;
    if (drill === null) return;
    this.#player?.load({ clicks: drill.sound, parts: drill.parts });
    this.#balance();
  }

  #balance(): void {
    const { sound, drill } = this.#shown;
    this.#player?.balance(balanceOf(sound, drill?.parts?.ids ?? []));
  }

  /** Tells the loudspeaker where the drill that plays is to be left for the one that was asked for. */
  #goOver(): void {
    const { drill: now } = this.#shown;
    const next = this.#pending?.drill ?? null;
    if (now === null || next === null || this.#player === null) return;
    const place = this.#placeToGoOver(now, next, this.#player);
    this.#set({ changed: place === null ? 'start' : this.#atBar ? 'bar' : 'time' });
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
    const made = this.#pending;
    if (made === null) return;
    this.#pending = null;
    this.#atBar = false;
    this.#set({ ...made, changed: null, coming: null });
    this.#load();
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
    this.#player.play(wait);
    this.#set({ playing: wait > 0 ? 'waiting' : 'playing' });
  }

  stop(): void {
    this.#playNext = null;
    if (this.#shown.playing !== 'still') this.#player?.stop();
  }

  /** Told by the loudspeaker when all is played or a stop has faded out. */
  ended(): void {
    const made = this.#pending;
    this.#set({ playing: 'still' });
    if (made !== null) this.#adopt(made);
    else this.#set({ changed: null });
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
    if (heard !== null && heard >= 0 && this.#shown.playing === 'waiting') this.#set({ playing: 'playing' });
    return heard;
  }

  /** A file of the drill as it stands in the margin. */
  async file(name: string): Promise<MadeFile | null> {
    const texts = requestOf(this.#shown.asked);
    const { sound: settings, piece } = this.#shown;
    const sound = soundOf(settings, piece?.look.parts.map(({ id }) => id) ?? []);
    const files = await this.#desk('files', { texts, names: [name], sound });
    if (!files.ok) {
      this.#set({ error: files.error });
      return null;
    }
    const { problems } = this.#shown;
    const told = new Set(problems.map(({ message }) => message));
    this.#set({ problems: [...problems, ...files.problems.filter(({ message }) => !told.has(message))] });
    return files.value[0] ?? null;
  }
}
