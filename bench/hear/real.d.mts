import type { Timeline } from './item.mjs';
import type { Truth } from './score.mjs';
export function parseCsv(text: string): Record<string, string>[];
export function truthFromOnsets(
  name: string,
  timeline: Timeline,
  files: readonly string[],
  rows: readonly Readonly<Record<string, string>>[],
  clock: Truth['clock'] | null,
): Truth;
