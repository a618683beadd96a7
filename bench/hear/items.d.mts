export interface Item {
  readonly name: string;
  readonly half: 'tuning' | 'report';
  readonly row: string;
  readonly seed: string;
  readonly source: string;
  readonly spreadMs: number;
  readonly voices: readonly string[];
  readonly metre: string;
  readonly tempo: number;
  readonly rate: number;
  readonly bits: number;
  readonly room: string;
  readonly noiseDb: number;
  readonly neighbourDb: number | null;
  readonly clickDb: number | null;
  readonly mics: 'each' | 'one';
  readonly sd: readonly number[];
  readonly [key: string]: unknown;
}
export const benchSeed: string;
export function itemsOf(half: 'tuning' | 'report', seed?: string): Item[];
