/**
 * Asking another thread: each question brings a channel of its own, on which the one answer comes back. So no
 * question needs a number, and answers cannot be mixed up.
 */
import { fail, type Result } from '../../units/index.ts';

/** By the name of a question what is asked and what is answered; both fit to be handed to another thread. */
export type Calls = Readonly<Record<string, { readonly asks: unknown; readonly answers: Result<unknown> }>>;

export interface Question<C extends Calls, K extends keyof C> {
  readonly kind: K;
  readonly ask: C[K]['asks'];
}

/** Answers of one kind, or of a thread that broke on the question. */
export type Answer<C extends Calls, K extends keyof C> = C[K]['answers'] | Result<never>;

/** Asks; the promise always comes true, as long as the other thread lives. `transfer`: what of the question is handed over. */
export const asking =
  <C extends Calls>(worker: Worker) =>
  <K extends keyof C>(
    kind: K,
    ask: C[K]['asks'],
    transfer: readonly Transferable[] = [],
  ): Promise<Answer<C, K>> =>
    new Promise((resolve) => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = ({ data }: MessageEvent<Answer<C, K>>) => {
        port1.close();
        resolve(data);
      };
      const question: Question<C, K> = { kind, ask };
      worker.postMessage(question, [port2, ...transfer]);
    });

/** What a thread answers each kind of question. */
export type Answers<C extends Calls> = {
  readonly [K in keyof C]: (ask: C[K]['asks']) => Promise<C[K]['answers']>;
};

/** A defect of the program, in words. */
export const brokeOn = (error: unknown): Result<never> =>
  fail(
    'defect',
    `The program itself broke on this: ${error instanceof Error ? error.message : String(error)}`,
  );

/** Lets this thread answer. A defect becomes an answer too, so that nobody waits for ever. */
export const answering = <C extends Calls>(answers: Answers<C>): void => {
  addEventListener('message', ({ data, ports }: MessageEvent<Question<C, keyof C>>) => {
    const [port] = ports;
    if (port === undefined) return;
    const answer = answers[data.kind];
    answer(data.ask)
      .catch(brokeOn)
      .then((value) => port.postMessage(value))
      .catch((error: unknown) => port.postMessage(brokeOn(error)));
  });
};
