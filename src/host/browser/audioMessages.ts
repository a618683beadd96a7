/** What the page and the audio thread tell each other. */
import type { Balance, Sounding } from './clickMessages.ts';

/** The name under which the audio thread knows the click processor. */
export const clickProcessor = 'levare-clicks';

export type ToAudio =
  /** `wait`: samples of silence first. What sounded before fades out. */
  | { readonly kind: 'play'; readonly sounding: Sounding; readonly wait: number }
  /**
   * Run `after` is left at its sample `at`, and this is begun on that very frame. The last one told counts; where another
   * run plays by now, nothing is done.
   */
  | { readonly kind: 'next'; readonly sounding: Sounding; readonly after: number; readonly at: number }
  | { readonly kind: 'balance'; readonly balance: Balance }
  | { readonly kind: 'stop' }
  /** The way to the rendering thread. */
  | { readonly kind: 'connect'; readonly port: MessagePort };

export type FromAudio =
  /** `frame`: the audio thread's frame on which the drill's first sample lies, or would lie. */
  | { readonly kind: 'started'; readonly run: number; readonly frame: number }
  /** All was played, or the stop's fade is over: it is silent from this frame on. */
  | { readonly kind: 'ended'; readonly run: number; readonly frame: number }
  /** Parts that were not there in time: samples of silence in their place. */
  | { readonly kind: 'late'; readonly run: number; readonly samples: number };
