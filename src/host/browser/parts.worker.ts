/** The thread that renders the parts while they sound, and hands them to the audio thread without the page between. */
import type { LiveParts, PartsBlock } from '../../desk/index.ts';
import { ok, type Result } from '../../units/index.ts';
import { answering } from './calls.ts';
import type { PartsMade, PartsWanted } from './clickMessages.ts';
import { PartsFeed } from './partsFeed.ts';

export interface PartsQuestions {
  /** The way to the audio thread. */
  readonly connect: { readonly asks: MessagePort; readonly answers: Result<null> };
  /** Begins a run; answers with its first stretch, the rest goes to the audio thread. Null where there is none. */
  readonly begin: {
    readonly asks: { readonly run: number; readonly parts: LiveParts; readonly from: number };
    readonly answers: Result<PartsBlock | null>;
  };
  /** Lets a run go. */
  readonly end: { readonly asks: number; readonly answers: Result<null> };
}
export type PartsCalls = { readonly [K in keyof PartsQuestions]: PartsQuestions[K] };

const feeds = new Map<number, PartsFeed>();
let audio: MessagePort | null = null;

const send = (run: number, block: PartsBlock): void => {
  const made: PartsMade = { run, block };
  const buffers = block.parts.flatMap((samples) => (samples === null ? [] : [samples.buffer]));
  audio?.postMessage(made, buffers);
};

const feed = (run: number, at: number): void => {
  for (const block of feeds.get(run)?.until(at) ?? []) send(run, block);
};

answering<PartsCalls>({
  connect: (port) => {
    audio = port;
    port.onmessage = ({ data: { run, at } }: MessageEvent<PartsWanted>) => {
      if (at === null) feeds.delete(run);
      else feed(run, at);
    };
    return Promise.resolve(ok(null));
  },
  begin: ({ run, parts, from }) => {
    const made = new PartsFeed(parts, from);
    feeds.set(run, made);
    return Promise.resolve(ok(made.next()));
  },
  end: (run) => {
    feeds.delete(run);
    return Promise.resolve(ok(null));
  },
});
