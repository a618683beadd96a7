/** What was there before, to go back to and on from again. */

/** Plain data; never changed in place. */
export interface Past<T> {
  /** Latest last. */
  readonly before: readonly T[];
  /** What was gone back from, latest last. */
  readonly after: readonly T[];
}

export const noPast: Past<never> = { before: [], after: [] };

/** More steps back than this are forgotten. */
const longest = 200;

/** After a change away from `now`: what was gone back from cannot be reached any more. */
export const changedFrom = <T>({ before }: Past<T>, now: T): Past<T> => ({
  before: [...before, now].slice(-longest),
  after: [],
});

/** One step back from `now`; null where there is none. */
export const stepBack = <T>(
  { before, after }: Past<T>,
  now: T,
): { readonly now: T; readonly past: Past<T> } | null => {
  const last = before.at(-1);
  return last === undefined
    ? null
    : { now: last, past: { before: before.slice(0, -1), after: [...after, now] } };
};

/** One step on again from `now`; null where there is none. */
export const stepOn = <T>(
  { before, after }: Past<T>,
  now: T,
): { readonly now: T; readonly past: Past<T> } | null => {
  const last = after.at(-1);
  return last === undefined
    ? null
    : { now: last, past: { before: [...before, now], after: after.slice(0, -1) } };
};

/** Every state as something else makes of it. */
export const mapped = <T>({ before, after }: Past<T>, change: (one: T) => T): Past<T> => ({
  before: before.map(change),
  after: after.map(change),
});
