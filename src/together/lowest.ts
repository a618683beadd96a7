/** Steps of the grid and of the search between its neighbours. */
const grid = 10;
const rounds = 16;

/**
 * Where a function with one valley in [low, high] is least: a grid, then golden section (J. Kiefer 1953), to about a ten
 * thousandth of the range.
 */
export const lowest = (height: (x: number) => number, low: number, high: number): number => {
  const step = (high - low) / grid;
  let best = 0;
  let least = Infinity;
  for (let i = 0; i <= grid; i++) {
    const value = height(low + step * i);
    if (value < least) [best, least] = [i, value];
  }
  let a = low + step * Math.max(0, best - 1);
  let b = low + step * Math.min(grid, best + 1);
  const ratio = (Math.sqrt(5) - 1) / 2;
  let [left, right] = [b - ratio * (b - a), a + ratio * (b - a)];
  let [atLeft, atRight] = [height(left), height(right)];
  for (let i = 0; i < rounds; i++) {
    if (atLeft <= atRight) {
      [b, right, atRight] = [right, left, atLeft];
      left = b - ratio * (b - a);
      atLeft = height(left);
    } else {
      [a, left, atLeft] = [left, right, atRight];
      right = a + ratio * (b - a);
      atRight = height(right);
    }
  }
  return (a + b) / 2;
};
