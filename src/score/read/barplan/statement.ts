import type { Beats, Bpm, Fraction } from '../../../units/index.ts';
import type { Metre } from '../../metre.ts';
import type { Bar, Ending, Jump } from '../../model.ts';

/** Where in the text something was said, from 1. */
export interface TextPlace {
  readonly line: number;
  readonly column: number;
}

/** A bar named by its printed number, or by its place in the plan from 1, and how far into the bar. */
export interface Where {
  readonly bar: { readonly number: string } | { readonly ordinal: number };
  readonly offset: Fraction;
  readonly place: TextPlace;
}

/** Which bars a statement lays down: a range of numbers, one label, or a count that goes on from the last number. */
export type Labels =
  | { readonly kind: 'range'; readonly first: number; readonly last: number }
  | { readonly kind: 'label'; readonly text: string; readonly printed: boolean }
  | { readonly kind: 'count'; readonly count: number; readonly numbered: boolean };

export interface RepeatWords {
  readonly times: number;
  readonly afterJump: boolean;
}

export interface BarsStatement {
  readonly kind: 'bars';
  readonly labels: Labels;
  readonly metre: Metre | null;
  readonly lasts: Beats | null;
  readonly pickup: boolean;
  readonly repeat: RepeatWords | null;
  readonly renumbered: boolean;
  readonly place: TextPlace;
}

export type Statement =
  | BarsStatement
  | { readonly kind: 'title'; readonly text: string }
  | { readonly kind: 'pickup'; readonly length: Beats; readonly place: TextPlace }
  | {
      readonly kind: 'repeat';
      readonly from: Where | null;
      readonly to: Where | null;
      readonly words: RepeatWords;
    }
  | {
      readonly kind: 'ending';
      readonly numbers: readonly number[];
      readonly text: string | null;
      readonly begins: boolean;
      readonly ends: Ending['ends'];
      readonly from: Where;
      readonly to: Where;
    }
  | { readonly kind: 'jump'; readonly jump: Jump; readonly until: 'fine' | 'coda' | null; readonly at: Where }
  | { readonly kind: 'barline'; readonly barline: Bar['barline']; readonly at: Where }
  | { readonly kind: 'fermata'; readonly after: Where }
  | {
      readonly kind: 'tempo';
      /** Null: the beat of the metre there. */
      readonly unit: Beats | null;
      readonly perMinute: Bpm;
      readonly printed: boolean;
      readonly at: Where | null;
      readonly place: TextPlace;
    }
  | { readonly kind: 'relation'; readonly from: Beats; readonly to: Beats; readonly at: Where | null }
  | { readonly kind: 'words'; readonly text: string; readonly at: Where | null }
  | { readonly kind: 'rehearsal'; readonly text: string; readonly at: Where | null };

/** How an ending is printed where the plan does not say: "1." or "1. 2.". */
export const endingText = (numbers: readonly number[]): string => numbers.map((n) => `${n}.`).join(' ');
