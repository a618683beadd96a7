/** A small feed-forward network: the arithmetic only; its weights come from training/onsets. */

export interface Layer {
  /** One row for each output. */
  readonly weights: readonly (readonly number[])[];
  readonly biases: readonly number[];
}

export interface Network {
  /** Subtracted from and divided into the inputs. */
  readonly middles: readonly number[];
  readonly spreads: readonly number[];
  /** All but the last are followed by max(0, x). */
  readonly layers: readonly Layer[];
}

/** The outputs for some inputs; inputs beyond four spreads count as four, so that the odd case is no wild guess. */
export const forward = (
  { middles, spreads, layers }: Network,
  inputs: readonly number[],
): readonly number[] => {
  let values: readonly number[] = inputs.map((x, i) =>
    Math.max(-4, Math.min(4, (x - (middles[i] ?? 0)) / (spreads[i] ?? 1))),
  );
  layers.forEach(({ weights, biases }, l) => {
    values = weights.map((row, o) => {
      let sum = biases[o] ?? 0;
      for (let i = 0; i < row.length; i += 1) sum += (row[i] ?? 0) * (values[i] ?? 0);
      return l + 1 < layers.length ? Math.max(0, sum) : sum;
    });
  });
  return values;
};
