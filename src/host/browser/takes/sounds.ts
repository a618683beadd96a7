/** The sounds of takes, as a page asks for them: written, brought, listed, read and removed by a thread of their own. */
import type { Performed } from '../../../desk/index.ts';
import type { Result } from '../../../units/index.ts';
import { asking } from '../calls.ts';
import type { Broke, KeptSound, SoundCalls } from './calls.ts';
import { anySounds, fileIn, notesOf } from './folder.ts';

export type { KeptSound } from './calls.ts';

export interface Sounds {
  readonly begin: (ask: SoundCalls['begin']['asks']) => Promise<Result<null>>;
  readonly note: (line: string) => void;
  readonly end: (why: Performed['ended']) => Promise<Result<number>>;
  /** Whether there may be any. */
  readonly any: () => Promise<boolean>;
  readonly list: () => Promise<Result<readonly KeptSound[]>>;
  readonly bring: (file: string, from: Blob) => Promise<Result<number>>;
  readonly shelved: (files: readonly string[]) => Promise<Result<null>>;
  readonly remove: (files: readonly string[]) => Promise<Result<null>>;
  /** The file of a sound, read from the disk as it is needed; null where it is not on this device. */
  readonly file: (name: string) => Promise<File | null>;
  /** The notes of a take that was recorded here; null for other sounds. */
  readonly notes: (name: string) => Promise<string | null>;
  /** Told when nothing more can be written. */
  readonly watch: (cut: (why: Performed['ended']) => void) => void;
}

/** The thread is started when it is first needed. */
export const browserSounds = (): Sounds => {
  let cut: (why: Performed['ended']) => void = () => undefined;
  let ask: ReturnType<typeof asking<SoundCalls>> | null = null;
  const thread = (): ReturnType<typeof asking<SoundCalls>> => {
    if (ask !== null) return ask;
    const worker = new Worker(new URL('./takes.worker.ts', import.meta.url), {
      type: 'module',
      name: 'takes',
    });
    worker.addEventListener('message', ({ data }: MessageEvent<Broke>) => {
      cut(data.broke === 'no-room' ? 'no-room' : 'stopped');
    });
    ask = asking<SoundCalls>(worker);
    return ask;
  };
  return {
    begin: (about) => thread()('begin', about, [about.port]),
    note: (line) => void thread()('note', line),
    end: (why) => thread()('end', why),
    any: anySounds,
    list: () => thread()('list', null),
    bring: (file, from) => thread()('bring', { file, from }),
    shelved: (files) => thread()('shelved', files),
    remove: (files) => thread()('remove', files),
    file: fileIn,
    notes: async (name) => (await (await fileIn(notesOf(name)))?.text()) ?? null,
    watch: (told) => (cut = told),
  };
};

export interface Room {
  /** Bytes that this page keeps on the device, its shelf among them. */
  readonly used: number;
  /** Bytes that the browser still lets it keep, as far as it says. */
  readonly left: number;
}

/** Null where the browser does not say. */
export const roomHere = async (): Promise<Room | null> => {
  try {
    const { usage = 0, quota } = await navigator.storage.estimate();
    return quota === undefined ? null : { used: usage, left: Math.max(0, quota - usage) };
  } catch {
    return null;
  }
};
