/** The fast Fourier transform: radix 2, in place (Cooley and Tukey 1965, Math. Comput. 19:297). */
import { lanes, type Lanes } from './lanes/lanes.ts';

export interface Fft {
  readonly size: number;
  /** Transforms in place; real and imaginary parts, each of `size`. The inverse is unscaled: divide by `size`. */
  readonly run: (re: Float64Array, im: Float64Array, inverse?: boolean) => void;
}

/** The smallest power of two that is not below `n`. */
const powerOfTwo = (n: number): number => {
  let size = 1;
  while (size < n) size *= 2;
  return size;
};

const reversedIndices = (size: number): Uint32Array => {
  const reversed = new Uint32Array(size);
  let bits = 0;
  while (1 << bits < size) bits += 1;
  for (let i = 0; i < size; i += 1) {
    let [from, to] = [i, 0];
    for (let b = 0; b < bits; b += 1) {
      to = (to << 1) | (from & 1);
      from >>= 1;
    }
    reversed[i] = to;
  }
  return reversed;
};

/** Cosines and sines of the turns of a size, `size / 2` of each. */
const turnsOf = (size: number): { readonly cos: Float64Array; readonly sin: Float64Array } => ({
  cos: Float64Array.from({ length: size / 2 }, (_, k) => Math.cos((2 * Math.PI * k) / size)),
  sin: Float64Array.from({ length: size / 2 }, (_, k) => Math.sin((2 * Math.PI * k) / size)),
});

/** Those that each pass needs, one pass after the other from the second on. */
const byPass = (turns: Float64Array): Float64Array => {
  const half = turns.length;
  const out = new Float64Array(2 * half - 2);
  for (let span = 2; span <= half; span *= 2)
    for (let k = 0; k < span; k += 1) out[span - 2 + k] = turns[(k * half) / span] ?? 0;
  return out;
};

/** Transforms by vector instructions; the first pass, which turns nothing, while the values are put in order. */
const fast = (size: number, by: Lanes): Fft => {
  const reversed = reversedIndices(size);
  const { cos, sin } = turnsOf(size);
  const passes = by.transform(byPass(cos), byPass(sin), size);
  const begin = (from: Float64Array, to: Float64Array, place: number): void => {
    for (let a = 0; a < size; a += 2) {
      const x = from[reversed[a] ?? 0] ?? 0;
      const y = from[reversed[a + 1] ?? 0] ?? 0;
      to[place + a] = x + y;
      to[place + a + 1] = x - y;
    }
  };
  const run = (re: Float64Array, im: Float64Array, inverse = false): void => {
    const out = passes((values) => {
      begin(re, values, 0);
      begin(im, values, size);
    }, inverse);
    re.set(out.subarray(0, size));
    im.set(out.subarray(size));
  };
  return { size, run };
};

const plain = (size: number): Fft => {
  const reversed = reversedIndices(size);
  const half = size / 2;
  const { cos, sin } = turnsOf(size);
  const swap = (values: Float64Array): void => {
    for (let i = 0; i < size; i += 1) {
      const j = reversed[i] ?? 0;
      if (j <= i) continue;
      const kept = values[i] ?? 0;
      values[i] = values[j] ?? 0;
      values[j] = kept;
    }
  };
  const run = (re: Float64Array, im: Float64Array, inverse = false): void => {
    swap(re);
    swap(im);
    const sign = inverse ? 1 : -1;
    for (let span = 1; span < size; span *= 2) {
      const stride = half / span;
      for (let start = 0; start < size; start += 2 * span) {
        for (let k = 0; k < span; k += 1) {
          const c = cos[k * stride] ?? 0;
          const s = sign * (sin[k * stride] ?? 0);
          const a = start + k;
          const b = a + span;
          const rb = re[b] ?? 0;
          const ib = im[b] ?? 0;
          const xr = rb * c - ib * s;
          const xi = rb * s + ib * c;
          const ra = re[a] ?? 0;
          const ia = im[a] ?? 0;
          re[b] = ra - xr;
          im[b] = ia - xi;
          re[a] = ra + xr;
          im[a] = ia + xi;
        }
      }
    }
  };
  return { size, run };
};

/** Transforms that were prepared: their turns are kept anyway. */
const known = new Map<number, Fft>();

/** Prepares transforms of a size, which has to be a power of two. `by`: what adds up; it makes no difference to the values. */
export const fft = (size: number, by: Lanes | null = lanes()): Fft => {
  if (by === null || size < 4) return plain(size);
  const there = known.get(size) ?? fast(size, by);
  known.set(size, there);
  return there;
};

/** A correlation of which pieces are asked for: out[n] = sum over k of signal[n + k] · shape[k]; beyond the signal is silence. */
export interface Correlation {
  /** As long as the signal. */
  readonly length: number;
  /** Samples of a block; blocks begin at its multiples. */
  readonly step: number;
  /** The values of the block that begins at `start`, overwritten by the next; the last one is shorter. */
  readonly block: (start: number) => Float32Array;
}

/** Correlation by blocks (overlap and save). Memory is bounded by the shape's length. */
export const correlation = (signal: Float32Array, shape: Float64Array): Correlation => {
  const size = powerOfTwo(Math.max(4 * shape.length, 4096));
  const { run } = fft(size);
  const step = size - shape.length + 1;
  const [kr, ki] = [new Float64Array(size), new Float64Array(size)];
  kr.set(shape);
  run(kr, ki);
  const [re, im] = [new Float64Array(size), new Float64Array(size)];
  const values = new Float32Array(step);
  const block = (start: number): Float32Array => {
    const heard = signal.subarray(start, start + size);
    re.set(heard);
    re.fill(0, heard.length);
    im.fill(0);
    run(re, im);
    for (let i = 0; i < size; i += 1) {
      const a = re[i] ?? 0;
      const b = im[i] ?? 0;
      const c = kr[i] ?? 0;
      const d = -(ki[i] ?? 0);
      re[i] = a * c - b * d;
      im[i] = a * d + b * c;
    }
    run(re, im, true);
    const out = values.subarray(0, Math.min(step, signal.length - start));
    for (let i = 0; i < out.length; i += 1) out[i] = (re[i] ?? 0) / size;
    return out;
  };
  return { length: signal.length, step, block };
};
