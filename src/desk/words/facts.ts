/** A finding as the tables of words see it: places and figures, and no one's name but where a lead is told. */
import type { Caution, FindingKind, Try } from '../findings/model.ts';

export interface Place {
  /** Printed number; empty for an upbeat bar. */
  readonly bar: string;
  readonly beat: string;
  /** Last bar of several, else null. */
  readonly toBar: string | null;
  /** Which repetition; null where there is one only. */
  readonly rep: number | null;
  /** Over how many repetitions; 1 where it is one of them, or there is one only. */
  readonly times: number;
}

/** A figure, rounded and in words: "42", "30", "54". */
export interface Amount {
  readonly value: string;
  readonly low: string;
  readonly high: string;
  /** "ms" or "dB", which stand behind the number in every language; empty where the unit takes words. */
  readonly unit: string;
}

export interface Told {
  readonly place: Place;
  readonly amount: Amount;
  /** Whether the figure was above zero. */
  readonly up: boolean;
  readonly n: number;
  /** Names of who is ahead and who follows; of a lead only. */
  readonly names: readonly [string, string];
  /** Evenness: the note value, "1/8". */
  readonly value: string;
}

/** What every language says. */
export interface FindingWords {
  /** Stands between whole and fraction. */
  readonly point: string;
  /** What can be told, a sentence for each kind. */
  readonly told: Readonly<Record<FindingKind, (told: Told) => string>>;
  /** What lies within its uncertainty. */
  readonly untold: Readonly<Record<FindingKind, (told: Told) => string>>;
  readonly small: string;
  readonly tries: Readonly<Record<Try, string>>;
  readonly cautions: Readonly<Record<Caution, (told: Told) => string>>;
  readonly tryThis: (text: string) => string;
  readonly caution: (texts: readonly string[]) => string;
  /** Above findings none of which can be told. */
  readonly nothing: string;
  /** Where there is none at all. */
  readonly tooLittle: string;
  readonly bars: (title: string, bars: string) => string;
  /** How many of all notes were surely heard, and how many of the others roughly. */
  readonly heard: (heard: number, all: number, rough: number) => string;
  readonly closing: string;
}
