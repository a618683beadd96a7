/** Readings of takes that are kept on this device. With a take, or with a recording that it was read from, its reading goes. */
import { parseTakeReading, type TakeReading } from '../../desk/index.ts';
import type { Problem } from '../../units/index.ts';

/** What is asked of the shelf: which records it has by kind and id, and why none can be read. */
interface Shelf {
  readonly now: {
    readonly state: { readonly records: ReadonlyMap<string, unknown> };
    readonly trouble: Problem | null;
  };
}

/** Where they are kept, as texts by the id of their take: the browser's own database. */
interface Texts {
  readonly list: () => Promise<readonly string[]>;
  readonly get: (take: string) => Promise<string | null>;
  readonly set: (take: string, text: string) => Promise<boolean>;
  readonly remove: (takes: readonly string[]) => Promise<void>;
}

export class KeptReadings {
  readonly #shelf: Shelf;
  readonly #texts: Texts;
  #ids: ReadonlySet<string> = new Set();

  constructor(shelf: Shelf, texts: Texts) {
    this.#shelf = shelf;
    this.#texts = texts;
  }

  /** Ids of takes that have been heard. */
  get ids(): ReadonlySet<string> {
    return this.#ids;
  }

  /** Once the shelf is read: readings whose take is gone go too. */
  async start(): Promise<void> {
    this.#ids = new Set(await this.#texts.list());
    await this.#forget(this.#gone());
  }

  /** Told after changes of the shelf: with a take its reading goes, at once. */
  noticed(): void {
    void this.#forget(this.#gone());
  }

  /** A reading is no longer kept: a recording that it was read from is deleted. */
  async forget(take: string): Promise<void> {
    await this.#forget([take]);
  }

  /** The reading of a take; null where there is none that can be read. */
  async of(take: string): Promise<TakeReading | null> {
    const text = await this.#texts.get(take);
    if (text === null) return null;
    const read = parseTakeReading(JSON.parse(text));
    return read.ok ? read.value : null;
  }

  async keep(reading: TakeReading): Promise<void> {
    await this.#texts.set(reading.take, JSON.stringify(reading));
    this.#ids = new Set([...this.#ids, reading.take]);
  }

  /** None while the shelf is in trouble: a take that could not be read is not gone. */
  #gone(): readonly string[] {
    if (this.#shelf.now.trouble !== null) return [];
    const { records } = this.#shelf.now.state;
    return [...this.#ids].filter((id) => !records.has(`take:${id}`));
  }

  async #forget(takes: readonly string[]): Promise<void> {
    if (takes.length === 0) return;
    this.#ids = new Set([...this.#ids].filter((id) => !takes.includes(id)));
    await this.#texts.remove(takes);
  }
}
