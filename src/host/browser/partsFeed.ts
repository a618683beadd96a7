/** Renders the parts a little ahead of what is heard. Knows nothing of the browser. */
import { partsBlocks, type LiveParts, type PartsBlock } from '../../desk/liveSound.ts';

/** Seconds that are rendered ahead: longer than a page or a busy machine holds a thread up, short enough to be let go. */
const ahead = 4;

export class PartsFeed {
  readonly #blocks: Generator<PartsBlock>;
  readonly #ahead: number;
  #made: number;

  constructor(parts: LiveParts, from: number) {
    this.#blocks = partsBlocks(parts, from);
    this.#ahead = ahead * parts.sampleRate;
    this.#made = from;
  }

  /** The next stretch; null after the last. */
  next(): PartsBlock | null {
    const found = this.#blocks.next();
    if (found.done === true) return null;
    this.#made += found.value.length;
    return found.value;
  }

  /** Stretches that are due when sample `at` is heard. */
  *until(at: number): Generator<PartsBlock> {
    while (this.#made < at + this.#ahead) {
      const block = this.next();
      if (block === null) return;
      yield block;
    }
  }
}
