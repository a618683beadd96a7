/** Ids of parts, as the model wants them, from what a file calls its parts. */

/** A letter first, then letters, digits, "-" or "_". */
export const fitId = (id: string): string => {
  const plain = id.replace(/[^A-Za-z0-9_-]/g, '_');
  return /^[A-Za-z]/.test(plain) ? plain : `P${plain}`;
};

/** Gives each wish its own id: a second "P1" becomes "P1-2". */
export const createIds = () => {
  const taken = new Set<string>();
  const next = new Map<string, number>();
  return (wish: string): string => {
    let id = wish;
    let n = next.get(wish) ?? 2;
    for (; taken.has(id); n += 1) id = `${wish}-${n}`;
    next.set(wish, n);
    taken.add(id);
    return id;
  };
};
