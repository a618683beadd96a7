/** Takes that are heard: the ear is asked, what it says is kept with the take, shown, and put right by the players. */
import {
  takesOf,
  type HeardMoment,
  type Performed,
  type Piece,
  type ScreenOptions,
  type ShownMark,
  type Take,
  type TakeReading,
  type TakeSound,
} from '../../desk/index.ts';
import { savedFile, type Ear, type Hearing } from '../../host/browser/index.ts';
import { problem } from '../../units/index.ts';
import type { Keeper } from '../shelf/keeping.ts';
import { bare } from '../shelf/records.ts';
import { settingsOf } from '../shelf/settings.ts';
import type { KeptTakes } from '../takes/keptTakes.ts';
import { takeName } from '../takes/takeName.ts';
import { speechIn, type Language } from '../words/index.ts';
import { away, type HeardNow } from './heardNow.ts';
import type { KeptReadings } from './keptReadings.ts';
import { notesOut, othersOf } from './ofTake.ts';
import { kindsOf, saveSounds } from './soundsAlong.ts';
import { Seating } from './seating.ts';
import { metresIn } from './seats.ts';
import { Snippet, slow } from './snippet.ts';
import { offeredRuns } from './runs.ts';
import { sourceOf } from './source.ts';

/** Where the page of a reading is looked at: the browser's way back leads from it. */
export const readingHash = '#reading';

export const momentKey = (mark: string, { rep, part }: HeardMoment, slower: boolean): string =>
  `${mark}/${rep}/${part}/${slower ? 'slow' : 'full'}`;

/** Milliseconds without a further change of the window after which the music is drawn anew. */
const patience = 300;

export class HeardTakes {
  readonly #keeper: Keeper;
  readonly #takes: KeptTakes;
  readonly #ear: Ear;
  readonly #redraw: () => void;
  readonly #language: () => Language;
  readonly #snippet: Snippet;
  /** What was heard of this and of other takes. */
  readonly kept: KeptReadings;
  /** Where the players of the take sit, what they are called and what they play. */
  readonly seating: Seating;
  #now: HeardNow = away;
  #hearing: Hearing | null = null;
  #screen: ScreenOptions | null = null;
  #drawing = 0;
  #drawnIn: Language | null = null;
  #waiting: ReturnType<typeof setTimeout> | null = null;
  #score: Uint8Array | null = null;
  #beside: TakeReading | null = null;

  constructor(
    keeper: Keeper,
    takes: KeptTakes,
    ear: Ear,
    kept: KeptReadings,
    redraw: () => void,
    language: () => Language,
  ) {
    this.#keeper = keeper;
    this.#takes = takes;
    this.#ear = ear;
    this.kept = kept;
    this.#redraw = redraw;
    this.#language = language;
    this.seating = new Seating(keeper, () => this.piece);
    this.#snippet = new Snippet(() => this.#set({ plays: this.#snippet.now }));
  }

  get now(): HeardNow {
    return this.#now;
  }

  #set(change: Partial<HeardNow>): void {
    this.#now = { ...this.#now, ...change };
    this.#redraw();
  }

  get take(): Take | null {
    return this.#takeOf(this.#now.take);
  }

  #takeOf(id: string | null): Take | null {
    const record = id === null ? undefined : this.#keeper.now.state.records.get(`take:${id}`);
    return record?.kind === 'take' ? record.value : null;
  }

  get piece(): Piece | null {
    const record = this.#keeper.now.state.records.get(`piece:${this.take?.piece ?? ''}`);
    return record?.kind === 'piece' ? record.value : null;
  }

  /** Other takes of the same bars that have been heard. */
  get others(): readonly Take[] {
    const { take } = this;
    if (take === null) return [];
    return othersOf(take, takesOf(this.#keeper.now.state.records, take.piece), this.kept.ids);
  }

  /** Shows the reading of a take; where there is none, or `anew`, it is heard first. `which`: the drill of it that is read (source.ts). */
  async open(take: Take, name: string, anew = false, which: number | null = null): Promise<void> {
    this.#leave();
    this.#takes.hush();
    this.#set({ ...away, take: take.id, stage: 'hearing', names: this.#now.names });
    if (location.hash !== readingHash) location.hash = readingHash;
    const { piece } = this;
    const score = piece === null ? null : await this.#keeper.scoreOf(piece);
    if (piece === null || score === null) {
      this.#set({
        stage: 'there',
        problem: problem(
          'error',
          'shelf-score-missing',
          'The score of this take is not on the shelf any more.',
        ),
      });
      return;
    }
    this.#score = score;
    const performed = await this.#takes.performed(take);
    if (this.#now.take !== take.id) return;
    const kept = anew ? null : await this.kept.of(take.id);
    if (this.#now.take !== take.id) return;
    if (kept === null) await this.#hear(take, piece, score, performed, name, which);
    else {
      this.#set({ kept, runs: offeredRuns(performed, kept) });
      await this.#draw();
    }
  }

  async #hear(
    take: Take,
    piece: Piece,
    score: Uint8Array,
    performed: Performed | null,
    name: string,
    which: number | null,
  ): Promise<void> {
    const settings = settingsOf(piece, this.#keeper.now.state.records);
    const fileOf = (sound: TakeSound): Promise<File | null> => this.#takes.file(sound);
    const source = await sourceOf(take, performed, settings, name, fileOf, which);
    if (this.#now.take !== take.id) return;
    if (source === null) {
      this.#set({
        stage: 'there',
        problem: problem(
          'error',
          'take-sound-missing',
          `The sound ${name} of this take is not on this device.`,
        ),
      });
      return;
    }
    const seats = Object.entries(this.seating.seats).flatMap(([part, text]): [string, number][] => {
      const metres = metresIn(text);
      return metres === null ? [] : [[part, metres]];
    });
    const hearing = this.#ear.read(
      {
        score,
        played: source.played,
        sounds: source.sounds,
        with: take.click === 'headphones' ? 'click' : null,
        distances: source.sounds.length === 1 ? Object.fromEntries(seats) : {},
      },
      (done) => this.#set({ done }),
    );
    this.#hearing = hearing;
    const heard = await hearing.answer;
    if (this.#hearing !== hearing) return;
    this.#hearing = null;
    if (!heard.ok) {
      this.#set({ stage: 'there', problem: heard.error, runs: offeredRuns(performed, source) });
      return;
    }
    const { reading, drill, settings: fitted } = heard.value;
    const kept: TakeReading = {
      format: 'levare.take-reading/1',
      take: take.id,
      settings: fitted,
      drill,
      sounds: Object.fromEntries(reading.clock.map(({ part, file }) => [part, source.ids.get(file) ?? ''])),
      cut: source.cut,
      until: source.until,
      reading,
    };
    await this.kept.keep(kept);
    this.#set({ kept, runs: offeredRuns(performed, kept) });
    await this.#draw();
  }

  /** How the music is to be engraved: by the width of the page. */
  fit(screen: ScreenOptions): void {
    if (JSON.stringify(screen) === JSON.stringify(this.#screen)) return;
    this.#screen = screen;
    if (this.#waiting !== null) clearTimeout(this.#waiting);
    this.#waiting = setTimeout(() => void this.#draw(), this.#now.shown === null ? 0 : patience);
  }

  get #names(): Readonly<Record<string, string>> {
    const parts = this.#now.kept?.reading.parts ?? [];
    return this.#now.names === 'parts'
      ? {}
      : Object.fromEntries(parts.map(({ id, name }) => [id, this.seating.playerOf(id) || name]));
  }

  /** Ids of notes that the players took out. */
  get out(): readonly string[] {
    return notesOut(this.take);
  }

  async #draw(): Promise<void> {
    const { kept, beside } = this.#now;
    if (kept === null || this.#screen === null || this.#score === null) return;
    const own = (this.#drawing += 1);
    this.#drawnIn = this.#language();
    this.#set({ stage: 'drawing' });
    const other = this.#takeOf(beside);
    const shown = await this.#ear.show({
      score: this.#score,
      drill: kept.drill,
      settings: kept.settings,
      reading: kept.reading,
      options: {
        language: this.#language(),
        screen: this.#screen,
        out: this.out,
        until: kept.until,
        names: this.#names,
        other:
          other === null || this.#beside === null
            ? null
            : {
                reading: this.#beside.reading,
                drill: this.#beside.drill,
                settings: this.#beside.settings,
                out: notesOut(other),
                until: this.#beside.until,
                name: takeName(other, speechIn(this.#language()).words),
              },
      },
    });
    if (own !== this.#drawing) return;
    if (shown.ok) this.#set({ stage: 'there', shown: shown.value });
    else this.#set({ stage: 'there', problem: shown.error });
  }

  /** Told in which language the page speaks. */
  spoken(): void {
    if (this.#now.shown !== null && this.#drawnIn !== this.#language()) void this.#draw();
  }

  callBy(names: HeardNow['names']): void {
    this.#set({ names });
    void this.#draw();
  }

  async holdBeside(take: string | null): Promise<void> {
    this.#beside = take === null ? null : await this.kept.of(take);
    this.#set({ beside: take });
    await this.#draw();
  }

  /** What the players heard; kept with the take. */
  say(said: Readonly<Record<string, string>>): void {
    const { take } = this;
    if (take !== null) this.#keeper.change(`take:${take.id}`, { said });
  }

  /** That notes, or the whole take, were not so; or were after all. The raw reading stays as it is. */
  takeOut(keys: readonly string[], out: boolean): void {
    const { take } = this;
    if (take === null) return;
    const now = Object.fromEntries(keys.map((key) => [key, out ? 'yes' : '']));
    this.#keeper.change(`take:${take.id}`, { out: now });
    if (keys.some((key) => key !== 'take')) void this.#draw();
  }

  /** Reads another of the drills that the take holds, in place of the one that was read; notes that were taken out were the other one's. */
  async readRun(which: number, name: string): Promise<void> {
    const { take } = this;
    if (take === null) return;
    const out = Object.fromEntries(notesOut(take).map((id) => [`note/${id}`, '']));
    if (Object.keys(out).length > 0) this.#keeper.change(`take:${take.id}`, { out });
    await this.open(take, name, true, which);
  }

  /** Plays two seconds around a moment of a mark; stops where it plays already. */
  async listen({ id, other }: ShownMark, moment: HeardMoment, slower: boolean): Promise<void> {
    const key = momentKey(id, moment, slower);
    if (this.#snippet.now === key) {
      this.#snippet.stop();
      return;
    }
    const kept = other ? this.#beside : this.#now.kept;
    const take = other ? this.#takeOf(this.#now.beside) : this.take;
    const sound = take?.sounds[kept?.sounds[moment.part] ?? ''];
    const file = sound === null || sound === undefined ? null : await this.#takes.file(sound);
    if (file === null || kept === null) return;
    this.#snippet.play(key, file, moment.at + kept.cut, slower ? slow : 1, () => undefined);
  }

  /** A file of the reading, as the players let it stand. */
  async along(name: string, called: string): Promise<void> {
    const { kept } = this.#now;
    if (kept === null || this.#score === null) return;
    this.#set({ making: name });
    const made = await this.#ear.files({
      score: this.#score,
      drill: kept.drill,
      settings: kept.settings,
      reading: kept.reading,
      options: { out: this.out, until: kept.until, names: this.#names, language: this.#language() },
      names: [name],
    });
    this.#set({ making: null, ...(made.ok ? {} : { problem: made.error }) });
    for (const file of made.ok ? made.value : []) savedFile(`${bare(called)}.${file.name}`, file.bytes);
  }

  /** The recordings that were read. */
  get #sounds(): readonly TakeSound[] {
    const ids = new Set(Object.values(this.#now.kept?.sounds ?? {}));
    return [...ids].flatMap((id) => this.take?.sounds[id] ?? []);
  }

  get soundKinds(): string {
    return kindsOf(this.#sounds);
  }

  /** The recordings that were read, as they are or packed. */
  async soundAlong(packed: boolean, called: string): Promise<void> {
    this.#set({ making: packed ? 'flac' : 'wav' });
    const wrong = await saveSounds(
      this.#sounds,
      called,
      (sound) => this.#takes.file(sound),
      packed ? (file) => this.#ear.flac(file) : null,
    );
    this.#set({ making: null, ...(wrong === null ? {} : { problem: wrong }) });
  }

  #leave(): void {
    this.#hearing?.stop();
    this.#hearing = null;
    this.#drawing += 1;
    this.#beside = null;
    this.#snippet.stop();
  }

  /** Leaves the page of the reading. */
  close(): void {
    this.#leave();
    this.#set({ ...away, names: this.#now.names });
    if (location.hash === readingHash) location.hash = '';
  }
}
