/**
 * An engraver in a thread that can be killed: a score that makes it loop, break or vanish costs its time limit at most,
 * ends in a plain problem, and the next score finds a fresh thread. The same for Node and the browser.
 */
import {
  engraverStartLimit,
  engravingLimit,
  type Engraved,
  type EngraveOptions,
  type Engraver,
} from '../desk/sheet.ts';
import { fail, type Result } from '../units/index.ts';

/** One thread that engraves, whatever kind of thread it is. Promises of a thread that was ended may stay open for ever. */
export interface EngravingThread {
  /** Comes true when it can engrave; rejects where it cannot. */
  readonly ready: Promise<unknown>;
  /** One score at a time. Rejects where the thread breaks on it. */
  readonly engrave: (musicXml: string, options: EngraveOptions) => Promise<Result<Engraved>>;
  /** Comes true when the thread has ended or broken, at work or not. */
  readonly gone: Promise<unknown>;
  /** Ends the thread at once, whatever it is doing. */
  readonly end: () => Promise<unknown>;
}

export interface GuardSettings {
  /** Milliseconds for a score of so many characters, start of the thread not counted; `engravingLimit` where left out. */
  readonly limit?: (characters: number) => number;
  /** Milliseconds for the thread to start; `engraverStartLimit` where left out. */
  readonly startLimit?: number;
}

/** An engraver that can be closed: its thread ends, and a new one starts with the next score. */
export interface GuardedEngraver extends Engraver {
  /** Starts the thread before it is needed. */
  readonly warm: () => void;
  readonly close: () => Promise<void>;
}

const late = (milliseconds: number, doing: string, way: string): Result<never> =>
  fail(
    'engraving-timeout',
    `${doing} took longer than ${Math.max(1, Math.round(milliseconds / 1000))} s and was ended. ${way}`,
  );
const broken = (): Result<never> =>
  fail('engraving-failed', 'The engraver broke on this passage. Try fewer bars or parts.');

type Outcome<T> = { readonly kind: 'done'; readonly value: T } | { readonly kind: 'late' | 'broken' };

/** Waits for work of a thread: until it is done, the thread is gone, or the time is over. Never rejects. */
const awaited = async <T>(
  work: Promise<T>,
  { gone }: EngravingThread,
  milliseconds: number,
): Promise<Outcome<T>> => {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const over = new Promise<Outcome<T>>((resolve) => {
    timer = setTimeout(() => resolve({ kind: 'late' }), milliseconds);
  });
  const fell = (): Outcome<T> => ({ kind: 'broken' });
  const done = work.then((value): Outcome<T> => ({ kind: 'done', value }), fell);
  const outcome = await Promise.race([done, gone.then(fell, fell), over]);
  clearTimeout(timer);
  return outcome;
};

/** `start` makes a thread; it is asked again whenever there is none. Scores are engraved one after the other. */
export const guardedEngraver = (
  version: string,
  start: () => EngravingThread,
  { limit = engravingLimit, startLimit = engraverStartLimit }: GuardSettings = {},
): GuardedEngraver => {
  let running: EngravingThread | null = null;
  let queue: Promise<unknown> = Promise.resolve();

  const forget = (thread: EngravingThread): void => {
    if (running === thread) running = null;
  };
  const started = (): EngravingThread => {
    if (running !== null) return running;
    const thread = start();
    running = thread;
    const left = (): void => forget(thread);
    void thread.gone.then(left, left);
    // Whoever engraves hears of it; a thread that was only warmed must not break the program.
    thread.ready.catch(left);
    return thread;
  };
  const ended = async (thread: EngravingThread): Promise<void> => {
    forget(thread);
    await thread.end();
  };

  const work = async (musicXml: string, options: EngraveOptions): Promise<Result<Engraved>> => {
    const thread = started();
    const ready = await awaited(thread.ready, thread, startLimit);
    if (ready.kind !== 'done') {
      await ended(thread);
      return ready.kind === 'late'
        ? late(startLimit, 'Starting the engraver', 'Try again when the computer is less busy.')
        : fail('engraving-failed', 'The engraver could not be started.');
    }
    const milliseconds = limit(musicXml.length);
    const outcome = await awaited(thread.engrave(musicXml, options), thread, milliseconds);
    if (outcome.kind === 'done') return outcome.value;
    await ended(thread);
    return outcome.kind === 'late' ? late(milliseconds, 'Engraving', 'Try fewer bars.') : broken();
  };

  return {
    version,
    engrave: (musicXml, options) => {
      const result = queue.then(() => work(musicXml, options)).catch(broken);
      queue = result;
      return result;
    },
    warm: () => {
      try {
        started();
      } catch {
        // The first score meets the same trouble and tells it.
      }
    },
    close: async () => {
      if (running !== null) await ended(running);
    },
  };
};
