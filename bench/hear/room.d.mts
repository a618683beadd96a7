import type { Random } from './random.mjs';
export function convolve(sound: Float32Array, response: Float64Array): Float32Array;
export function response(room: 'room' | 'hall', directDb: number, rate: number, random: Random): Float64Array;
export function noise(length: number, random: Random): Float32Array;
export function onClock(
  sound: Float32Array,
  rate: number,
  clock: { offset: number; ppm: number },
  origin: number,
  seconds: number,
): Float32Array;
