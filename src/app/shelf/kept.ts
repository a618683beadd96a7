/** What the views of the shelf show. */
import type { Piece, ShelfContent, ShelfState } from '../../desk/index.ts';
import type { Problem } from '../../units/index.ts';

/** What was removed last and can be put back. */
export interface Removed {
  readonly title: string;
  readonly content: ShelfContent;
}

export interface Keeping {
  readonly ready: boolean;
  readonly state: ShelfState;
  /** Why nothing can be kept at all; null where it can. */
  readonly trouble: Problem | null;
  /** The piece on the stand; null where it is on no shelf. */
  readonly piece: Piece | null;
  /** The ensemble that new pieces stand with. */
  readonly ensemble: string;
  readonly removed: Removed | null;
  /** The piece on the stand was taken off the shelf. */
  readonly gone: boolean;
  /** What came of the last file that was brought in. */
  readonly said: { readonly words: string; readonly problems: readonly Problem[] } | null;
  /** How the page was opened: as it was left, or perhaps without the last change; null on the first visit. */
  readonly opened: 'restored' | 'unsure' | null;
  readonly lasting: boolean;
  /** What is added to the score's bar numbers in what the session shows. */
  readonly shift: number;
}
