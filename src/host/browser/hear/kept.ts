/** Readings of takes, kept on this device (IndexedDB, through idb), each under the id of its take. */
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';

interface KeptReadings extends DBSchema {
  /** `levare.take-reading` as text. */
  readonly readings: { readonly key: string; readonly value: string };
}

export interface Readings {
  /** Ids of the takes that have one. */
  readonly list: () => Promise<readonly string[]>;
  /** Null where there is none. */
  readonly get: (take: string) => Promise<string | null>;
  /** False where the browser keeps nothing. */
  readonly set: (take: string, text: string) => Promise<boolean>;
  readonly remove: (takes: readonly string[]) => Promise<void>;
}

const databaseName = 'levare-readings';

/** Where the browser keeps nothing, readings last as long as the page. */
export const browserReadings = (): Readings => {
  const memory = new Map<string, string>();
  let opened: Promise<IDBPDatabase<KeptReadings> | null> | null = null;
  const database = (): Promise<IDBPDatabase<KeptReadings> | null> =>
    (opened ??= openDB<KeptReadings>(databaseName, 1, {
      upgrade: (db) => void db.createObjectStore('readings'),
    }).catch(() => null));
  return {
    list: async () => {
      const kept = await (await database())?.getAllKeys('readings').catch(() => []);
      return [...new Set([...(kept ?? []), ...memory.keys()])];
    },
    get: async (take) => {
      const kept = await (await database())?.get('readings', take).catch(() => undefined);
      return kept ?? memory.get(take) ?? null;
    },
    set: async (take, text) => {
      try {
        const db = await database();
        if (db !== null) {
          await db.put('readings', text, take);
          return true;
        }
      } catch {
        // No room, or no permission.
      }
      memory.set(take, text);
      return false;
    },
    remove: async (takes) => {
      const db = await database();
      for (const take of takes) {
        memory.delete(take);
        await db?.delete('readings', take).catch(() => undefined);
      }
    },
  };
};
