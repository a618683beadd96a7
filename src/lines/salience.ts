/**
 * Metrical salience and the sum of syncopation: Longuet-Higgins & Lee 1984 ("The rhythmic interpretation of monophonic music", Music
 * Perception 1:424). The bar weighs 0; each division of it weighs one less. A note that is followed, before the next one, by a position that
 * weighs more than its own is syncopated by the difference.
 */

/** Weights of a bar that is divided again and again, by the divisions from the bar downwards: [2, 2, 2] are the eighths of 4/4. */
export const salience = (divisions: readonly number[]): readonly number[] => {
  let weights: readonly number[] = [0];
  divisions.forEach((into, depth) => {
    weights = weights.flatMap((weight) => [weight, ...Array.from({ length: into - 1 }, () => -depth - 1)]);
  });
  return weights;
};

/** The sum of syncopation of onsets (positions in `weights`, in order, from 0) in a bar that is played again and again. */
export const syncopationSum = (onsets: readonly number[], weights: readonly number[]): number =>
  onsets.reduce((sum, at, i) => {
    const next = onsets[i + 1] ?? (onsets[0] ?? 0) + weights.length;
    let heaviest = -Infinity;
    for (let place = at + 1; place < next; place++)
      heaviest = Math.max(heaviest, weights[place % weights.length] ?? 0);
    return sum + Math.max(0, heaviest - (weights[at] ?? 0));
  }, 0);
