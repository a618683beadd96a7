/**
 * From any sample rate to another by a windowed sinc (Smith, "Digital Audio Resampling", CCRMA): every output sample is
 * the sum of the input under a low-pass kernel centred on its exact time. The kernel is kept as a table and read between
 * its entries by a straight line. Block by block: memory does not grow with the sound.
 */

/** Zero crossings of the sinc on each side. */
const crossings = 24;
/** Table entries between two zero crossings: the straight line between them errs by less than -100 dB. */
const fineness = 512;
/** Kaiser window, beta for about 90 dB (Kaiser and Schafer 1980; the formula from memory). */
const beta = 9;
/** Share of the lower half-rate that passes whole. */
const passed = 0.94;

/** Modified Bessel function of order 0, by its series. */
const bessel0 = (x: number): number => {
  let [sum, term] = [1, 1];
  for (let k = 1; k < 60; k += 1) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
};

const kernelTable = (): Float64Array => {
  const length = crossings * fineness;
  const table = new Float64Array(length + 2);
  const scale = bessel0(beta);
  for (let i = 0; i <= length; i += 1) {
    const x = i / fineness;
    const sinc = i === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    table[i] = (sinc * bessel0(beta * Math.sqrt(Math.max(0, 1 - (x / crossings) ** 2)))) / scale;
  }
  return table;
};

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** Kernels that are kept ready where the two rates have so few phases: all usual rates do. */
const mostPhases = 1024;

export interface Resampler {
  /** Takes the next samples and gives those that can be made from what was taken so far. */
  readonly push: (block: Float32Array) => Float32Array;
  /** The rest. */
  readonly end: () => Float32Array;
}

/**
 * A resampler from one rate in Hz to another, both above 0 and finite. Output sample n stands at the input's time
 * n / to, so that nothing is delayed; before and after the sound there is silence.
 */
export const resampler = (from: number, to: number): Resampler => {
  const table = kernelTable();
  const ratio = from / to;
  /** Cut-off as a share of the input's half-rate. */
  const cut = passed * Math.min(1, to / from);
  const reach = Math.ceil(crossings / cut);
  /** What is held stands at the beginning of a room that grows where it has to. */
  let room = new Float32Array(4 * reach);
  let held = room.subarray(0, reach);
  /** Input index of held[0]. */
  let first = -reach;
  let made = 0;
  let taken = 0;

  /** The weights of the input samples around a time that lies `part` (0 to 1) behind an input sample. */
  const kernel = (part: number): Float64Array =>
    Float64Array.from({ length: 2 * reach }, (_, i) => {
      const place = Math.abs(part + reach - 1 - i) * cut * fineness;
      const index = Math.floor(place);
      const left = table[index] ?? 0;
      return cut * (left + ((table[index + 1] ?? 0) - left) * (place - index));
    });
  const phases = Number.isInteger(from) && Number.isInteger(to) ? to / gcd(from, to) : Infinity;
  const ready: (Float64Array | undefined)[] = [];
  const kernelAt = (n: number): Float64Array => {
    const time = n * ratio;
    if (phases > mostPhases) return kernel(time - Math.floor(time));
    const phase = n % phases;
    const known = ready[phase] ?? kernel(((phase * from) % to) / to);
    ready[phase] = known;
    return known;
  };
  /** Where in `held` the input under the kernel of output sample `n` begins. */
  const startOf = (n: number): number =>
    (phases > mostPhases ? Math.floor(n * ratio) : Math.floor((n * from) / to)) - reach + 1 - first;
  const at = (n: number): number => {
    const weights = kernelAt(n);
    const start = startOf(n);
    let sum = 0;
    for (let i = 0; i < weights.length; i += 1) sum += (held[start + i] ?? 0) * (weights[i] ?? 0);
    return sum;
  };
  /** Four samples side by side, as in each sum an addition waits for the one before it; none comes out otherwise for that. */
  const four = (n: number, out: Float32Array, place: number): void => {
    const [k0, k1, k2, k3] = [kernelAt(n), kernelAt(n + 1), kernelAt(n + 2), kernelAt(n + 3)];
    const [s0, s1, s2, s3] = [startOf(n), startOf(n + 1), startOf(n + 2), startOf(n + 3)];
    const input = held;
    let [a, b, c, d] = [0, 0, 0, 0];
    for (let i = 0; i < k0.length; i += 1) {
      a += (input[s0 + i] ?? 0) * (k0[i] ?? 0);
      b += (input[s1 + i] ?? 0) * (k1[i] ?? 0);
      c += (input[s2 + i] ?? 0) * (k2[i] ?? 0);
      d += (input[s3 + i] ?? 0) * (k3[i] ?? 0);
    }
    out[place] = a;
    out[place + 1] = b;
    out[place + 2] = c;
    out[place + 3] = d;
  };
  const make = (until: number): Float32Array => {
    const out = new Float32Array(Math.max(0, until - made));
    let i = 0;
    for (; i + 3 < out.length; i += 4) four(made + i, out, i);
    for (; i < out.length; i += 1) out[i] = at(made + i);
    made += out.length;
    const keep = Math.floor(made * ratio) - reach - 1;
    if (keep > first) {
      room.copyWithin(0, keep - first, held.length);
      held = room.subarray(0, Math.max(0, held.length - (keep - first)));
      first = keep;
    }
    return out;
  };
  const add = (block: Float32Array): void => {
    const length = held.length + block.length;
    if (length > room.length) {
      room = new Float32Array(length);
      room.set(held);
    }
    room.set(block, held.length);
    held = room.subarray(0, length);
  };
  return {
    push: (block) => {
      add(block);
      taken += block.length;
      return make(Math.max(made, Math.floor((taken - reach - 1) / ratio)));
    },
    end: () => {
      add(new Float32Array(2 * reach + 2));
      return make(Math.ceil(taken / ratio));
    },
  };
};

/** A whole sound at once. */
export const resampled = (sound: Float32Array, from: number, to: number): Float32Array => {
  if (from === to) return sound;
  const { push, end } = resampler(from, to);
  const [head, tail] = [push(sound), end()];
  const out = new Float32Array(head.length + tail.length);
  out.set(head);
  out.set(tail, head.length);
  return out;
};
