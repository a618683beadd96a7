/** What every adapter does inside of its transaction: pure, on records as they are kept. */
import type { Plain } from './formats.ts';
import { mergeRecords } from './merge.ts';
import { readRecord } from './records.ts';

/**
 * A record as it is to be kept, from how it is kept now (undefined where it is not) and what comes new. What is kept and
 * cannot be read is replaced: the new one was made from all that could be read.
 */
export const toKeep = (now: unknown, next: Plain): Plain => {
  if (now === undefined) return next;
  const [before, after] = [readRecord(now), readRecord(next)];
  return before.ok && after.ok ? mergeRecords(before.value, after.value).value : next;
};

/** Hashes of the scores that these records name. */
export const scoresNamed = (records: Iterable<unknown>): ReadonlySet<string> => {
  const named = new Set<string>();
  for (const json of records) {
    const read = readRecord(json);
    if (!read.ok) continue;
    const { value } = read.value;
    // Records of later versions may name scores too.
    if (typeof value['score'] === 'string') named.add(value['score']);
  }
  return named;
};
