/** Sums by the vector instructions of WebAssembly, where there are some: the same numbers, sooner. */
import { lanesModule } from './module.ts';

/** A convolution over time of rows that lie one after another, `stride` values each, with their margins. */
export interface Rows {
  readonly values: Float64Array;
  readonly stride: number;
  readonly inputs: number;
}

export interface Taps {
  /** Output by output, in it input by input, in it moment by moment. */
  readonly weights: Float64Array;
  readonly outputs: number;
  readonly moments: number;
  /** Values from one moment to the next. */
  readonly dilation: number;
}

export interface Lanes {
  /** `out[o][f]` of the sums, `groups` times four of them a row. Outputs have to be a multiple of `together`; the answer is overwritten by the next call of either. */
  readonly convolve: (rows: Rows, taps: Taps, groups: number) => Float64Array;
  /**
   * `room` for so many pairs (real, imaginary), to be written by the caller; then `weighted` gives `count` of their sums, the first from pair `first` on and the others
   * each `apart` pairs later. Pairs have to be there for a multiple of `together` sums, of which only `count` are given.
   */
  readonly room: (pairs: number) => Float64Array;
  readonly weighted: (first: number, apart: number, count: number, weights: Float64Array) => Float64Array;
  /**
   * All passes but the first of a Fourier transform of 4 values or more (fft.ts). Cosines and sines pass by pass, sines of both directions; they are kept. `fill` writes
   * real parts and behind them imaginary ones into what it is given, and these come back transformed; they are overwritten by the next call of any.
   */
  readonly transform: (
    cos: Float64Array,
    sin: Float64Array,
    size: number,
  ) => (fill: (values: Float64Array) => void, inverse: boolean) => Float64Array;
}

/** Sums that are made side by side. */
export const together = 4;
const [bytes, page] = [8, 65_536];

const made = (): Lanes => {
  const memory = new WebAssembly.Memory({ initial: 1 });
  const { exports } = new WebAssembly.Instance(new WebAssembly.Module(lanesModule()), { host: { memory } });
  let view = new Float64Array(memory.buffer);
  const call = (name: string, values: readonly number[]): void => {
    const found = exports[name];
    if (typeof found === 'function') Reflect.apply(found, undefined, values);
  };
  /** Numbers that are kept, an even number of them; what changes from call to call lies behind them. */
  let base = 0;
  /** Sees to it that there is memory for so many numbers behind those that are kept. */
  const need = (numbers: number): void => {
    const more = Math.ceil(((base + numbers) * bytes - memory.buffer.byteLength) / page);
    if (more <= 0) return;
    memory.grow(more);
    view = new Float64Array(memory.buffer);
  };
  const keep = (values: Float64Array): number => {
    const at = base;
    need(values.length + 1);
    view.set(values, at);
    base += values.length + (values.length % 2);
    return at * bytes;
  };
  const addressOf = (at: number): number => (base + at) * bytes;
  const held = (from: number, to: number): Float64Array => view.subarray(base + from, base + to);
  let pairs = 0;
  return {
    convolve: ({ values, stride, inputs }, { weights, outputs, moments, dilation }, groups) => {
      const width = together * groups;
      const [weightsAt, outAt] = [values.length, values.length + weights.length];
      need(outAt + outputs * width);
      view.set(values, base);
      view.set(weights, base + weightsAt);
      const perOutput = inputs * moments;
      for (let o = 0; o < outputs; o += together) {
        const places = [0, weightsAt + o * perOutput, outAt + o * width].map(addressOf);
        const steps = [dilation, stride, perOutput].map((step) => step * bytes);
        call('convolve', [...places, inputs, moments, ...steps, groups, width * bytes]);
      }
      return held(outAt, outAt + outputs * width);
    },
    room: (wanted) => {
      pairs = wanted;
      need(2 * wanted);
      return held(0, 2 * wanted);
    },
    weighted: (first, apart, count, weights) => {
      const groups = Math.ceil(count / together);
      // What is read for sums beyond the last, which nobody asks for, lies before the weights.
      const beyond = first + (groups * together - 1) * apart + weights.length;
      const weightsAt = 2 * Math.max(pairs, beyond);
      const outAt = weightsAt + weights.length;
      need(outAt + 2 * groups * together);
      view.set(weights, base + weightsAt);
      const places = [2 * first, weightsAt, outAt].map(addressOf);
      call('weighted', [...places, 2 * apart * bytes, weights.length, groups]);
      return held(outAt, outAt + 2 * count).slice();
    },
    transform: (cos, sin, size) => {
      const tables = { cos: keep(cos), sin: keep(sin), back: keep(sin.map((value) => -value)) };
      return (fill, inverse) => {
        need(2 * size);
        const values = held(0, 2 * size);
        fill(values);
        const places = [addressOf(0), addressOf(size), tables.cos, inverse ? tables.sin : tables.back];
        call('transform', [...places, size / 4, Math.log2(size) - 1]);
        return values;
      };
    },
  };
};

let known: Lanes | null | undefined;

/** Null where the machine has no such instructions: then TypeScript does the same. */
export const lanes = (): Lanes | null => {
  if (known !== undefined) return known;
  try {
    known = made();
  } catch {
    known = null;
  }
  return known;
};
