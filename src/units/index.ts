export * from './brand.ts';
export * as F from './fraction.ts';
export type { Fraction } from './fraction.ts';
export * from './units.ts';
export * from './problem.ts';
export * from './result.ts';
export * from './random.ts';
export * from './sampleRate.ts';
export * from './words.ts';
