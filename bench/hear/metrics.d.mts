export function matching(
  references: readonly number[],
  estimates: readonly number[],
  window: number,
): [number, number][];
export function pairing(
  references: readonly number[],
  estimates: readonly number[],
  reach: number,
): [number, number][];
export function fMeasure(counts: { hits: number; references: number; estimates: number }): number;
export function mean(values: readonly number[]): number;
export function sd(values: readonly number[]): number;
export function quantile(values: readonly number[], q: number): number;
export function median(values: readonly number[]): number;
export function slopeWithin(groups: readonly { x: readonly number[]; y: readonly number[] }[]): number;
export function driftPercent(written: readonly number[], played: readonly number[]): number;
