/**
 * The shelf as a running program has it: what is changed counts at once and is kept as soon as the port has done it.
 * What could not be kept stays in memory and is tried again with the next change.
 */
import { fail, ok, type Problem, type Result } from '../../units/index.ts';
import type { ShelfContent } from './file.ts';
import type { Plain, ShelfRecord } from './formats.ts';
import { changeRecord, mergeRecords } from './merge.ts';
import type { ShelfPort } from './port.ts';
import { readRecord, recordKey } from './records.ts';

export interface ShelfState {
  readonly records: ReadonlyMap<string, ShelfRecord>;
  /** Whether something is not kept yet. */
  readonly unkept: boolean;
  /** Why something cannot be kept; null where all can. */
  readonly trouble: Problem | null;
  /** What was found damaged on this device. */
  readonly damaged: readonly Problem[];
}

export class ShelfKeeper {
  readonly #port: ShelfPort;
  /** Tag of this window in stamps. */
  readonly #by: string;
  readonly #changed: (removed: readonly string[]) => void;
  readonly #records = new Map<string, ShelfRecord>();
  readonly #unkept = new Map<string, ShelfRecord>();
  readonly #scores = new Map<string, Uint8Array>();
  #trouble: Problem | null = null;
  #damaged: readonly Problem[] = [];
  #saving: Promise<void> | null = null;

  /** `changed` is told after every change, here or in another window, with the keys that another window removed. */
  constructor(port: ShelfPort, by: string, changed: (removed: readonly string[]) => void) {
    this.#port = port;
    this.#by = by;
    this.#changed = changed;
    port.watch((removed) => void this.#hear(removed));
  }

  get state(): ShelfState {
    return {
      records: this.#records,
      unkept: this.#unkept.size > 0 || this.#scores.size > 0,
      trouble: this.#trouble,
      damaged: this.#damaged,
    };
  }

  /** Reads what is kept. Error: `shelf-blocked`. */
  async start(): Promise<Result<null>> {
    const loaded = await this.#load();
    this.#changed([]);
    return loaded;
  }

  async #load(): Promise<Result<null>> {
    const loaded = await this.#port.load();
    if (!loaded.ok) {
      this.#trouble = loaded.error;
      return loaded;
    }
    const read = loaded.value.map(readRecord);
    this.#damaged = read.flatMap((one) => (one.ok ? [] : [one.error]));
    for (const one of read) if (one.ok) this.#merge(one.value);
    return ok(null);
  }

  #merge(record: ShelfRecord): ShelfRecord {
    const key = recordKey(record);
    const before = this.#records.get(key);
    const merged = before === undefined ? record : mergeRecords(before, record);
    this.#records.set(key, merged);
    return merged;
  }

  async #hear(removed: readonly string[]): Promise<void> {
    for (const key of removed) {
      this.#records.delete(key);
      this.#unkept.delete(key);
    }
    await this.#load();
    this.#changed(removed);
  }

  /** Puts records on the shelf, or into what stands there of the same key; with bytes of scores by their hash. */
  put(records: Iterable<ShelfRecord>, scores: ReadonlyMap<string, Uint8Array> = new Map()): void {
    for (const record of records) this.#unkept.set(recordKey(record), this.#merge(record));
    for (const [hash, bytes] of scores) this.#scores.set(hash, bytes);
    this.#save();
    this.#changed([]);
  }

  /** Changes fields of a record; false where there is none of that key any more. */
  change(key: string, change: Plain): boolean {
    const record = this.#records.get(key);
    if (record === undefined) return false;
    this.put([changeRecord(record, change, this.#by)]);
    return true;
  }

  /** Tries once more to keep what could not be kept. */
  again(): void {
    this.#save();
  }

  /** Comes true when everything is kept or has failed to be. */
  async settled(): Promise<void> {
    while (this.#saving !== null) await this.#saving;
  }

  #save(): void {
    this.#saving ??= this.#saveAll().finally(() => {
      this.#saving = null;
      this.#changed([]);
    });
  }

  async #saveAll(): Promise<void> {
    while (this.#unkept.size > 0 || this.#scores.size > 0) {
      const batch = new Map(this.#unkept);
      const scores = new Map(this.#scores);
      const kept = await this.#port.keep(new Map([...batch].map(([key, { value }]) => [key, value])), scores);
      if (!kept.ok) {
        this.#trouble = kept.error;
        return;
      }
      this.#trouble = null;
      for (const [key, record] of batch) if (this.#unkept.get(key) === record) this.#unkept.delete(key);
      for (const hash of scores.keys()) this.#scores.delete(hash);
      for (const json of kept.value.values()) {
        const read = readRecord(json);
        // What was removed here meanwhile does not come back.
        if (read.ok && this.#records.has(recordKey(read.value))) this.#merge(read.value);
      }
    }
  }

  /**
   * Removes records; gives them with the scores that went with them, so that they can be put back. Error:
   * `shelf-blocked`, and then nothing is removed.
   */
  async remove(keys: readonly string[]): Promise<Result<ShelfContent>> {
    await this.settled();
    const content = await this.content(keys);
    if (!content.ok) return content;
    const removed = await this.#port.remove(keys);
    if (!removed.ok) return removed;
    for (const key of keys) {
      this.#records.delete(key);
      this.#unkept.delete(key);
    }
    this.#changed([]);
    return content;
  }

  /** The bytes of a score; null where they are not on the shelf. Error: `shelf-blocked`. */
  async score(hash: string): Promise<Result<Uint8Array | null>> {
    const here = this.#scores.get(hash);
    return here === undefined ? this.#port.score(hash) : ok(here);
  }

  /** Records by their keys with the scores that they name, to be exported. Errors: `shelf-blocked`. */
  async content(keys: Iterable<string>): Promise<Result<ShelfContent>> {
    const records = new Map<string, ShelfRecord>();
    const scores = new Map<string, Uint8Array>();
    for (const key of keys) {
      const record = this.#records.get(key);
      if (record === undefined) continue;
      records.set(key, record);
      if (record.kind !== 'piece' || scores.has(record.value.score)) continue;
      const bytes = await this.score(record.value.score);
      if (!bytes.ok) return fail(bytes.error.code, bytes.error.message);
      if (bytes.value !== null) scores.set(record.value.score, bytes.value);
    }
    return ok({ records, scores });
  }
}
