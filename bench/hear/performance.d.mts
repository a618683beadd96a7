import type { Random } from './random.mjs';
export function deviations(
  positions: readonly number[],
  players: readonly string[],
  how: { sd: readonly number[]; towardsOthers?: number; towardsClick?: number },
  random: Random,
): Float64Array[];
export function groupTime(how: {
  tempo?: number;
  driftPercent?: number;
  bends?: readonly { at: number; depth: number; width: number }[];
  from?: number;
  to?: number;
}): (time: number) => number;
