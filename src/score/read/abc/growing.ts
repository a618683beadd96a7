/** A part while the tunes of a file follow each other: what it has, and what a later tune says anew. */
import { beats, F, type Beats } from '../../../units/index.ts';
import type { Clef, Key, Transposition } from '../../model.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import type { PartHead } from '../drafts/layOut.ts';

/** A part over the whole file: its drafts by bar, null where a tune does not have it. */
export interface Growing {
  head: PartHead;
  staves: number;
  readonly drafts: (MeasureDraft | null)[];
  count: number;
  /** What holds at the end of what is there: by staff, 0 for all. */
  readonly clefs: Map<number, Clef>;
  readonly keys: Map<number, Key>;
  transposition: Transposition | null;
  /** Names of its voices by their ids: the same in every tune. */
  readonly voices: Map<string, string>;
}

/** Takes note of what holds behind a bar. */
export const remember = (growing: Growing, { clefs, keys, transpositions }: MeasureDraft): void => {
  for (const clef of clefs) growing.clefs.set(clef.staff, clef);
  for (const key of keys) {
    if (key.staff === null) growing.keys.clear();
    growing.keys.set(key.staff ?? 0, key);
  }
  growing.transposition = transpositions.at(-1) ?? growing.transposition;
};

/** The first bar of a later tune: says again only what is new, and that a transposition is over. */
export const settle = (growing: Growing, out: MeasureDraft): void => {
  const old = growing.transposition;
  const keepOnly = <T extends { readonly at: Beats }>(items: T[], isNew: (item: T) => boolean): void => {
    const kept = items.filter((item) => F.isPositive(item.at) || isNew(item));
    items.splice(0, items.length, ...kept);
  };
  keepOnly(out.clefs, ({ staff, sign, line, octave }) => {
    const known = growing.clefs.get(staff);
    return known?.sign !== sign || known.line !== line || known.octave !== octave;
  });
  keepOnly(out.keys, ({ staff, fifths, mode }) => {
    const known = growing.keys.get(staff ?? 0);
    return known?.fifths !== fifths || known.mode !== mode || growing.keys.size > 1;
  });
  if (old === null) return;
  const start = out.transpositions.find(({ at }) => !F.isPositive(at));
  if (start === undefined && old.chromatic !== 0)
    out.transpositions.unshift({ at: beats(F.zero), diatonic: 0, chromatic: 0 });
  keepOnly(out.transpositions, ({ chromatic }) => chromatic !== old.chromatic);
};

/** A tune that ends with a plain bar line, or none, ends all the same where another follows. `last`: its last bar, by part. */
export const closeTune = (last: readonly MeasureDraft[]): void => {
  const closed = last.some(({ styles, repeats }) =>
    [...styles, ...repeats].some(({ edge }) => edge === 'right'),
  );
  if (!closed) last[0]?.styles.push({ edge: 'right', style: 'light-heavy' });
};

const jumpsBack = (draft: MeasureDraft | null): boolean =>
  draft?.jumps.some(({ kind }) => kind === 'daCapo' || kind === 'dalSegno') ?? false;

/**
 * Strains of a tune often end with "|]", which elsewhere is the end of a piece: no da capo would find its way back over it.
 * Before one it is a double bar line (common practice, no source). `parts`: the bars of one tune, part by part.
 */
export const joinStrains = (parts: readonly (readonly (MeasureDraft | null)[])[]): void => {
  const last = parts.reduce((most, drafts) => Math.max(most, drafts.findLastIndex(jumpsBack)), -1);
  for (const draft of parts.flatMap((drafts) => drafts.slice(0, Math.max(0, last)))) {
    if (draft === null || draft.repeats.some(({ direction }) => direction === 'backward')) continue;
    draft.styles.forEach((one, index) => {
      if (one.edge === 'right' && one.style === 'light-heavy')
        draft.styles[index] = { ...one, style: 'light-light' };
    });
  }
};
