/** Listening to a recording: one at a time, read from the disk as it plays. */

export interface Listening {
  /** The sound that plays; null: none. */
  readonly file: string | null;
}

export class Listener {
  readonly #changed: () => void;
  #audio: HTMLAudioElement | null = null;
  #file: string | null = null;
  #url: string | null = null;

  constructor(changed: () => void) {
    this.#changed = changed;
  }

  get now(): Listening {
    return { file: this.#file };
  }

  /** Plays from so many seconds on; what played before is left. `failed`: the browser cannot play it. */
  play(name: string, sound: File, from: number, failed: () => void): void {
    this.stop();
    this.#url = URL.createObjectURL(sound);
    const audio = new Audio(this.#url);
    audio.currentTime = from;
    audio.addEventListener('ended', () => this.stop());
    this.#audio = audio;
    this.#file = name;
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
    this.#file = null;
    if (this.#url !== null) URL.revokeObjectURL(this.#url);
    this.#url = null;
    this.#changed();
  }
}
