/** One run through a drill's clicks in the audio thread: which samples to add to a block. Knows nothing of the browser. */
import type { LiveClicks } from '../../desk/index.ts';

/** A stop fades out within this time, in seconds: short for a hand, long enough that nothing cracks. Our own choice. */
export const fadeTime = 0.005;

export class ClickRun {
  readonly run: number;
  /** Frame of the drill's first sample. */
  readonly start: number;
  readonly #clicks: LiveClicks;
  #next = 0;
  #fade: { readonly from: number; readonly length: number } | null = null;

  constructor(run: number, clicks: LiveClicks, start: number) {
    this.run = run;
    this.start = start;
    this.#clicks = clicks;
  }

  /** Fades out from a frame on. */
  stop(frame: number): void {
    this.#fade ??= { from: frame, length: Math.max(1, Math.round(fadeTime * this.#clicks.sampleRate)) };
  }

  /** The frame from which on it is silent for good. */
  end(): number {
    const whole = this.start + this.#clicks.length;
    return this.#fade === null ? whole : Math.min(whole, this.#fade.from + this.#fade.length);
  }

  /** Adds to a block of samples that begins on `frame`. Blocks follow one another. */
  addTo(block: Float32Array, frame: number): void {
    const { starts, wave, waves } = this.#clicks;
    const until = frame + block.length;
    for (let i = this.#next; i < starts.length; i++) {
      const from = this.start + (starts[i] ?? 0);
      if (from >= until) return;
      const sound = waves[wave[i] ?? -1];
      if (sound === undefined) continue;
      const last = Math.min(until, from + sound.length);
      for (let at = Math.max(frame, from); at < last; at++)
        block[at - frame] = (block[at - frame] ?? 0) + (sound[at - from] ?? 0) * this.#gain(at);
      if (from + sound.length > until) return;
      this.#next = i + 1;
    }
  }

  /** Falls from 1 to 0 as half a cosine. */
  #gain(frame: number): number {
    if (this.#fade === null) return 1;
    const { from, length } = this.#fade;
    const gone = (frame - from) / length;
    return gone <= 0 ? 1 : gone >= 1 ? 0 : (1 + Math.cos(Math.PI * gone)) / 2;
  }
}
