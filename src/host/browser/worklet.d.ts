/** Names of the audio thread that TypeScript's DOM library lacks. Web Audio API 1.1, sections 1.32.2 and 1.32.4. */
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;
/** Frame of the block that is being made. */
declare const currentFrame: number;
/** Hz. */
declare const sampleRate: number;
