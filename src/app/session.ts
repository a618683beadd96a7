/** What the page knows and does: the piece that is open, the drill that is asked for, and what is made of it. */
import {
  asInScore,
  type ListedPlace,
  type Marking,
  type Overview,
  type PieceSettings,
  type ScreenOptions,
} from '../desk/index.ts';
import type { Desk, MadeFile, Player, RemoteDesk } from '../host/browser/index.ts';
import type { Problem, Result } from '../units/index.ts';
import { everywhereAsked, nothingAsked, renumbered, requestOf, type Asked } from './asked.ts';
import { askedRange, rangeAsked, type BarRange } from './barNames.ts';
import { Making } from './making.ts';
import { markChanges, marked, noMarks, type MarkChange, type Marks, type Step } from './marked.ts';
import { nextPlace } from './nextPlace.ts';
import { changedFrom, mapped, noPast, stepBack, stepOn, type Past } from './past.ts';
import { Playback } from './playback.ts';
import { nothingShown, type Shown } from './shown.ts';
import { soundOf, usualSound, type SoundSettings } from './soundSettings.ts';
import { Pacing } from './tempoScale.ts';
import { Touches } from './touches.ts';
import type { Language } from './words/language.ts';
import { stretchesOf, Writing } from './written.ts';

export type { Shown } from './shown.ts';

/** Bars shown of a piece of which nothing is asked yet: as much as a page holds. */
const firstBars = 12;

export class Session {
  /** What plays. */
  readonly playback: Playback;
  /** What a touch on the music does. */
  readonly touches: Touches;
  readonly #desk: RemoteDesk;
  readonly #stopDesk: () => void;
  readonly #making: Making;
  readonly #changed: () => void;
  #shown: Shown = nothingShown;
  #past: Past<Step> = noPast;
  #marks: Marks = noMarks;
  /** Told which markings are others from now on. */
  #keepMarks: (changes: readonly MarkChange[]) => void = () => undefined;
  #whole: Writing | null = null;
  /** What the desk holds; null: nothing yet. */
  #held: { readonly bytes: Uint8Array; readonly settings: PieceSettings } | null = null;
  #options: ScreenOptions | null = null;
  readonly #pacing = new Pacing();
  /** In which counts are spoken, and what is taken along is written. */
  #language: Language = 'en';

  constructor(desk: Desk, changed: () => void) {
    this.#desk = desk.ask;
    this.#stopDesk = desk.stop;
    this.#changed = changed;
    this.playback = new Playback({
      shown: () => this.#shown,
      set: (change) => this.#set(change),
      working: () => this.#making.working,
    });
    this.#making = new Making(desk.ask, this.playback, {
      shown: () => this.#shown,
      set: (change) => this.#set(change),
      options: () => this.#options,
      spoken: () => this.#spoken,
    });
    this.touches = new Touches(desk.ask, {
      shown: () => this.#shown,
      set: (change) => this.#set(change),
      ask: (change) => this.ask(change),
    });
  }

  get shown(): Shown {
    return this.#shown;
  }

  /** The score that is open, with what is set for it; null: none. */
  get score(): { readonly bytes: Uint8Array; readonly settings: PieceSettings } | null {
    return this.#held;
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
    sounding: { readonly sound: SoundSettings; readonly wait: number | null } = {
      sound: usualSound,
      wait: null,
    },
  ): Promise<Result<Overview>> {
    this.playback.stop();
    this.leaveWhole();
    this.#set({ busy: 'reading', error: null });
    const piece = await this.#desk('open', { bytes, settings });
    if (!piece.ok) {
      this.#set({ busy: null, error: piece.error.code === 'stopped' ? null : piece.error });
      return piece;
    }
    this.#held = { bytes, settings };
    const { bars } = piece.value.look;
    const last = bars[Math.min(bars.length, firstBars) - 1];
    const beginning = { ...nothingAsked, from: bars[0]?.number ?? '', to: last?.number ?? '' };
    this.#past = noPast;
    this.#marks = noMarks;
    this.#set({
      piece: piece.value,
      sound: sounding.sound,
      wait: sounding.wait ?? this.#shown.wait,
      asked: asked ?? beginning,
      drill: null,
      screen: null,
      places: [],
      problems: [],
      undo: { back: false, on: false },
    });
    void this.#making.refresh();
    return piece;
  }

  /** Ends the reading of a score; the one before stays. */
  async stopReading(): Promise<void> {
    if (this.#shown.busy !== 'reading') return;
    this.#stopDesk();
    this.#making.forgetPlaces();
    if (this.#held === null) return;
    const again = await this.#desk('open', this.#held);
    if (again.ok) void this.#making.refresh();
  }

  /** Reads the score that is open once more with other settings; the bars that are asked for stay the same bars. */
  async fitTo(settings: PieceSettings): Promise<Result<Overview>> {
    const piece = await this.#desk('settings', settings);
    if (!piece.ok) {
      this.#set({ error: piece.error });
      return piece;
    }
    if (this.#held !== null) this.#held = { ...this.#held, settings };
    const before = this.#shown.piece?.look.bars ?? [];
    const { bars } = piece.value.look;
    const now = (asked: Asked): Asked =>
      renumbered(asked, (number) => bars[before.findIndex((bar) => bar.number === number)]?.number ?? number);
    this.leaveWhole();
    this.#past = mapped(this.#past, (step) => ({ ...step, asked: now(step.asked) }));
    this.#set({ piece: piece.value });
    this.#ask(now(this.#shown.asked));
    return piece;
  }

  /** Says why a score could not be opened. */
  refuse(error: Problem): void {
    this.#set({ error });
  }

  /** What is asked for is changed; `undo` goes back. */
  ask(change: Partial<Asked>): void {
    const before = this.#shown.asked;
    const asked = { ...before, ...change };
    if (JSON.stringify(asked) !== JSON.stringify(before)) this.#past = changedFrom(this.#past, this.#step);
    this.#ask(asked);
  }

  /** What one would come back to from a change. */
  get #step(): Step {
    return { asked: this.#shown.asked, marks: this.#marks };
  }

  #showPast(): void {
    const { before, after } = this.#past;
    this.#set({ undo: { back: before.length > 0, on: after.length > 0 } });
  }

  #ask(asked: Asked): void {
    this.#set({ asked, touched: null });
    this.#showPast();
    if (this.#shown.playing !== 'still') this.#set({ changed: 'time' });
    void this.#making.refresh();
  }

  /** One change of what is asked for back, or on again. */
  undo(way: 'back' | 'on'): void {
    const step = (way === 'back' ? stepBack : stepOn)(this.#past, this.#step);
    if (step === null) return;
    const changes = markChanges(this.#marks, step.now.marks);
    this.#past = step.past;
    this.#marks = step.now.marks;
    if (step.now.asked === this.#shown.asked) this.#showPast();
    else this.#ask(step.now.asked);
    if (changes.length > 0) this.#keepMarks(changes);
    this.#set({ told: { way, times: (this.#shown.told?.times ?? 0) + 1 } });
  }

  /** Loudness counts at once, all else with the next drill. */
  soundAs(change: Partial<SoundSettings>): void {
    const sound = { ...this.#shown.sound, ...change };
    const { parts, pitch, count } = this.#shown.sound;
    const anew = sound.parts !== parts || sound.pitch !== pitch || sound.count !== count;
    this.#set({ sound });
    this.playback.balance();
    if (anew) this.#soundAnew();
  }

  /** The language that is spoken from now on. */
  speak(language: Language): void {
    if (language === this.#language) return;
    this.#language = language;
    if (this.#shown.sound.count === 'spoken') this.#soundAnew();
  }

  #soundAnew(): void {
    if (this.#shown.playing !== 'still') this.#set({ changed: 'time' });
    void this.#making.refresh();
  }

  /** In which counts are spoken; null: they are clicked. */
  get #spoken(): Language | null {
    return this.#shown.sound.count === 'spoken' ? this.#language : null;
  }

  /** One mark slower or faster. */
  tempoBy(by: 1 | -1): void {
    const { latest } = this.playback;
    const { tempo } = this.#shown.asked;
    if (latest !== null) this.ask({ tempo: this.#pacing.next(latest, by, tempo, this.#making.working) });
  }

  putOnStand(stand: boolean): void {
    this.#set({ stand });
  }

  /** A place: its bars, and its line where its parts share one, as its first step keeps it; else all notes. */
  goTo({ bars, steps }: Pick<ListedPlace, 'bars' | 'steps'>): void {
    const [from = '', to = from] = bars.split('-');
    this.ask({ from, to, keep: steps[0]?.keep ?? 'all' });
  }

  /** The place of the piece that comes next, or before; null where there is none. */
  placeBy(by: 1 | -1): ListedPlace | null {
    const { piece, asked, places } = this.#shown;
    const now = piece === null ? null : rangeAsked(piece.look.bars, asked);
    return now === null ? null : nextPlace(places, now.first, by);
  }

  /** These bars are the passage from now on. */
  choose(range: BarRange): void {
    const bars = this.#shown.piece?.look.bars ?? [];
    this.leaveWhole();
    this.ask(askedRange(bars, range));
  }

  /** The passage; null where it is not written by bar numbers and not worked out. */
  get passage(): BarRange | null {
    const { piece, asked, drill } = this.#shown;
    const written = rangeAsked(piece?.look.bars ?? [], asked);
    const played = drill?.marks.bars.map(({ barIndex }) => barIndex) ?? [];
    if (written !== null || played.length === 0) return written;
    return { first: Math.min(...played), last: Math.max(...played) };
  }

  /** This bar is the passage's first from now on; its last stays, where it lies behind. */
  beginAt(first: number): void {
    this.choose({ first, last: Math.max(first, this.passage?.last ?? first) });
  }

  /** Who keeps markings is told of each that is made, rubbed out, or gone back from. */
  onMarks(keep: (changes: readonly MarkChange[]) => void): void {
    this.#keepMarks = keep;
  }

  /** A marking comes (null before), goes (null after) or becomes another; `undo` goes back. */
  mark(before: Marking | null, after: Marking | null): void {
    const id = (after ?? before)?.id;
    if (id === undefined) return;
    const { past, now } = marked(this.#past, this.#step, id, before, after);
    this.#past = past;
    this.#marks = now.marks;
    this.#showPast();
    this.#keepMarks([{ id, marking: after }]);
  }

  /** What would be asked for if it clicked in every bar as in the one that was touched last; null where that is nothing new. */
  get everyBar(): Partial<Asked> | null {
    const { touched, asked, piece } = this.#shown;
    const bar = touched === null ? undefined : piece?.look.bars[touched];
    return bar === undefined || touched === null
      ? null
      : everywhereAsked(asked, { number: bar.number, index: touched });
  }

  /** Shows all bars of the piece. */
  showWhole(): void {
    const { piece } = this.#shown;
    if (piece === null || this.#options === null) return;
    this.#whole?.leave();
    const options = this.#options;
    const whole = new Writing(
      (bars) => this.#desk('stretch', { ...bars, options }),
      stretchesOf(piece.look.bars.length),
      (now) => this.#set({ whole: now }),
    );
    this.#whole = whole;
    this.#set({ whole: whole.shown });
  }

  leaveWhole(): void {
    this.#whole?.leave();
    this.#whole = null;
    if (this.#shown.whole !== null) this.#set({ whole: null });
  }

  waitFor(seconds: number): void {
    this.#set({ wait: seconds });
  }

  /** The size in which the page is to be engraved. */
  fit(options: ScreenOptions): void {
    const before = this.#options;
    if (before?.staff === options.staff && before.width === options.width && before.words === options.words)
      return;
    this.#options = options;
    if (this.#whole !== null) this.showWhole();
    if (this.#shown.piece !== null && this.#shown.playing === 'still') void this.#making.refresh();
  }

  /** Takes the loudspeaker, or learns that there is none. */
  hear(player: Result<Player>): void {
    this.playback.hear(player);
    if (player.ok) void this.#making.refresh();
  }

  /** A file of the drill as it stands in the margin. */
  async file(name: string): Promise<MadeFile | null> {
    const texts = requestOf(this.#shown.asked);
    const { sound: settings, piece } = this.#shown;
    const sound = soundOf(settings, piece?.look.parts.map(({ id }) => id) ?? []);
    const files = await this.#desk('files', {
      texts,
      names: [name],
      sound,
      spoken: this.#spoken,
      language: this.#language,
    });
    if (!files.ok) {
      this.#set({ error: files.error });
      return null;
    }
    const { problems } = this.#shown;
    const known = new Set(problems.map(({ message }) => message));
    this.#set({ problems: [...problems, ...files.problems.filter(({ message }) => !known.has(message))] });
    return files.value[0] ?? null;
  }
}
