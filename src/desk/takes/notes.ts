/** The notes of a take: what happens while it is recorded, a line of JSON each, written at once. `performedOf` reads them. */
import type { Performed, PerformedHead, RunBegun } from './performed.ts';

export const headLine = (head: PerformedHead): string =>
  JSON.stringify({ ...head, format: 'levare.performing/1' });

export const runLine = (run: RunBegun): string => JSON.stringify({ run });

/** The run that sounded was left at this sample. */
export const leftLine = (left: number): string => JSON.stringify({ left });

export const endLine = (ended: Performed['ended'], samples: number): string =>
  JSON.stringify({ ended, samples });

/** The take stands on the shelf: where it does no more, its sound goes too. */
export const shelvedLine = JSON.stringify({ shelved: true });

/** Whether the take was ended in order, and whether it has come to the shelf. */
export const notesState = (notes: string): { readonly ended: boolean; readonly shelved: boolean } => {
  const lines = notes.split('\n');
  return {
    ended: lines.some((line) => line.startsWith('{"ended":')),
    shelved: lines.includes(shelvedLine),
  };
};
