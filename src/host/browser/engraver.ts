/**
 * The engraver in a browser: Verovio in a thread of its own, which is ended when it takes too long or breaks
 * (`guardedEngraver`).
 */
import { verovioVersion, type Engraved, type EngraveOptions, type Engraver } from '../../desk/sheet.ts';
import type { Result } from '../../units/index.ts';
import { guardedEngraver, type EngravingThread, type GuardSettings } from '../guardedEngraver.ts';
import { asking } from './calls.ts';

/** What the engraver's thread is asked. */
export interface EngravingQuestions {
  readonly engrave: {
    readonly asks: { readonly musicXml: string; readonly options: EngraveOptions };
    readonly answers: Result<Engraved>;
  };
  /** Answers once the library is loaded. */
  readonly ready: { readonly asks: null; readonly answers: Result<null> };
}
export type EngravingCalls = { readonly [K in keyof EngravingQuestions]: EngravingQuestions[K] };

const verovio = (): Worker =>
  new Worker(new URL('./verovio.worker.ts', import.meta.url), { type: 'module', name: 'engraver' });

/** A defect of the thread counts as a break; what the engraver itself refuses is an answer. */
const sound = <T>(answer: Result<T>): Result<T> => {
  if (!answer.ok && answer.error.code === 'defect') throw new Error(answer.error.message);
  return answer;
};

const browserThread = (worker: Worker): EngravingThread => {
  const ask = asking<EngravingCalls>(worker);
  const gone = new Promise<void>((resolve) => {
    worker.addEventListener('error', () => resolve());
    worker.addEventListener('messageerror', () => resolve());
  });
  return {
    ready: ask('ready', null).then(sound),
    engrave: async (musicXml, options) => sound(await ask('engrave', { musicXml, options })),
    gone,
    end: () => {
      worker.terminate();
      return Promise.resolve();
    },
  };
};

/**
 * An engraver that starts its thread at once, so that the library is loaded while the score is read. `startThread` makes
 * the thread, for tests; Verovio's where it is left out.
 */
export const browserEngraver = (settings: GuardSettings = {}, startThread = verovio): Engraver => {
  const engraver = guardedEngraver(`Verovio ${verovioVersion}`, () => browserThread(startThread()), settings);
  engraver.warm();
  return engraver;
};
