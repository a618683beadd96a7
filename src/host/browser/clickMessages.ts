/** What page and audio thread tell each other. */
import type { LiveClicks } from '../../desk/index.ts';

/** The name under which the audio thread knows the click processor. */
export const clickProcessor = 'levare-clicks';

export type ToAudio =
  | {
      readonly kind: 'play';
      /** Counts up with each start, so that late news of an earlier one is not taken for this one's. */
      readonly run: number;
      readonly clicks: LiveClicks;
      /** Samples of silence before the drill's first. */
      readonly wait: number;
    }
  | { readonly kind: 'stop' };

export type FromAudio =
  /** `frame`: the audio thread's frame on which the drill's first sample lies. */
  | { readonly kind: 'started'; readonly run: number; readonly frame: number }
  /** All was played, or the stop's fade is over. */
  | { readonly kind: 'ended'; readonly run: number };
