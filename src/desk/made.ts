import type { Problem } from '../units/index.ts';
import type { WrittenFile } from './ports.ts';
import type { DrillSummary } from './summary.ts';

/** The printed format "levare.made/1": what became of a request for a drill. */
export interface Made extends DrillSummary {
  readonly format: 'levare.made/1';
  /** As the user named it. */
  readonly folder: string;
  readonly files: readonly WrittenFile[];
  readonly problems: readonly Problem[];
}

/** Puts together what is printed once the files are written. */
export const madeOf = (
  folder: string,
  files: readonly WrittenFile[],
  summary: DrillSummary,
  problems: readonly Problem[],
): Made => ({ format: 'levare.made/1', folder, files, ...summary, problems });
