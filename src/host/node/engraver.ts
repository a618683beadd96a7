/** The engraver on Node: Verovio in a thread of its own, which is ended when it takes too long or breaks. */
import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import {
  textFontIn,
  textFontSample,
  verovioOptions,
  verovioVersion,
  withoutStyle,
  type Engraved,
  type EngraveOptions,
  type Engraver,
} from '../../desk/sheet.ts';
import { fail, ok, type Result } from '../../units/index.ts';

/** From src and from dist alike. */
const program = new URL('../../../bin/engraver-worker.js', import.meta.url);

type Answer =
  | { readonly kind: 'ready'; readonly version: string }
  | { readonly kind: 'engraved'; readonly pictures: readonly string[] }
  | { readonly kind: 'failed'; readonly why: string };

interface Running {
  readonly worker: Worker;
  readonly font: Engraved['musicFont'];
}

export interface EngraverSettings {
  /** Milliseconds that one score may take, start of the thread not counted; 120,000 where it is left out. */
  readonly limit?: number;
}

/** The Node engraver can be closed: its thread ends, and starts anew with the next score. */
export interface NodeEngraver extends Engraver {
  readonly close: () => Promise<void>;
}

class Timeout extends Error {}

/** Milliseconds for the thread to start; on two slow cores it takes about 1,000. */
const startLimit = 60_000;

const isAnswer = (value: unknown): value is Answer =>
  typeof value === 'object' && value !== null && 'kind' in value;

/** The worker's next answer; rejects where it ends, breaks or takes longer than `limit` milliseconds. */
const answerOf = async (worker: Worker, limit: number): Promise<Answer> => {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(new Timeout()), limit);
  const ended = async (): Promise<unknown[]> => {
    await once(worker, 'exit', { signal: stop.signal });
    throw new Error('The engraver ended by itself.');
  };
  try {
    const [answer] = await Promise.race([once(worker, 'message', { signal: stop.signal }), ended()]);
    if (!isAnswer(answer)) throw new Error('The engraver gave no answer.');
    return answer;
  } catch (error) {
    throw stop.signal.reason instanceof Timeout ? stop.signal.reason : error;
  } finally {
    clearTimeout(timer);
    stop.abort();
  }
};

const asked = async (
  worker: Worker,
  limit: number,
  musicXml: string,
  options: EngraveOptions,
): Promise<readonly string[]> => {
  worker.postMessage({ musicXml, options: verovioOptions(options) });
  const answer = await answerOf(worker, limit);
  if (answer.kind !== 'engraved') throw new Error('The engraver failed.');
  return answer.pictures;
};

const start = async (): Promise<Running> => {
  const worker = new Worker(program);
  try {
    const ready = await answerOf(worker, startLimit);
    if (ready.kind !== 'ready' || !ready.version.startsWith(verovioVersion))
      throw new Error('This is not the engraver that was pinned.');
    const [sample = ''] = await asked(worker, startLimit, textFontSample, { staff: 7, width: 180 });
    const font = textFontIn(sample);
    if (font === null) throw new Error('The engraver gave no text font.');
    const woff2 = new Uint8Array(Buffer.from(font.base64, 'base64'));
    return { worker, font: { family: font.family, woff2 } };
  } catch (error) {
    await worker.terminate();
    throw error;
  }
};

/** An engraver that starts its thread with the first score. The idle thread does not keep the program running. */
export const nodeEngraver = ({ limit = 120_000 }: EngraverSettings = {}): NodeEngraver => {
  let running: Running | null = null;
  let queue: Promise<unknown> = Promise.resolve();

  const close = async (): Promise<void> => {
    const last = running;
    running = null;
    await last?.worker.terminate();
  };

  const work = async (musicXml: string, options: EngraveOptions): Promise<Result<Engraved>> => {
    try {
      running ??= await start();
      const { worker, font } = running;
      worker.ref();
      const pictures = await asked(worker, limit, musicXml, options);
      worker.unref();
      return ok({ pictures: pictures.map(withoutStyle), musicFont: font });
    } catch (error) {
      await close();
      return error instanceof Timeout
        ? fail(
            'engraving-timeout',
            `Engraving took longer than ${Math.round(limit / 1000)} s and was ended. Try fewer bars.`,
          )
        : fail('engraving-failed', 'The engraver gave up on this passage. Try fewer bars or parts.');
    }
  };

  return {
    version: `Verovio ${verovioVersion}`,
    engrave: (musicXml, options) => {
      const result = queue.then(() => work(musicXml, options));
      queue = result;
      return result;
    },
    close,
  };
};
