/** The engraver in a browser: Verovio in a thread of its own, which is ended when it takes too long or breaks. */
import { verovioVersion, type Engraved, type EngraveOptions, type Engraver } from '../../desk/sheet.ts';
import { fail, type Result } from '../../units/index.ts';
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

const version = `Verovio ${verovioVersion}`;

/** Milliseconds that one passage may take, loading of the library included. */
const usualLimit = 60_000;

/** An engraver that starts its thread at once, so that the library is loaded while the score is read. */
export const browserEngraver = (limit = usualLimit): Engraver => {
  let thread: Worker | null = null;

  const started = (): Worker => {
    thread ??= new Worker(new URL('./verovio.worker.ts', import.meta.url), {
      type: 'module',
      name: 'engraver',
    });
    return thread;
  };
  const end = (): void => {
    thread?.terminate();
    thread = null;
  };
  /** Comes true where the thread breaks or does not answer in time; it is ended then. */
  const trouble = (worker: Worker): { readonly ends: Promise<Result<never>>; readonly over: () => void } => {
    let over: () => void = () => undefined;
    const ends = new Promise<Result<never>>((resolve) => {
      const give = (result: Result<never>): void => {
        end();
        resolve(result);
      };
      const broken = (): void =>
        give(fail('engraving-failed', 'The engraver broke on this passage. Try fewer bars or parts.'));
      const timer = setTimeout(
        () =>
          give(
            fail(
              'engraving-timeout',
              `Engraving took longer than ${Math.round(limit / 1000)} s and was ended. Try fewer bars.`,
            ),
          ),
        limit,
      );
      worker.addEventListener('error', broken);
      over = () => {
        clearTimeout(timer);
        worker.removeEventListener('error', broken);
      };
    });
    return { ends, over: () => over() };
  };

  void asking<EngravingCalls>(started())('ready', null);
  return {
    version,
    engrave: async (musicXml, options) => {
      const worker = started();
      const { ends, over } = trouble(worker);
      const answer = asking<EngravingCalls>(worker)('engrave', { musicXml, options });
      const result = await Promise.race([answer, ends]);
      over();
      if (!result.ok && result.error.code === 'defect') {
        end();
        return fail('engraving-failed', 'The engraver broke on this passage. Try fewer bars or parts.');
      }
      return result;
    },
  };
};
