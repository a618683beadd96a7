/** Where the shelf is kept. Adapters stand in src/host; `memoryShelf` keeps it as long as the program runs. */
import type { Result } from '../../units/index.ts';
import type { Plain } from './formats.ts';

export interface ShelfPort {
  /** All records as they were kept, unread. Error: `shelf-blocked`. */
  readonly load: () => Promise<Result<readonly unknown[]>>;
  /** The bytes of a score; null where it is not kept. Error: `shelf-blocked`. */
  readonly score: (sha256: string) => Promise<Result<Uint8Array | null>>;
  /**
   * Merges records into those that are kept, and adds scores, all in one transaction or not at all, whatever other
   * windows do meanwhile. Gives the records as they are now kept. Errors: `shelf-full`, `shelf-blocked`.
   */
  readonly keep: (
    records: ReadonlyMap<string, Plain>,
    scores: ReadonlyMap<string, Uint8Array>,
  ) => Promise<Result<ReadonlyMap<string, unknown>>>;
  /** Removes records by their keys, and scores that no piece has any more. Errors: `shelf-blocked`. */
  readonly remove: (keys: readonly string[]) => Promise<Result<null>>;
  /** Told when another window has changed something, with the keys that it removed. */
  readonly watch: (told: (removed: readonly string[]) => void) => void;
  /** Small things of this device that are no part of the shelf, such as what was open. */
  readonly note: (name: string) => Promise<string | null>;
  readonly setNote: (name: string, text: string) => Promise<void>;
  /** Asks that the browser never clears the shelf by itself; false where it does not promise that. */
  readonly lasting: () => Promise<boolean>;
}
