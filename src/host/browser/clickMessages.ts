/** What is told of a drill's sound between the page, the audio thread and the thread that renders the parts. */
import type { LiveClicks, PartsBlock } from '../../desk/index.ts';

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
