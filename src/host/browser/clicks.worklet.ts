/**
 * The clicks in the audio thread, which owns the whole queue: once a drill has begun, the page may hang, and every click
 * still stands on its sample. Each click's samples were made in front; here they are only put in their places.
 */
import { clickProcessor, type FromAudio, type ToAudio } from './clickMessages.ts';
import { ClickRun } from './clickQueueRun.ts';

class ClickProcessor extends AudioWorkletProcessor {
  #current: ClickRun | null = null;
  /** Runs that are fading out. */
  #leaving: readonly ClickRun[] = [];

  constructor() {
    super();
    this.port.onmessage = ({ data }: MessageEvent<ToAudio>) => this.#take(data);
  }

  #take(message: ToAudio): void {
    // Messages come between blocks: the next block to be made begins here or one block later, never earlier.
    this.#stop();
    if (message.kind === 'stop') return;
    const start = currentFrame + ClickProcessor.block + message.wait;
    this.#current = new ClickRun(message.run, message.clicks, start);
    this.#tell({ kind: 'started', run: message.run, frame: start });
  }

  #stop(): void {
    if (this.#current === null) return;
    this.#current.stop(currentFrame + ClickProcessor.block);
    this.#leaving = [...this.#leaving, this.#current];
    this.#current = null;
  }

  #tell(news: FromAudio): void {
    this.port.postMessage(news);
  }

  /** Frames in a block: Web Audio API 1.1, "render quantum size". */
  static readonly block = 128;

  process(_inputs: readonly unknown[], outputs: readonly (readonly Float32Array[])[]): boolean {
    const [first, ...others] = outputs[0] ?? [];
    if (first === undefined) return true;
    for (const run of this.#leaving) run.addTo(first, currentFrame);
    this.#current?.addTo(first, currentFrame);
    for (const other of others) other.set(first);
    this.#letGo(currentFrame + first.length);
    return true;
  }

  #letGo(frame: number): void {
    const over = (run: ClickRun): boolean => run.end() <= frame;
    for (const run of this.#leaving) if (over(run)) this.#tell({ kind: 'ended', run: run.run });
    if (this.#leaving.length > 0) this.#leaving = this.#leaving.filter((run) => !over(run));
    if (this.#current !== null && over(this.#current)) {
      this.#tell({ kind: 'ended', run: this.#current.run });
      this.#current = null;
    }
  }
}

registerProcessor(clickProcessor, ClickProcessor);
