import type { Random } from './random.mjs';
export function randomScore(
  what: {
    voices: readonly string[];
    metre: string;
    bars: number;
    texture: string;
    tempo: number;
    slurred: readonly boolean[];
    trilled: boolean;
  },
  random: Random,
): { text: string; marks: Readonly<Record<string, readonly { slurredToNext: boolean; trill: boolean }[]>> };
