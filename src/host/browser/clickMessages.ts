/** What the page, the audio thread and the thread that renders the parts tell each other. */
import type { LiveClicks, PartsBlock } from '../../desk/index.ts';

/** The name under which the audio thread knows the click processor. */
export const clickProcessor = 'levare-clicks';

/** How loud, as factors of an amplitude from 0 to 1, and where the click is heard. */
export interface Balance {
  readonly click: number;
  /** In the order of the drill's parts; those beyond its end sound at 1. */
  readonly parts: readonly number[];
  /** Left: the click alone on the left, the parts on the right. */
  readonly place: 'centre' | 'left';
}

/** Clicks, and parts where they sound, from a sample of the drill on. */
export interface Sounding {
  /** Counts up with each start, so that late news of an earlier one is not taken for this one's. */
  readonly run: number;
  readonly clicks: LiveClicks;
  /** The first stretch of the parts; more comes from the rendering thread. Null where none sound. */
  readonly head: PartsBlock | null;
  readonly from: number;
}

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
  /** All was played, or the stop's fade is over. */
  | { readonly kind: 'ended'; readonly run: number }
  /** Parts that were not there in time: samples of silence in their place. */
  | { readonly kind: 'late'; readonly run: number; readonly samples: number };

/** From the audio thread to the rendering one: how far it has come, in samples of the drill. */
export interface PartsWanted {
  readonly run: number;
  /** Null: no more. */
  readonly at: number | null;
}

/** From the rendering thread to the audio thread. */
export interface PartsMade {
  readonly run: number;
  readonly block: PartsBlock;
}
