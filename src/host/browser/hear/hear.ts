/** Hearing, as a page asks for it: each reading in a thread of its own that can be ended at once; pages in another. */
import { takeHeader } from '../../../desk/takes/sound.ts';
import { soundKind } from '../../../desk/soundKind.ts';
import { fail, type Result } from '../../../units/index.ts';
import { asking, brokeOn, type Answer } from '../calls.ts';
import type { Heard, HearingCalls, ReadAsk } from './calls.ts';

export type { HearableSound, KeptDrill } from './calls.ts';

type ReadAnswer = Answer<HearingCalls, 'read'>;

export interface Hearing {
  /** The answer; `stopped` where it was left. */
  readonly answer: Promise<ReadAnswer>;
  /** Ends it at once. */
  readonly stop: () => void;
}

export interface Ear {
  readonly read: (ask: ReadAsk, progress: (done: number) => void) => Hearing;
  readonly show: (ask: HearingCalls['show']['asks']) => Promise<Answer<HearingCalls, 'show'>>;
  readonly files: (ask: HearingCalls['files']['asks']) => Promise<Answer<HearingCalls, 'files'>>;
  readonly flac: (file: Blob) => Promise<Answer<HearingCalls, 'flac'>>;
}

const thread = (): Worker =>
  new Worker(new URL('./hear.worker.ts', import.meta.url), { type: 'module', name: 'hear' });

/** Bytes by which a kind of file is known. */
const head = 4096;

/** Hz to which the browser brings what it takes apart itself. */
const rate = 48_000;

/**
 * A recording as the ear takes it: kinds that only the browser can take apart (AAC, mostly) come as WAV of one channel, all others,
 * and what the browser cannot take apart either, as they are.
 */
const asHearable = async (file: Blob): Promise<Blob> => {
  const kind = soundKind(new Uint8Array(await file.slice(0, head).arrayBuffer()));
  if (kind !== 'aac' && kind !== 'm4a' && (kind === null || typeof kind === 'string')) return file;
  try {
    const audio = await new OfflineAudioContext(1, 1, rate).decodeAudioData(await file.arrayBuffer());
    const one = new Float32Array(audio.length);
    for (let c = 0; c < audio.numberOfChannels; c += 1) {
      const channel = audio.getChannelData(c);
      for (let i = 0; i < one.length; i += 1)
        one[i] = (one[i] ?? 0) + (channel[i] ?? 0) / audio.numberOfChannels;
    }
    return new Blob([new Uint8Array(takeHeader(rate, one.length)), one]);
  } catch {
    return file;
  }
};

/** Recordings are read one at a time, whatever they are: so the answer is the command line's. */
export const browserEar = (): Ear => {
  let shower: ReturnType<typeof asking<HearingCalls>> | null = null;
  const pages = (): ReturnType<typeof asking<HearingCalls>> => (shower ??= asking<HearingCalls>(thread()));
  return {
    read: (ask, progress) => {
      let worker: Worker | null = null;
      let stop: () => void = () => undefined;
      let left = false;
      const stopped = new Promise<Result<never>>((resolve) => {
        stop = () => {
          left = true;
          worker?.terminate();
          resolve(fail('stopped', 'It was stopped before it was done.'));
        };
      });
      const answer = async (): Promise<ReadAnswer> => {
        const sounds: ReadAsk['sounds'][number][] = [];
        for (const sound of ask.sounds) sounds.push({ ...sound, file: await asHearable(sound.file) });
        if (left) return stopped;
        const own = thread();
        worker = own;
        const broken = new Promise<Result<never>>((resolve) => {
          own.addEventListener('error', ({ message }) => resolve(brokeOn(new Error(message))));
        });
        own.addEventListener('message', ({ data }: MessageEvent<Heard>) => progress(data.done));
        const made = await Promise.race([
          asking<HearingCalls>(own)('read', { ...ask, sounds }),
          broken,
          stopped,
        ]);
        own.terminate();
        return made;
      };
      return { answer: Promise.race([answer(), stopped]), stop: () => stop() };
    },
    show: (ask) => pages()('show', ask),
    files: (ask) => pages()('files', ask),
    flac: async (file) => pages()('flac', await asHearable(file)),
  };
};
