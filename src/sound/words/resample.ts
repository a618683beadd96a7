/** Brings a clip to another sample rate by band-limited interpolation, by plain arithmetic. */
import { exponential } from '../exponential.ts';

/** Zero crossings of the kernel to either side, and places kept between two of them. */
const reach = 16;
const finesse = 256;

/** sin(pi x)/(pi x) under cos²(pi x / 2 reach), at x = k / finesse, from 0 to reach. */
const kernel: Float64Array = Float64Array.from({ length: reach * finesse + 2 }, (_, k) => {
  const x = k / finesse;
  if (k === 0) return 1;
  if (x >= reach) return 0;
  // The angle is kept within one turn, where the series is exact enough.
  const sine = exponential(0, Math.PI * (x % 2)).im;
  return (sine / (Math.PI * x)) * ((1 + exponential(0, (Math.PI * x) / reach).re) / 2);
});

/** The kernel at x >= 0, straight between the places kept (error below 1e-5). */
const kernelAt = (x: number): number => {
  const place = x * finesse;
  const at = Math.floor(place);
  if (at >= reach * finesse) return 0;
  const low = kernel[at] ?? 0;
  return low + ((kernel[at + 1] ?? 0) - low) * (place - at);
};

export interface Resampled {
  readonly samples: Float64Array;
  /** The output sample on which `anchor` falls exactly. */
  readonly anchor: number;
}

/**
 * `samples` at `from` Hz as heard at `to` Hz. The input's sample `anchor` falls exactly on an output sample, so that
 * what is measured in the input stands where it should, to the sample. What the lower rate cannot hold is filtered out.
 */
export const resample = (samples: Float32Array, from: number, to: number, anchor: number): Resampled => {
  const ratio = from / to;
  const band = Math.min(1, to / from);
  const before = Math.ceil(anchor / ratio);
  const after = Math.ceil((samples.length - anchor) / ratio);
  const result = new Float64Array(before + after);
  const width = reach / band;
  for (let n = 0; n < result.length; n += 1) {
    const centre = anchor + (n - before) * ratio;
    let sum = 0;
    for (let i = Math.max(0, Math.ceil(centre - width)); i < samples.length && i <= centre + width; i += 1) {
      sum += (samples[i] ?? 0) * kernelAt(Math.abs(i - centre) * band);
    }
    result[n] = sum * band;
  }
  return { samples: result, anchor: before };
};
