/** A shelf that is kept as long as the program runs: where the browser keeps nothing, and in tests. */
import { ok } from '../../units/index.ts';
import { scoresNamed, toKeep } from './keptRecords.ts';
import type { ShelfPort } from './port.ts';

export const memoryShelf = (): ShelfPort => {
  const kept = new Map<string, unknown>();
  const bytes = new Map<string, Uint8Array>();
  const notes = new Map<string, string>();
  return {
    load: () => Promise.resolve(ok([...kept.values()])),
    score: (sha256) => Promise.resolve(ok(bytes.get(sha256) ?? null)),
    keep: (records, scores) => {
      const result = new Map<string, unknown>();
      for (const [key, record] of records) {
        const next = toKeep(kept.get(key), record);
        kept.set(key, next);
        result.set(key, next);
      }
      for (const [hash, score] of scores) bytes.set(hash, score);
      return Promise.resolve(ok(result));
    },
    remove: (keys) => {
      for (const key of keys) kept.delete(key);
      const named = scoresNamed(kept.values());
      for (const hash of [...bytes.keys()]) if (!named.has(hash)) bytes.delete(hash);
      return Promise.resolve(ok(null));
    },
    watch: () => undefined,
    note: (name) => Promise.resolve(notes.get(name) ?? null),
    setNote: (name, text) => {
      notes.set(name, text);
      return Promise.resolve();
    },
    lasting: () => Promise.resolve(false),
  };
};
