/**
 * What players take home, and the plan on paper: made in a thread of its own, which is started when it is wanted and ended when it is done
 * or called off. So its libraries cost nobody else, and the page never waits.
 */
import type {
  PieceSettings,
  PrintedPlan,
  RequestTexts,
  SoundOptions,
  TellingLanguage,
} from '../../../desk/index.ts';
import { fail, type Result } from '../../../units/index.ts';
import { asking, brokeOn } from '../calls.ts';
import type { MadeFile } from '../desk.ts';

interface HomeQuestions {
  /** A zip for each player, as `makePacks` of the desk makes them. */
  readonly packs: {
    readonly asks: {
      readonly bytes: Uint8Array;
      readonly settings: PieceSettings;
      readonly drills: readonly { readonly name: string; readonly texts: RequestTexts }[];
      readonly sound: SoundOptions;
      /** Language in which counts are spoken; null: they are clicked. */
      readonly spoken: string | null;
      readonly language: TellingLanguage;
      /** Names of players by part id. */
      readonly players: Readonly<Record<string, string>>;
    };
    readonly answers: Result<readonly MadeFile[]>;
  };
  /** plan.json and plan.pdf. */
  readonly plan: {
    readonly asks: { readonly plan: PrintedPlan; readonly language: TellingLanguage };
    readonly answers: Result<readonly MadeFile[]>;
  };
}
export type HomeCalls = { readonly [K in keyof HomeQuestions]: HomeQuestions[K] };

/** Told by the thread while it works. */
export interface HomeProgress {
  readonly done: number;
  readonly of: number;
}

export interface HomeWork {
  /** Errors: those of the desk's functions, `stopped`, and `defect` where the thread broke. */
  readonly made: Promise<Result<readonly MadeFile[]>>;
  /** Ends it. */
  readonly stop: () => void;
}

const isProgress = (data: unknown): data is HomeProgress =>
  typeof data === 'object' && data !== null && 'done' in data && 'of' in data;

/** Starts the thread on one question. */
export const homeWork = <K extends keyof HomeCalls>(
  kind: K,
  ask: HomeCalls[K]['asks'],
  progress: (now: HomeProgress) => void,
): HomeWork => {
  const worker = new Worker(new URL('./home.worker.ts', import.meta.url), { type: 'module', name: 'home' });
  worker.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
    if (isProgress(data)) progress(data);
  });
  let stop = (): void => undefined;
  const stopped = new Promise<Result<never>>((resolve) => {
    worker.addEventListener('error', ({ message }) => resolve(brokeOn(new Error(message))));
    stop = () => resolve(fail('stopped', 'It was stopped before it was done.'));
  });
  const made = Promise.race([asking<HomeCalls>(worker)(kind, ask), stopped]).then((files) => {
    worker.terminate();
    return files;
  });
  return { made, stop: () => stop() };
};
