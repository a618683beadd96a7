/**
 * Pages as PDF in a browser: in a thread of their own, which is started when pages are wanted and ended when they are made. So
 * neither its libraries and fonts nor a second engraver cost anybody else, and drills are worked out meanwhile.
 */
import type { DrillRequest, PieceSettings, TellingLanguage } from '../../desk/index.ts';
import type { Result } from '../../units/index.ts';
import { asking, brokeOn, type Answer } from './calls.ts';
import type { MadeFile } from './desk.ts';

interface PrintQuestions {
  /** Pages of a score by name, as `printPages` of the desk makes them. */
  readonly pages: {
    readonly asks: {
      readonly bytes: Uint8Array;
      readonly settings: PieceSettings;
      readonly request: DrillRequest;
      readonly names: readonly string[];
      /** In which the pages speak. */
      readonly language: TellingLanguage;
    };
    readonly answers: Result<readonly MadeFile[]>;
  };
}
export type PrintCalls = { readonly [K in keyof PrintQuestions]: PrintQuestions[K] };

/** Makes pages. Errors: those of `printPages`, and `defect` where the thread broke or its files did not come. */
export const browserPrint = async (
  ask: PrintCalls['pages']['asks'],
): Promise<Answer<PrintCalls, 'pages'>> => {
  const worker = new Worker(new URL('./print.worker.ts', import.meta.url), { type: 'module', name: 'print' });
  const broken = new Promise<Result<never>>((resolve) => {
    worker.addEventListener('error', ({ message }) => resolve(brokeOn(new Error(message))));
  });
  const made = await Promise.race([asking<PrintCalls>(worker)('pages', ask), broken]);
  worker.terminate();
  return made;
};
