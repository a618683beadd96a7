/** The desk, as a page asks it: in a thread of its own, one question after the other. */
import type {
  ListedPlace,
  LiveDrill,
  LiveOptions,
  Overview,
  PieceSettings,
  RequestTexts,
  Screen,
  ScreenOptions,
  StretchBars,
  TouchedBeat,
  SoundOptions,
  TellingLanguage,
} from '../../desk/index.ts';
import { fail, type Result } from '../../units/index.ts';
import { asking, type Answer } from './calls.ts';

/** A file that was made. */
export interface MadeFile {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
}

/** How a drill is to sound live. */
export interface LiveAsked extends Omit<LiveOptions, 'words'> {
  /** Language in which counts are spoken; null: they are clicked. */
  readonly spoken: string | null;
}

interface DeskQuestions {
  /** A score's bytes and what is set for it; it is held from then on. */
  readonly open: {
    readonly asks: { readonly bytes: Uint8Array; readonly settings: PieceSettings };
    readonly answers: Result<Overview>;
  };
  /** Other settings for the score that is held. */
  readonly settings: { readonly asks: PieceSettings; readonly answers: Result<Overview> };
  /** A drill of the score that is held, at a sample rate in Hz. */
  readonly drill: {
    readonly asks: { readonly texts: RequestTexts; readonly rate: number; readonly sound: LiveAsked };
    readonly answers: Result<LiveDrill>;
  };
  /** Where the parts of the score that is held depend on each other. */
  readonly places: { readonly asks: null; readonly answers: Result<readonly ListedPlace[]> };
  /** Bars of a drill's page (as played, from 0), with the places pencilled in once they were asked for. */
  readonly screen: {
    readonly asks: StretchBars & { readonly texts: RequestTexts; readonly options: ScreenOptions };
    readonly answers: Result<Screen>;
  };
  /** Bars of the score that is held, as they are written. */
  readonly stretch: {
    readonly asks: StretchBars & { readonly options: ScreenOptions };
    readonly answers: Result<Screen>;
  };
  /** Where it clicks after a touch on a beat of a drill of the score that is held. */
  readonly beat: {
    readonly asks: TouchedBeat & { readonly texts: RequestTexts };
    readonly answers: Result<string>;
  };
  /** Files of a drill, by name, as the command line writes them. Of pages ("….pdf") and other files one kind at a time. */
  readonly files: {
    readonly asks: {
      readonly texts: RequestTexts;
      readonly names: readonly string[];
      readonly sound: SoundOptions;
      /** Language in which counts are spoken in the files of sound; null: they are clicked. */
      readonly spoken: string | null;
      /** In which the pages speak. */
      readonly language: TellingLanguage;
    };
    readonly answers: Result<readonly MadeFile[]>;
  };
}
export type DeskCalls = { readonly [K in keyof DeskQuestions]: DeskQuestions[K] };

/** Asks the desk. Errors are those of the desk's functions, `no-piece`, and `defect` where the program broke. */
export type RemoteDesk = <K extends keyof DeskCalls>(
  kind: K,
  ask: DeskCalls[K]['asks'],
) => Promise<Answer<DeskCalls, K>>;

export interface Desk {
  readonly ask: RemoteDesk;
  /**
   * Ends whatever is being worked on: all that was asked for is answered with the problem `stopped`, and a fresh thread that
   * holds no score takes the next question.
   */
  readonly stop: () => void;
}

const stopped = (): Result<never> => fail('stopped', 'It was stopped before it was done.');

const deskWorker = (): Worker =>
  new Worker(new URL('./desk.worker.ts', import.meta.url), { type: 'module', name: 'desk' });

/** Starts the desk's thread. */
export const browserDesk = (): Desk => {
  let worker = deskWorker();
  let now = asking<DeskCalls>(worker);
  const waiting = new Set<() => void>();
  const ask: RemoteDesk = (kind, what) =>
    new Promise((resolve) => {
      const stop = (): void => resolve(stopped());
      waiting.add(stop);
      void now(kind, what).then((answer) => {
        waiting.delete(stop);
        resolve(answer);
      });
    });
  const stop = (): void => {
    worker.terminate();
    worker = deskWorker();
    now = asking<DeskCalls>(worker);
    for (const one of waiting) one();
    waiting.clear();
  };
  return { ask, stop };
};
