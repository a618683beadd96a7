/**
 * Clicks and parts in the audio thread, which owns the whole queue: once a drill has begun, the page may hang, and every
 * click still stands on its sample. Each click's samples were made in front, parts come from a thread of their own; here they are only
 * put in their places.
 */
import { clickProcessor, type FromAudio, type ToAudio } from './audioMessages.ts';
import type { Balance, PartsMade, PartsWanted, Sounding } from './clickMessages.ts';
import { SoundRun } from './soundRun.ts';

/** Samples between two words to the rendering thread of how far it has come. */
const tellEvery = 4096;

class ClickProcessor extends AudioWorkletProcessor {
  #current: SoundRun | null = null;
  /** What takes over, and on which frame. */
  #next: { readonly run: SoundRun; readonly at: number } | null = null;
  /** Runs that are fading out. */
  #leaving: readonly SoundRun[] = [];
  #balance: Balance = { click: 1, parts: [], place: 'centre' };
  #renderer: MessagePort | null = null;
  #told = 0;

  constructor() {
    super();
    this.port.onmessage = ({ data }: MessageEvent<ToAudio>) => this.#take(data);
  }

  /** Messages come between blocks: the next block to be made begins here or one block later, never earlier. */
  get #soon(): number {
    return currentFrame + ClickProcessor.block;
  }

  #take(message: ToAudio): void {
    switch (message.kind) {
      case 'play':
        this.#stop();
        this.#current = new SoundRun(message.sounding, this.#soon + message.wait, this.#balance);
        this.#tell({ kind: 'started', run: this.#current.run, frame: this.#current.start });
        return;
      case 'next':
        if (this.#current?.run === message.after) this.#prepare(message.sounding, this.#current, message.at);
        else this.#want(message.sounding.run, null);
        return;
      case 'balance':
        this.#balance = message.balance;
        return;
      case 'stop':
        this.#stop();
        return;
      case 'connect':
        this.#renderer = message.port;
        message.port.onmessage = ({ data }: MessageEvent<PartsMade>) => this.#feed(data);
    }
  }

  #prepare(sounding: Sounding, after: SoundRun, at: number): void {
    if (this.#next !== null) this.#want(this.#next.run.run, null);
    const frame = Math.max(this.#soon, after.start + at);
    this.#next = { run: new SoundRun(sounding, frame, this.#balance), at: frame };
  }

  #feed({ run, block }: PartsMade): void {
    for (const sounding of [this.#current, this.#next?.run])
      if (sounding?.run === run) sounding.parts?.take(block);
  }

  #stop(): void {
    if (this.#next !== null) this.#want(this.#next.run.run, null);
    this.#next = null;
    if (this.#current === null) return;
    this.#leave(this.#current, this.#soon);
    this.#current = null;
  }

  #leave(run: SoundRun, frame: number): void {
    run.stop(frame);
    this.#leaving = [...this.#leaving, run];
  }

  #tell(news: FromAudio): void {
    this.port.postMessage(news);
  }

  #want(run: number, at: number | null): void {
    const wanted: PartsWanted = { run, at };
    this.#renderer?.postMessage(wanted);
  }

  /** Frames in a block: Web Audio API 1.1, "render quantum size". */
  static readonly block = 128;

  process(_inputs: readonly unknown[], outputs: readonly (readonly Float32Array[])[]): boolean {
    const [left, right] = outputs[0] ?? [];
    if (left === undefined || right === undefined) return true;
    const until = currentFrame + left.length;
    // Two that sound at once while one takes over: the old one fades from the frame on which the new one begins.
    if (this.#next !== null && this.#next.at < until) {
      if (this.#current !== null) this.#leave(this.#current, this.#next.at);
      this.#current = this.#next.run;
      this.#next = null;
      this.#tell({ kind: 'started', run: this.#current.run, frame: this.#current.start });
    }
    for (const run of this.#leaving) run.addTo(left, right, currentFrame, this.#balance);
    this.#current?.addTo(left, right, currentFrame, this.#balance);
    this.#report();
    this.#letGo(until);
    return true;
  }

  #report(): void {
    const { parts, run, start } = this.#current ?? { parts: null, run: 0, start: 0 };
    if (parts === null) return;
    const late = parts.takeLate();
    if (late > 0) this.#tell({ kind: 'late', run, samples: late });
    if (currentFrame - this.#told < tellEvery) return;
    this.#told = currentFrame;
    this.#want(run, currentFrame - start);
  }

  #letGo(frame: number): void {
    const over = (run: SoundRun): boolean => run.end() <= frame;
    const end = (run: SoundRun): void => {
      this.#tell({ kind: 'ended', run: run.run, frame: run.end() });
      this.#want(run.run, null);
    };
    for (const run of this.#leaving) if (over(run)) end(run);
    if (this.#leaving.length > 0) this.#leaving = this.#leaving.filter((run) => !over(run));
    if (this.#current === null || !over(this.#current) || this.#next !== null) return;
    end(this.#current);
    this.#current = null;
  }
}

registerProcessor(clickProcessor, ClickProcessor);
