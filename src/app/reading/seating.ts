/** The players of a piece as they sit, by part id: asked for and changed on the page of a reading. */
import type { Ensemble, Piece } from '../../desk/index.ts';
import type { Keeper } from '../shelf/keeping.ts';
import { instrumentChange, instrumentOf, seat, seatsOf } from './seats.ts';

export class Seating {
  readonly #keeper: Keeper;
  readonly #piece: () => Piece | null;

  constructor(keeper: Keeper, piece: () => Piece | null) {
    this.#keeper = keeper;
    this.#piece = piece;
  }

  get #home(): Ensemble | null {
    const home = this.#keeper.now.state.records.get(`ensemble:${this.#piece()?.ensemble ?? ''}`);
    return home?.kind === 'ensemble' ? home.value : null;
  }

  /** What a player is called; empty: by the part. */
  playerOf(part: string): string {
    return this.#home?.players[this.#piece()?.players[part] ?? '']?.name ?? '';
  }

  /** Metres to the one microphone, as they were written. */
  get seats(): Readonly<Record<string, string>> {
    const piece = this.#piece();
    return piece === null ? {} : seatsOf(piece, this.#keeper.now.state.records);
  }

  sit(part: string, metres: string): void {
    const piece = this.#piece();
    if (piece !== null) this.#keeper.change(`piece:${piece.id}`, { sound: { [`${seat}${part}`]: metres } });
  }

  /** What is played in a part; empty: as the score says. */
  instrumentOf(part: string): string {
    const piece = this.#piece();
    return piece === null ? '' : instrumentOf(piece, this.#home, part);
  }

  plays(part: string, text: string): void {
    const piece = this.#piece();
    if (piece === null) return;
    const { key, change } = instrumentChange(piece, this.#home, part, text);
    this.#keeper.change(key, change);
  }
}
