/** Weights of deviation.ts. Written by training/onsets/fit.py; not to be edited. */
export const spreadModel: {
  readonly physical: readonly number[];
  readonly perceived: readonly number[];
  readonly physicalMeasured: readonly number[];
  readonly perceivedMeasured: readonly number[];
} = {
  physical: [
    0.208, 1.216, -0.383, 0.5528, -0.1363, -0.5594, -0.02129, -0.516, -0.04034, 0.7055, -0.004414, 0.09591,
  ],
  perceived: [
    0.3953, 1.35, -0.5164, 0.6618, -0.1735, -0.4975, -0.06165, -0.3004, -0.02843, 0.932, -0.03306, 0.2384,
  ],
  physicalMeasured: [0.1167, 1.046, 0.7751, 2.098, 1.443, 0.7909, 3.766, -0.05931, -0.3265],
  perceivedMeasured: [-0.3448, 1.174, -0.1196, 1.547, 1.802, 0.01815, 3.727, -0.03987, -0.2205],
};
