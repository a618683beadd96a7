/** One run through a drill's clicks, or its spoken counts, in the audio thread: which samples to add to a block. Knows nothing of the browser. */
import type { LiveQueue } from '../../desk/index.ts';

export class ClickRun {
  /** Frame of the drill's first sample. */
  readonly start: number;
  readonly #clicks: LiveQueue;
  readonly #from: number;
  #next = 0;

  /** `from`: sample of the drill from which on clicks begin; `start` is where its first one would lie. */
  constructor(clicks: LiveQueue, start: number, from = 0) {
    this.start = start;
    this.#clicks = clicks;
    this.#from = from;
  }

  /** Adds to a block of samples that begins on `frame`. Blocks follow one another. */
  addTo(block: Float32Array, frame: number): void {
    const { starts, wave, waves } = this.#clicks;
    const until = frame + block.length;
    for (let i = this.#next; i < starts.length; i++) {
      const from = this.start + (starts[i] ?? 0);
      if (from >= until) return;
      const sound = waves[wave[i] ?? -1];
      if (sound === undefined || (starts[i] ?? 0) < this.#from) {
        this.#next = i + 1;
        continue;
      }
      const last = Math.min(until, from + sound.length);
      for (let at = Math.max(frame, from); at < last; at++)
        block[at - frame] = (block[at - frame] ?? 0) + (sound[at - from] ?? 0);
      if (from + sound.length > until) return;
      this.#next = i + 1;
    }
  }
}
