/** What stands at a moment of a sheet: its notes by part and onset, and where they are in a system. */
import { F, type Beats } from '../units/index.ts';
import type { SheetScore } from './sheetScore.ts';
import type { Measured, Stood } from './skyline.ts';

/** Elements by part and onset: what stands at a moment. */
export class Moments {
  readonly #ids = new Map<string, string[]>();
  readonly #onsets: readonly { readonly at: Beats; readonly id: string }[];

  constructor({ score, clickPart }: SheetScore) {
    const all: { at: Beats; id: string }[] = [];
    for (const part of score.parts) {
      if (part.id === clickPart) continue;
      for (const { id, kind, onset } of part.written) {
        if (kind === 'grace') continue;
        all.push({ at: onset, id });
        if (kind !== 'note') continue;
        const key = `${part.id} ${F.format(onset)}`;
        this.#ids.set(key, [...(this.#ids.get(key) ?? []), id]);
      }
    }
    this.#onsets = all;
  }

  /** Notes of these parts at a moment. */
  notes(parts: readonly string[], at: Beats): readonly string[] {
    return parts.flatMap((part) => this.#ids.get(`${part} ${F.format(at)}`) ?? []);
  }

  /** Everything that begins at a moment. */
  all(at: Beats): readonly string[] {
    return this.#onsets.filter((one) => F.equal(one.at, at)).map(({ id }) => id);
  }
}

export const standing = (ids: readonly string[], { stood }: Measured): readonly Stood[] =>
  ids.flatMap((id) => stood.get(id) ?? []);
