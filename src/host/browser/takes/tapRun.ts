/** One recording in the audio thread: blocks gathered into larger ones. Knows nothing of the browser. */

/** Frames of a block of the audio thread: Web Audio API 1.1, "render quantum size". */
const quantum = 128;

/** Samples that go to the disk at once: a twelfth of a second. */
const gathered = 4096;

export class TapRun {
  /** Samples so far. */
  count = 0;
  readonly #most: number;
  #block = new Float32Array(gathered);
  #filled = 0;

  /** `most`: samples after which it is full. */
  constructor(most: number) {
    this.#most = most;
  }

  get full(): boolean {
    return this.count >= this.#most;
  }

  /** Takes a block; silence where there is none. Gives what is to be written now, to be handed over for good. */
  take(heard: Float32Array | null): readonly Float32Array<ArrayBuffer>[] {
    const ready: Float32Array<ArrayBuffer>[] = [];
    const length = Math.min(heard?.length ?? quantum, this.#most - this.count);
    for (let n = 0; n < length; n++) {
      this.#block[this.#filled] = heard?.[n] ?? 0;
      this.#filled += 1;
      if (this.#filled < gathered) continue;
      ready.push(this.#block);
      this.#block = new Float32Array(gathered);
      this.#filled = 0;
    }
    this.count += length;
    return ready;
  }

  /** What is not written yet; null where all is. */
  rest(): Float32Array<ArrayBuffer> | null {
    if (this.#filled === 0) return null;
    const rest = this.#block.slice(0, this.#filled);
    this.#filled = 0;
    return rest;
  }
}
