/**
 * The shelf in the browser's own database (IndexedDB), through idb. Every change is one transaction that merges what is
 * new into what is kept, so that two windows never overwrite each other's work, and a window that is killed loses
 * nothing that was kept before.
 */
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import { memoryShelf, scoresNamed, toKeep, type Plain, type ShelfPort } from '../../desk/index.ts';
import { fail, ok, problem, type Problem, type Result } from '../../units/index.ts';

interface Kept extends DBSchema {
  /** By "kind:id". */
  readonly records: { readonly key: string; readonly value: Plain };
  /** By SHA-256. */
  readonly scores: { readonly key: string; readonly value: Uint8Array };
  readonly notes: { readonly key: string; readonly value: string };
}
type Db = IDBPDatabase<Kept>;

const databaseName = 'levare';

/**
 * What makes the database of one version into that of the next; the first makes it from nothing. Its version is their
 * number. (Records have versions of their own: desk/shelf/records.ts.)
 */
const upgraders: readonly ((db: Db) => void)[] = [
  (db) => {
    db.createObjectStore('records');
    db.createObjectStore('scores');
    db.createObjectStore('notes');
  },
];

const nameOf = (error: unknown): string => (error instanceof Error ? error.name : '');

const full = (): Result<never> =>
  fail(
    'shelf-full',
    'This device has no room left: the last changes are not kept yet, and would be gone with this window. Take the shelf along as a file, or make room; then they are kept with your next change.',
  );

const newer = (): Result<never> =>
  fail(
    'shelf-newer',
    'A newer Levare has the shelf of this browser. Close the other windows of Levare and load this one anew; nothing is lost.',
  );

const blocked = (): Result<never> =>
  fail(
    'shelf-blocked',
    'This browser keeps nothing for this page: a private window, or storage that is switched off. Everything works, but the shelf is gone with this window: take it along as a file before.',
  );

const refused = (error: unknown): Result<never> => {
  switch (nameOf(error)) {
    case 'QuotaExceededError':
      return full();
    case 'VersionError':
      return newer();
    default:
      return blocked();
  }
};

/** Told between windows after each change. */
interface Told {
  readonly removed: readonly string[];
}

/** The shelf's door: opened when it is needed, and again after the browser has shut it. */
class Door {
  #db: Promise<Db> | null = null;
  #superseded = false;

  async open(): Promise<Db> {
    if (this.#superseded) throw new DOMException('A newer window took over.', 'VersionError');
    this.#db ??= openDB<Kept>(databaseName, upgraders.length, {
      upgrade: (db, from) => {
        for (const upgrade of upgraders.slice(from)) upgrade(db);
      },
      // A window with a newer version waits for this one to let go.
      blocking: () => {
        this.#superseded = true;
        void this.#db?.then((db) => db.close());
        this.#db = null;
      },
      terminated: () => (this.#db = null),
    });
    try {
      return await this.#db;
    } catch (error) {
      this.#db = null;
      throw error;
    }
  }
}

const attempt = async <T>(work: () => Promise<T>): Promise<Result<T>> => {
  try {
    return ok(await work());
  } catch (error) {
    return refused(error);
  }
};

/** Does the work of a transaction, all or nothing; where it fails, with the transaction's own reason (a full disk). */
const wholly = async (
  change: { readonly done: Promise<void>; readonly error: DOMException | null; readonly abort: () => void },
  work: () => Promise<void>,
): Promise<void> => {
  try {
    await work();
    await change.done;
  } catch (error) {
    const reason = change.error ?? error;
    change.done.catch(() => undefined);
    try {
      change.abort();
    } catch {
      // It was over already.
    }
    throw reason;
  }
};

const keepIn = async (
  db: Db,
  records: ReadonlyMap<string, Plain>,
  scores: ReadonlyMap<string, Uint8Array>,
): Promise<ReadonlyMap<string, unknown>> => {
  const change = db.transaction(['records', 'scores'], 'readwrite', { durability: 'strict' });
  const kept = new Map<string, unknown>();
  const work = async (): Promise<void> => {
    const store = change.objectStore('records');
    for (const [key, record] of records) {
      const next = toKeep(await store.get(key), record);
      await store.put(next, key);
      kept.set(key, next);
    }
    for (const [hash, bytes] of scores) await change.objectStore('scores').put(bytes, hash);
  };
  await wholly(change, work);
  return kept;
};

const removeFrom = async (db: Db, keys: readonly string[]): Promise<null> => {
  const change = db.transaction(['records', 'scores'], 'readwrite', { durability: 'strict' });
  const work = async (): Promise<void> => {
    const [records, scores] = [change.objectStore('records'), change.objectStore('scores')];
    for (const key of keys) await records.delete(key);
    const named = scoresNamed(await records.getAll());
    for (const hash of await scores.getAllKeys()) if (!named.has(hash)) await scores.delete(hash);
  };
  await wholly(change, work);
  return null;
};

const portOn = (door: Door): ShelfPort => {
  const others = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel('levare.shelf');
  const tell = (removed: readonly string[]): void => {
    const told: Told = { removed };
    others?.postMessage(told);
  };
  return {
    load: () => attempt(async () => (await door.open()).getAll('records')),
    score: (sha256) => attempt(async () => (await (await door.open()).get('scores', sha256)) ?? null),
    keep: async (records, scores) => {
      const kept = await attempt(async () => keepIn(await door.open(), records, scores));
      if (kept.ok) tell([]);
      return kept;
    },
    remove: async (keys) => {
      const removed = await attempt(async () => removeFrom(await door.open(), keys));
      if (removed.ok) tell(keys);
      return removed;
    },
    watch: (told) => {
      others?.addEventListener('message', ({ data }: MessageEvent<Told>) => told(data.removed));
    },
    note: async (name) => {
      const note = await attempt(async () => (await door.open()).get('notes', name));
      return note.ok ? (note.value ?? null) : null;
    },
    setNote: async (name, text) => {
      await attempt(async () => (await door.open()).put('notes', text, name));
    },
    lasting: async () => {
      const asked = await attempt(() => navigator.storage.persist());
      return asked.ok && asked.value;
    },
  };
};

/**
 * The shelf of this browser; where it keeps nothing, one that lasts as long as the window, and why. Problems:
 * `shelf-blocked`, `shelf-newer`.
 */
export const browserShelf = async (): Promise<{
  readonly port: ShelfPort;
  readonly trouble: Problem | null;
}> => {
  const door = new Door();
  const opened = await attempt(() => door.open());
  if (opened.ok) return { port: portOn(door), trouble: null };
  const { code, message } = opened.error;
  return { port: memoryShelf(), trouble: problem('error', code, message) };
};
