/** What a take says of itself and of its like. */
import type { Take } from '../../desk/index.ts';

/** Ids of notes that were taken out of a take. */
export const notesOut = (take: Take | null): readonly string[] =>
  Object.entries(take?.out ?? {}).flatMap(([key, yes]) =>
    key.startsWith('note/') && yes !== '' ? [key.slice('note/'.length)] : [],
  );

/** Takes of the same bars that have been heard and count. */
export const othersOf = (
  { id: own, asked: { from, to, keep } }: Take,
  all: readonly Take[],
  heard: ReadonlySet<string>,
): readonly Take[] =>
  all.filter(
    ({ id, asked, out }) =>
      id !== own &&
      heard.has(id) &&
      asked['from'] === from &&
      asked['to'] === to &&
      asked['keep'] === keep &&
      out?.['take'] !== 'yes',
  );
