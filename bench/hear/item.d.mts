import type { Item } from './items.mjs';
import type { Truth } from './score.mjs';
export interface Timeline {
  readonly notes: readonly {
    readonly id: string;
    readonly part: string;
    readonly rep: number;
    readonly barIndex: number;
    readonly time: number;
    readonly duration: number;
    readonly midi: number;
    readonly kept: boolean;
  }[];
}
export interface Played {
  readonly partIds: readonly string[];
  readonly tracks: readonly Float32Array[];
  readonly seconds: number;
}
export interface Recording {
  readonly part: number | null;
  readonly clock: { readonly offset: number; readonly ppm: number };
  readonly samples: Float32Array;
}
export type Bank = Map<string, { samples: Float32Array; gain: number; cents: number }>;
export function playItem(
  item: Item,
  timeline: Timeline,
  bankFor: (source: string, instrument: string) => Bank,
  marks?: Readonly<Record<string, readonly { slurredToNext: boolean; trill: boolean }[]>>,
): Played;
export function recordItem(item: Item, played: Played, click: Float32Array): Recording[];
export function truthOf(item: Item, played: Played, recordings: readonly Recording[]): Truth;
