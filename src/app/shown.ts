/** What the page shows: the piece, what is asked of it, the drill with its page, and whether it plays. */
import type { DrillSummary, ListedPlace, LiveDrill, MarkingText, Overview } from '../desk/index.ts';
import type { Problem } from '../units/index.ts';
import { nothingAsked, type Asked } from './asked.ts';
import { usualSound, type SoundSettings } from './soundSettings.ts';
import type { Written } from './written.ts';

/** The score is read, the drill worked out, its page begun, or the places where the parts depend on each other are looked for. */
export type Busy = 'reading' | 'drill' | 'engraving' | 'places';

/** A marking that waits for its place. */
export interface Placing extends Pick<MarkingText, 'kind' | 'text' | 'time'> {
  /** Null: the part of the note that is touched, or all parts for a beat above the music. */
  readonly part: string | null;
}

export interface Shown {
  readonly piece: Overview | null;
  readonly asked: Asked;
  readonly drill: LiveDrill | null;
  /** The drill's page; null until its beginning is engraved. */
  readonly screen: Written | null;
  /** Where the parts depend on each other, heaviest first; empty until they are found. */
  readonly places: readonly ListedPlace[];
  /** What is being waited for. */
  readonly busy: Busy | null;
  /** Why there is no drill or no page; null where there is. */
  readonly error: Problem | null;
  /** About the drill that is shown. */
  readonly problems: readonly Problem[];
  readonly playing: 'still' | 'waiting' | 'playing';
  /**
   * When what was changed while it plays will count: at the next time through, at the next bar, or only at the next start;
   * null where nothing was changed.
   */
  readonly changed: 'time' | 'bar' | 'start' | null;
  /** Of the drill that waits for its place; null where none does. */
  readonly coming: DrillSummary | null;
  /** What the next touch on a beat or a note writes there; null: it puts a click or takes it. */
  readonly placing: Placing | null;
  /** Index of the bar in which a click was put or taken last, until something else is asked; else null. */
  readonly touched: number | null;
  readonly sound: SoundSettings;
  /** All bars of the piece, while they are looked at in place of the passage; null: the passage is. */
  readonly whole: Written | null;
  /** Whether there is a change to go back from, and one to go on to. */
  readonly undo: { readonly back: boolean; readonly on: boolean };
  /** The last step back or on, and how many there were; null before the first. */
  readonly told: { readonly way: 'back' | 'on'; readonly times: number } | null;
  /** Whether the music stands alone on the whole screen. */
  readonly stand: boolean;
  /** Seconds that a start by touch waits. */
  readonly wait: number;
  /** Whether sound can be made; null while that is not known. */
  readonly sounds: boolean | null;
}

/** A drill with its page. */
export type Made = Pick<Shown, 'drill' | 'screen' | 'problems'>;

/** Seconds. */
export const usualWait = 3;

/** Before a score is open. */
export const nothingShown: Shown = {
  piece: null,
  asked: nothingAsked,
  drill: null,
  screen: null,
  places: [],
  busy: 'reading',
  error: null,
  problems: [],
  playing: 'still',
  changed: null,
  coming: null,
  placing: null,
  touched: null,
  sound: usualSound,
  whole: null,
  undo: { back: false, on: false },
  told: null,
  stand: false,
  wait: usualWait,
  sounds: null,
};
