/** The piece on the stand: what changes on the page is noted in its record, and what is set for it reaches the page. */
import type { Overview, Piece, Plain, ShelfRecord } from '../../desk/index.ts';
import type { Asked } from '../asked.ts';
import type { Session } from '../session.ts';
import { usualWait } from '../shown.ts';
import { keptSound, soundIn } from './keptSound.ts';
import { forgetPlace, notePlace } from './place.ts';
import { settingsOf, shiftShown } from './settings.ts';

/** Milliseconds without a further change after which a setting reaches the page: one re-reads and engraves anew. */
const patience = 500;

export class Standing {
  readonly #session: Session;
  readonly #records: () => ReadonlyMap<string, ShelfRecord>;
  readonly #note: (piece: Piece, change: Plain) => void;
  /** Id of the piece, what the session shows of it, and what was noted to be asked of it. */
  #id: string | null = null;
  #shown: Overview | null = null;
  #asked: Asked | null = null;
  #settings = '';
  #shift = 0;
  #fitting: ReturnType<typeof setTimeout> | null = null;

  /** `records`: the shelf as it is now; `note`: writes fields into the record of a piece. */
  constructor(
    session: Session,
    records: () => ReadonlyMap<string, ShelfRecord>,
    note: (piece: Piece, change: Plain) => void,
  ) {
    this.#session = session;
    this.#records = records;
    this.#note = note;
  }

  /** Null where what is on the stand is on no shelf. */
  get id(): string | null {
    return this.#id;
  }

  get piece(): Piece | null {
    const record = this.#id === null ? undefined : this.#records().get(`piece:${this.#id}`);
    return record?.kind === 'piece' ? record.value : null;
  }

  /** What is added to the score's bar numbers in what the session shows. */
  get shift(): number {
    return this.#shift;
  }

  /** Whether the session shows it still, and nothing that was opened after it. */
  get isShown(): boolean {
    return this.#session.shown.piece === this.#shown;
  }

  /** What the session shows is this piece. */
  take(piece: Piece, shown: Overview): void {
    this.#id = piece.id;
    this.#shown = shown;
    this.#shift = shiftShown(shown, piece);
    this.#asked = null;
    this.#settings = this.#settingsNow(piece);
  }

  /** It stands on the shelf under this id from now on. */
  keepAs(id: string): void {
    this.#id = id;
    this.#asked = null;
    this.noticed();
  }

  /** It is on no shelf any more. */
  leave(): void {
    this.#id = null;
    forgetPlace();
  }

  /** After a change of the shelf: what is set for the piece reaches the page, once nothing else is set for a while. */
  follow(): void {
    const { piece } = this;
    if (piece === null || this.#settingsNow(piece) === this.#settings) return;
    if (this.#fitting !== null) clearTimeout(this.#fitting);
    this.#fitting = setTimeout(() => {
      this.#fitting = null;
      void this.#fit();
    }, patience);
  }

  /** Told after everything that changes on the page: what is asked of the piece is noted. */
  noticed(): void {
    const { asked, sound, wait } = this.#session.shown;
    if (this.#id === null || !this.isShown) return;
    const { piece } = this;
    if (piece === null) return;
    this.#noteSound(piece, keptSound(sound, wait));
    if (asked === this.#asked) return;
    this.#asked = asked;
    notePlace(this.#id, asked);
    if (Object.entries(asked).every(([word, text]) => piece.asked[word] === text)) return;
    this.#note(piece, { asked: { ...piece.asked, ...asked } });
  }

  #settingsNow(piece: Piece): string {
    return JSON.stringify(settingsOf(piece, this.#records()));
  }

  async #fit(): Promise<void> {
    const { piece } = this;
    if (piece === null || this.#settingsNow(piece) === this.#settings) return;
    this.#settings = this.#settingsNow(piece);
    const fitted = await this.#session.fitTo(settingsOf(piece, this.#records()));
    if (!fitted.ok || this.#id !== piece.id) return;
    this.#shown = fitted.value;
    this.#shift = shiftShown(fitted.value, piece);
    this.noticed();
  }

  /** What is as usual and was never changed is not written down. */
  #noteSound(piece: Piece, now: Readonly<Record<string, string>>): void {
    const { sound, wait } = soundIn(piece.sound);
    const before = { ...keptSound(sound, wait ?? usualWait), ...piece.sound };
    const changed = Object.entries(now).filter(([name, word]) => before[name] !== word);
    if (changed.length > 0) this.#note(piece, { sound: Object.fromEntries(changed) });
  }
}
