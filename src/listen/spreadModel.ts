/** Weights of deviation.ts. Written by training/onsets/fit.py; not to be edited. */
export const spreadModel: {
  readonly physical: readonly number[];
  readonly perceived: readonly number[];
} = {
  physical: [
    0.5383, 0.9859, -0.05581, 0.6117, -0.1532, 0, -0.08223, -0.6801, -0.004301, 5.624, -0.0308, 0.0608,
  ],
  perceived: [
    0.1387, 0.9129, -0.3082, 0.9243, -0.2977, 0, -0.04575, -0.5803, -0.06413, 1.775, -0.07676, 0.1248,
  ],
};
