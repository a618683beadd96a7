/** Small feed-forward networks: the arithmetic only; their weights come from training/onsets. */

/** Numbers in a short form: `text` is base64 of 16-bit integers, lower byte first; each times `scale` is meant. */
export interface Packed {
  readonly scale: number;
  readonly text: string;
}

export interface PackedLayer {
  /** Output by output, and in it input by input. */
  readonly weights: Packed;
  readonly biases: Packed;
}

export interface PackedNetwork {
  /** Subtracted from and divided into the inputs. */
  readonly middles: Packed;
  readonly spreads: Packed;
  /** All but the last are followed by max(0, x). */
  readonly layers: readonly PackedLayer[];
}

const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/';
const valueOf = new Map(Array.from(letters).map((letter, value) => [letter, value]));

/** The numbers of a packed list. */
export const unpacked = ({ scale, text }: Packed): Float64Array => {
  const bytes = new Uint8Array(Math.floor((text.replace(/=+$/, '').length * 3) / 4));
  let [bits, held, at] = [0, 0, 0];
  for (const letter of text) {
    const value = valueOf.get(letter);
    if (value === undefined) break;
    bits = ((bits << 6) | value) & 0xffff;
    held += 6;
    if (held < 8) continue;
    held -= 8;
    bytes[at] = (bits >> held) & 0xff;
    at += 1;
  }
  const view = new DataView(bytes.buffer);
  return Float64Array.from({ length: bytes.length >> 1 }, (_, i) => scale * view.getInt16(2 * i, true));
};

export interface Layer {
  readonly weights: Float64Array;
  readonly biases: Float64Array;
}

export interface Network {
  readonly middles: Float64Array;
  readonly spreads: Float64Array;
  readonly layers: readonly Layer[];
}

export const unpackedNetwork = ({ middles, spreads, layers }: PackedNetwork): Network => ({
  middles: unpacked(middles),
  spreads: unpacked(spreads),
  layers: layers.map(({ weights, biases }) => ({ weights: unpacked(weights), biases: unpacked(biases) })),
});

/** The outputs for some inputs; inputs beyond four spreads count as four, so that the odd case is no wild guess. */
const one = ({ middles, spreads, layers }: Network, inputs: Float32Array): Float64Array => {
  let values = Float64Array.from(inputs, (x, i) =>
    Math.max(-4, Math.min(4, (x - (middles[i] ?? 0)) / (spreads[i] ?? 1))),
  );
  layers.forEach(({ weights, biases }, l) => {
    const width = values.length;
    const next = Float64Array.from(biases);
    for (let o = 0; o < next.length; o += 1) {
      let sum = next[o] ?? 0;
      for (let i = 0; i < width; i += 1) sum += (weights[o * width + i] ?? 0) * (values[i] ?? 0);
      next[o] = l + 1 < layers.length ? Math.max(0, sum) : sum;
    }
    values = next;
  });
  return values;
};

/** Mean of the outputs of several networks: each is wrong in its own way. */
export const forward = (networks: readonly Network[], inputs: Float32Array): Float64Array => {
  const all = networks.map((network) => one(network, inputs));
  return Float64Array.from(
    all[0] ?? [],
    (_, o) => all.reduce((sum, values) => sum + (values[o] ?? 0), 0) / all.length,
  );
};
