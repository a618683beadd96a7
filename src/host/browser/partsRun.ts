/** One run through a drill's parts in the audio thread, from stretches that another thread renders. Knows nothing of the browser. */
import type { PartsBlock } from '../../desk/index.ts';

/** Samples that loudness takes from nothing to full: a change of it must not crack. Our own choice. */
const glide = 512;

export class PartsRun {
  readonly #start: number;
  #blocks: readonly PartsBlock[];
  /** Loudness of each part now. */
  readonly #now: number[];
  /** Sample of the drill up to which stretches have come without a gap. */
  #come: number;
  #late = 0;

  /** `start`: frame of the drill's first sample. `head`: the first stretch, from which on it plays. */
  constructor(start: number, head: PartsBlock, gains: readonly number[]) {
    this.#start = start;
    this.#blocks = [head];
    this.#come = head.from + head.length;
    this.#now = head.parts.map((_, part) => gains[part] ?? 1);
  }

  /** Takes the next stretch; one that does not follow the last is not for this run's place and is left. */
  take(block: PartsBlock): void {
    if (block.from !== this.#come) return;
    this.#blocks = [...this.#blocks, block];
    this.#come += block.length;
  }

  /** Samples that were silent because their stretch had not come; counted anew after each asking. */
  takeLate(): number {
    const late = this.#late;
    this.#late = 0;
    return late;
  }

  /** Adds all parts to a block that begins on `frame`, each with its loudness. `length`: samples of the drill. */
  addTo(out: Float32Array, frame: number, gains: readonly number[], length: number): void {
    const at = frame - this.#start;
    const until = Math.min(at + out.length, length);
    const parts = this.#now.length;
    for (const block of this.#blocks) {
      const end = block.from + block.length;
      if (end <= at) continue;
      if (block.from >= until) break;
      const [from, to] = [Math.max(at, block.from), Math.min(until, end)];
      for (let part = 0; part < parts; part++) {
        const samples = block.parts[part] ?? null;
        const goal = gains[part] ?? 1;
        let gain = this.#now[part] ?? goal;
        for (let n = from; samples !== null && n < to; n++) {
          gain += Math.max(-1 / glide, Math.min(1 / glide, goal - gain));
          const place = n + this.#start - frame;
          out[place] = (out[place] ?? 0) + gain * (samples[n - block.from] ?? 0);
        }
        this.#now[part] = samples === null ? goal : gain;
      }
    }
    if (until > this.#come) this.#late += until - Math.max(at, this.#come);
    const first = this.#blocks[0];
    if (first !== undefined && first.from + first.length <= until) this.#blocks = this.#blocks.slice(1);
  }
}
