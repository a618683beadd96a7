/** Folds of the margin: what was opened stays so, also while one is on the stand or at the shelf, until the page is loaded anew. */
import type { TargetedToggleEvent } from 'preact';
import { useState } from 'preact/hooks';

const folds = new Map<string, boolean>();

export interface Fold {
  readonly open: boolean;
  readonly onToggle: (event: TargetedToggleEvent<HTMLDetailsElement>) => void;
}

/** What a fold needs; `name`: one for each fold of the margin. */
export const useFold = (name: string): Fold => {
  const [open, setOpen] = useState(folds.get(name) ?? false);
  return {
    open,
    onToggle: ({ currentTarget }) => {
      folds.set(name, currentTarget.open);
      setOpen(currentTarget.open);
    },
  };
};
