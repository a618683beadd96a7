export interface Instant {
  readonly drill: number;
  readonly file: number;
}
export interface TruthNote {
  readonly id: string;
  readonly part: string;
  readonly rep: number;
  readonly written: number | null;
  readonly state: string;
  readonly midi?: number;
  readonly slurred?: boolean;
  readonly time?: Instant;
  readonly perceived?: Instant;
  readonly offset?: Instant;
}
export interface Truth {
  readonly format: 'levare.truth/1';
  readonly parts: readonly { readonly id: string }[];
  readonly clicksHeard: boolean;
  readonly clock: readonly {
    readonly file: string;
    readonly part: string | null;
    readonly offset: number;
    readonly ppm: number;
  }[];
  readonly notes: readonly TruthNote[];
  readonly stop: unknown;
}
export interface Scores {
  readonly notes: number;
  readonly unsure: number;
  readonly counts: Readonly<Record<string, { hits: number; references: number; estimates: number }>>;
  readonly errors: readonly number[];
  readonly rawErrors: readonly number[];
  readonly inside68: readonly number[];
  readonly inside95: readonly number[];
  readonly width95: readonly number[];
  readonly pairs: readonly { x: readonly number[]; y: readonly number[]; meanError: number }[];
  readonly drift: number;
}
export function scoreItem(
  truth: Truth,
  reading: {
    notes: readonly { id: string; part: string; onset?: number; sd?: number; state: string }[];
    events?: Readonly<Record<string, readonly number[]>>;
  },
  field?: 'time' | 'perceived',
): Scores;
