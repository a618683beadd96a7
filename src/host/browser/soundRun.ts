/** One run through a drill in the audio thread: its clicks and its parts, put where they are to be heard, and faded out. */
import type { Balance, Sounding } from './clickMessages.ts';
import { ClickRun } from './clickQueueRun.ts';
import { PartsRun } from './partsRun.ts';

/** A stop fades out within this time, in seconds: short for a hand, long enough that nothing cracks. Our own choice. */
export const fadeTime = 0.005;

export class SoundRun {
  readonly run: number;
  /** Frame of the drill's first sample; before the run's own beginning where it does not begin with it. */
  readonly start: number;
  readonly parts: PartsRun | null;
  readonly #clicks: ClickRun;
  readonly #words: ClickRun;
  readonly #length: number;
  readonly #fadeLength: number;
  #fadeFrom: number | null = null;
  #click = new Float32Array(0);
  #music = new Float32Array(0);

  /** `begin`: the frame on which the sample that it begins with is heard. */
  constructor({ run, clicks, head, from }: Sounding, begin: number, balance: Balance) {
    this.run = run;
    this.start = begin - from;
    this.#clicks = new ClickRun(clicks, this.start, from);
    this.#words = new ClickRun(clicks.words, this.start, from);
    this.parts = head === null ? null : new PartsRun(this.start, head, balance.parts);
    this.#length = clicks.length;
    this.#fadeLength = Math.max(1, Math.round(fadeTime * clicks.sampleRate));
  }

  /** Fades out from a frame on. */
  stop(frame: number): void {
    this.#fadeFrom = Math.min(frame, this.#fadeFrom ?? Infinity);
  }

  /** The frame from which on it is silent for good. */
  end(): number {
    const whole = this.start + this.#length;
    return this.#fadeFrom === null ? whole : Math.min(whole, this.#fadeFrom + this.#fadeLength);
  }

  /** Adds to the two channels of a block that begins on `frame`. Blocks follow one another. */
  addTo(left: Float32Array, right: Float32Array, frame: number, balance: Balance): void {
    if (this.#click.length !== left.length) {
      this.#click = new Float32Array(left.length);
      this.#music = new Float32Array(left.length);
    }
    this.#click.fill(0);
    this.#music.fill(0);
    this.#clicks.addTo(this.#click, frame);
    this.#words.addTo(this.#click, frame);
    this.parts?.addTo(this.#music, frame, balance.parts, this.#length);
    const apart = balance.place === 'left';
    for (let n = 0; n < left.length; n++) {
      const gain = this.#gain(frame + n);
      const click = gain * balance.click * (this.#click[n] ?? 0);
      const music = gain * (this.#music[n] ?? 0);
      left[n] = (left[n] ?? 0) + click + (apart ? 0 : music);
      right[n] = (right[n] ?? 0) + music + (apart ? 0 : click);
    }
  }

  /** Falls from 1 to 0 as half a cosine. */
  #gain(frame: number): number {
    if (this.#fadeFrom === null) return 1;
    const gone = (frame - this.#fadeFrom) / this.#fadeLength;
    return gone <= 0 ? 1 : gone >= 1 ? 0 : (1 + Math.cos(Math.PI * gone)) / 2;
  }
}
