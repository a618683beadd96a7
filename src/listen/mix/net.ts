/**
 * The network that hears one expected note of a mixture: convolutions over time, all but the first adding to what they are given (He et al. 2016,
 * arXiv 1512.03385). The arithmetic only; its weights come from training/mix.
 */
import { lanes, together, type Lanes } from '../lanes/lanes.ts';
import { unpacked, type Packed } from '../network.ts';

export interface PackedConvolution {
  /** Output by output, in it input by input, in it moment by moment. */
  readonly weights: Packed;
  readonly biases: Packed;
  /** Frames from one moment to the next. */
  readonly dilation: number;
}

export interface PackedMixNet {
  readonly first: PackedConvolution;
  /** Output by output, and in it constant by constant: added to the first convolution at every frame. */
  readonly known: Packed;
  readonly blocks: readonly PackedConvolution[];
  /** Of one moment each; one output a distribution. */
  readonly last: PackedConvolution;
}

export interface Convolution {
  readonly weights: Float64Array;
  readonly biases: Float64Array;
  readonly dilation: number;
}

export interface MixNet {
  readonly first: Convolution;
  readonly known: Float64Array;
  readonly blocks: readonly Convolution[];
  readonly last: Convolution;
}

const convolutionOf = ({ weights, biases, dilation }: PackedConvolution): Convolution => ({
  weights: unpacked(weights),
  biases: unpacked(biases),
  dilation,
});

export const unpackedMixNet = ({ first, known, blocks, last }: PackedMixNet): MixNet => ({
  first: convolutionOf(first),
  known: unpacked(known),
  blocks: blocks.map(convolutionOf),
  last: convolutionOf(last),
});

/** Frames are worked on four at a time, outputs two at a time: what is loaded once is used often. */
const [atOnce, pair] = [4, 2];

/** Rows with silence on both sides: `margin` frames, and on the right as many more as make whole fours. */
interface Padded {
  readonly values: Float64Array;
  readonly stride: number;
  readonly margin: number;
}

/** Room that is used again: what lies in it is of no use to the next layer. */
let room = new Float64Array(0);

const padded = (rows: ArrayLike<number>, count: number, width: number, margin: number): Padded => {
  const stride = Math.ceil(width / atOnce) * atOnce + 2 * margin;
  if (room.length < count * stride) room = new Float64Array(count * stride);
  const values = room.subarray(0, count * stride).fill(0);
  for (let row = 0; row < count; row += 1)
    for (let f = 0; f < width; f += 1) values[row * stride + margin + f] = rows[row * width + f] ?? 0;
  return { values, stride, margin };
};

/** Without biases: two outputs and four frames at a time. */
const summed = (
  weights: Float64Array,
  outputs: number,
  { values, stride }: Padded,
  inputs: number,
  dilation: number,
  width: number,
): Float64Array => {
  const each = weights.length / outputs;
  const moments = each / inputs;
  const rounded = Math.ceil(width / atOnce) * atOnce;
  const out = new Float64Array(outputs * rounded);
  for (let o = 0; o < outputs; o += pair) {
    for (let f = 0; f < width; f += atOnce) {
      let [a0, a1, a2, a3] = [0, 0, 0, 0];
      let [b0, b1, b2, b3] = [0, 0, 0, 0];
      let w = o * each;
      for (let i = 0; i < inputs; i += 1) {
        let at = i * stride + f;
        for (let k = 0; k < moments; k += 1) {
          const u = weights[w] ?? 0;
          const v = weights[w + each] ?? 0;
          const x0 = values[at] ?? 0;
          const x1 = values[at + 1] ?? 0;
          const x2 = values[at + 2] ?? 0;
          const x3 = values[at + 3] ?? 0;
          a0 += u * x0;
          a1 += u * x1;
          a2 += u * x2;
          a3 += u * x3;
          b0 += v * x0;
          b1 += v * x1;
          b2 += v * x2;
          b3 += v * x3;
          w += 1;
          at += dilation;
        }
      }
      out.set([a0, a1, a2, a3], o * rounded + f);
      out.set([b0, b1, b2, b3], (o + 1) * rounded + f);
    }
  }
  return out;
};

/** `out[o][f]` = bias + sum over inputs and moments; moments lie evenly around the frame. Outputs have to be even in number. `by`: what adds up; it makes no difference to the sums. */
export const convolved = (
  { weights, biases, dilation }: Convolution,
  rows: ArrayLike<number>,
  width: number,
  by: Lanes | null = lanes(),
): Float64Array => {
  const outputs = biases.length;
  // Inputs times moments is known, and so is the number of rows.
  const inputs = Math.floor(rows.length / width);
  const moments = Math.round(weights.length / (outputs * inputs));
  const held = padded(rows, inputs, width, ((moments - 1) / 2) * dilation);
  const groups = Math.ceil(width / atOnce);
  const sums =
    by === null || outputs % together !== 0
      ? summed(weights, outputs, held, inputs, dilation, width)
      : by.convolve({ ...held, inputs }, { weights, outputs, moments, dilation }, groups);
  const out = new Float64Array(outputs * width);
  for (let o = 0; o < outputs; o += 1) {
    const bias = biases[o] ?? 0;
    for (let f = 0; f < width; f += 1) out[o * width + f] = bias + (sums[o * groups * atOnce + f] ?? 0);
  }
  return out;
};

/** Brings each row to what adds up to 1: exp(x) over the sum of all. */
const softmax = (row: Float64Array): Float32Array => {
  const most = row.reduce((high, value) => Math.max(high, value), -Infinity);
  const raised = row.map((value) => Math.exp(value - most));
  const sum = raised.reduce((a, b) => a + b, 0);
  return Float32Array.from(raised, (value) => value / sum);
};

/** The distributions over `width` frames, one an output; of several networks it is their mean. */
export const hear = (
  nets: readonly MixNet[],
  rows: Float32Array,
  constants: Float32Array,
  width: number,
): readonly Float32Array[] => {
  const all = nets.map(({ first, known, blocks, last }) => {
    const x = convolved(first, rows, width);
    const count = first.biases.length;
    for (let o = 0; o < count; o += 1) {
      let added = 0;
      for (let c = 0; c < constants.length; c += 1)
        added += (known[o * constants.length + c] ?? 0) * (constants[c] ?? 0);
      for (let f = o * width; f < (o + 1) * width; f += 1) x[f] = Math.max(0, (x[f] ?? 0) + added);
    }
    for (const block of blocks) {
      const y = convolved(block, x, width);
      for (let i = 0; i < x.length; i += 1) x[i] = (x[i] ?? 0) + Math.max(0, y[i] ?? 0);
    }
    const out = convolved(last, x, width);
    return Array.from(last.biases, (_, o) => softmax(out.subarray(o * width, (o + 1) * width)));
  });
  return (all[0] ?? []).map((first, o) =>
    first.map((_, f) => all.reduce((sum, rowsOf) => sum + (rowsOf[o]?.[f] ?? 0), 0) / all.length),
  );
};
