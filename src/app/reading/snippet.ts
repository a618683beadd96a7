/** Two seconds of a recording, at full speed or slower at the same pitch: the browser's own player does both. */

/** Seconds before and after the moment that is listened to. */
const around = { before: 0.5, after: 1.5 } as const;

/** Share of the speed where it is to be slower. */
export const slow = 0.5;

/** Milliseconds from look to look whether its end is reached. */
const look = 25;

export class Snippet {
  readonly #changed: () => void;
  #audio: HTMLAudioElement | null = null;
  #url: string | null = null;
  #timer: ReturnType<typeof setInterval> | null = null;
  #key: string | null = null;

  constructor(changed: () => void) {
    this.#changed = changed;
  }

  /** What plays, by the key that it was given; null: nothing. */
  get now(): string | null {
    return this.#key;
  }

  /** `at`: seconds from the beginning of the file. */
  play(key: string, file: File, at: number, speed: number, failed: () => void): void {
    this.stop();
    this.#url = URL.createObjectURL(file);
    const audio = new Audio(this.#url);
    audio.preservesPitch = true;
    audio.playbackRate = speed;
    audio.currentTime = Math.max(0, at - around.before);
    audio.addEventListener('ended', () => this.stop());
    this.#audio = audio;
    this.#key = key;
    this.#timer = setInterval(() => {
      if (audio.currentTime >= at + around.after) this.stop();
    }, look);
    audio.play().catch(() => {
      if (this.#audio !== audio) return;
      this.stop();
      failed();
    });
    this.#changed();
  }

  stop(): void {
    if (this.#audio === null) return;
    this.#audio.pause();
    this.#audio.removeAttribute('src');
    this.#audio = null;
    this.#key = null;
    if (this.#timer !== null) clearInterval(this.#timer);
    if (this.#url !== null) URL.revokeObjectURL(this.#url);
    this.#changed();
  }
}
