/**
 * The engraver on Node: Verovio in a thread of its own, which is ended when it takes too long or breaks
 * (`guardedEngraver`).
 */
import { Worker } from 'node:worker_threads';
import {
  textFontIn,
  textFontSample,
  verovioOptions,
  verovioVersion,
  withoutStyle,
  type Engraved,
  type EngraveOptions,
} from '../../desk/sheet.ts';
import { ok } from '../../units/index.ts';
import { guardedEngraver, type EngravingThread, type GuardedEngraver } from '../guardedEngraver.ts';

/** From src and from dist alike. */
const usualProgram = new URL('../../../bin/engraver-worker.js', import.meta.url);

/** Megabytes that the thread may fill, the engraver's own memory not counted: a thread that fills more ends alone. */
const mostMemory = 2048;

export interface EngraverSettings {
  /** Milliseconds that one score may take, start of the thread not counted; by its size where it is left out. */
  readonly limit?: number;
  /** The program of the thread, for tests; Verovio's where it is left out. */
  readonly program?: URL;
  /** Megabytes that the thread may fill; 2048 where it is left out. */
  readonly memory?: number;
}

/** The Node engraver can be closed: its thread ends, and starts anew with the next score. */
export type NodeEngraver = GuardedEngraver;

type Answer =
  | { readonly kind: 'ready'; readonly version: string }
  | { readonly kind: 'engraved'; readonly pictures: readonly string[] }
  | { readonly kind: 'failed'; readonly why: string };

const isAnswer = (value: unknown): value is Answer =>
  typeof value === 'object' && value !== null && 'kind' in value;

/** One thread. It keeps the program running only while it is asked something. */
const nodeThread = (program: URL, memory: number): EngravingThread => {
  const worker = new Worker(program, { resourceLimits: { maxOldGenerationSizeMb: memory } });
  let heard: (answer: unknown) => void = () => undefined;
  const next = (): Promise<unknown> =>
    new Promise((resolve) => {
      heard = resolve;
    });
  worker.on('message', (answer: unknown) => heard(answer));
  const gone = new Promise<void>((resolve) => {
    // A listener for errors has to stand at all times: without one, an error of an idle thread ends the program.
    worker.on('error', () => resolve());
    worker.on('messageerror', () => resolve());
    worker.on('exit', () => resolve());
  });
  const asked = async (musicXml: string, options: EngraveOptions): Promise<readonly string[]> => {
    worker.ref();
    const answer = next();
    worker.postMessage({ musicXml, options: verovioOptions(options) });
    const told = await answer;
    worker.unref();
    if (!isAnswer(told) || told.kind !== 'engraved') throw new Error('The engraver failed.');
    return told.pictures;
  };
  const begin = async (): Promise<Engraved['musicFont']> => {
    const ready = await next();
    if (!isAnswer(ready) || ready.kind !== 'ready' || !ready.version.startsWith(verovioVersion))
      throw new Error('This is not the engraver that was pinned.');
    const [sample = ''] = await asked(textFontSample, { staff: 7, width: 180 });
    const font = textFontIn(sample);
    if (font === null) throw new Error('The engraver gave no text font.');
    return { family: font.family, woff2: new Uint8Array(Buffer.from(font.base64, 'base64')) };
  };
  const ready = begin();
  return {
    ready,
    engrave: async (musicXml, options) => {
      const musicFont = await ready;
      const pictures = await asked(musicXml, options);
      return ok({ pictures: pictures.map(withoutStyle), musicFont });
    },
    gone,
    end: () => worker.terminate(),
  };
};

/** An engraver that starts its thread with the first score. The idle thread does not keep the program running. */
export const nodeEngraver = ({
  limit,
  program = usualProgram,
  memory = mostMemory,
}: EngraverSettings = {}): NodeEngraver =>
  guardedEngraver(
    `Verovio ${verovioVersion}`,
    () => nodeThread(program, memory),
    limit === undefined ? {} : { limit: () => limit },
  );
