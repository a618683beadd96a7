/** Levenshtein's distance between two words: letters to put in, take out or exchange. */
const distance = (a: string, b: string): number => {
  let row = Array.from({ length: b.length + 1 }, (_, i) => i);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const exchanged = (row[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(exchanged, (row[j] ?? 0) + 1, (next[j - 1] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
};

/** The known word that was most likely meant; null where none is near. */
export const suggest = (word: string, known: readonly string[]): string | null => {
  const begun = word.length > 1 ? known.find((candidate) => candidate.startsWith(word)) : undefined;
  if (begun !== undefined) return begun;
  const [nearest] = known
    .map((candidate) => ({ candidate, far: distance(word.slice(0, 40), candidate) }))
    .sort((a, b) => a.far - b.far);
  return nearest !== undefined && nearest.far <= Math.max(1, Math.floor(word.length / 3))
    ? nearest.candidate
    : null;
};
