/**
 * The ear of the recording, in the audio thread: what the microphone gives goes to the thread that writes, past the page. It
 * runs on the same clock as the clicks, so both count the same frames.
 */
import { TapRun } from './tapRun.ts';
import { tapProcessor, type FromTap, type ToDisk, type ToTap } from './tapMessages.ts';

/** Frames between two words about the level: a tenth of a second and less. */
const tellEvery = 4096;

class TapProcessor extends AudioWorkletProcessor {
  #run: TapRun | null = null;
  #port: MessagePort | null = null;
  #peak = 0;
  #told = 0;

  constructor() {
    super();
    this.port.onmessage = ({ data }: MessageEvent<ToTap>) => {
      if (data.kind === 'end') {
        this.#end();
        return;
      }
      this.#end();
      this.#port = data.port;
      this.#run = new TapRun(data.most);
    };
  }

  #tell(news: FromTap): void {
    this.port.postMessage(news);
  }

  #write(samples: Float32Array<ArrayBuffer> | null): void {
    if (samples === null) return;
    const word: ToDisk = { kind: 'samples', samples };
    this.#port?.postMessage(word, [samples.buffer]);
  }

  #end(): void {
    if (this.#run === null) return;
    this.#write(this.#run.rest());
    const word: ToDisk = { kind: 'end' };
    this.#port?.postMessage(word);
    this.#run = null;
    this.#port = null;
  }

  process([input]: readonly (readonly Float32Array[])[]): boolean {
    // No channel at all: the microphone gives nothing.
    const heard = input?.[0] ?? null;
    for (const value of heard ?? []) this.#peak = Math.max(this.#peak, Math.abs(value));
    if (currentFrame - this.#told >= tellEvery) {
      this.#tell({ kind: 'level', peak: this.#peak });
      this.#peak = 0;
      this.#told = currentFrame;
    }
    if (this.#run === null) return true;
    if (this.#run.count === 0) this.#tell({ kind: 'begun', frame: currentFrame });
    for (const full of this.#run.take(heard)) this.#write(full);
    if (this.#run.full) {
      this.#end();
      this.#tell({ kind: 'full' });
    }
    return true;
  }
}

registerProcessor(tapProcessor, TapProcessor);
