/** Where the clicks of a drill lie in a recording, and what is heard and was sent there. */
import {
  lead,
  shifted,
  size,
  spectrumOf,
  stretchWindow,
  type Spectrum,
  type Stretch,
} from './clickFilter.ts';
import { listeningRate, toRecording, type ClickSound, type Clock, type ExpectedClick } from './model.ts';

/** How clicks lie in a recording. */
export interface Lie {
  readonly clock: Pick<Clock, 'offset' | 'ppm'>;
  /** A click begins on a sample of what played it, so many a second; null: not known. */
  readonly grid: number | null;
  /** Amplitude against the others of the clicks that words were said over; 0: none sounded there. */
  readonly level: number;
}

export interface Placed {
  readonly click: ExpectedClick;
  /** Sample at which its stretch begins, and the part of a sample by which the click comes later than `lead` samples on. */
  readonly start: number;
  readonly part: number;
}

/** A drill's time on the grid of samples that it was played on. */
export const onGrid = (time: number, grid: number | null): number =>
  grid === null ? time : Math.floor(time * grid + 0.5) / grid;

export const levelOf = ({ underWord }: ExpectedClick, { level }: Lie): number =>
  underWord === undefined ? 1 : level;

export interface Stretches {
  readonly shapes: { readonly beat: Spectrum; readonly first: Spectrum };
  /** Those that sound and lie within the recording. */
  readonly placed: (clicks: readonly ExpectedClick[], lie: Lie) => readonly Placed[];
  /** Samples of a stretch as they are now; beyond the recording is silence. */
  readonly heardFrom: (start: number) => Float32Array;
  /** The click as it was sent into a stretch. */
  readonly sent: (one: Placed, lie: Lie) => Spectrum;
  readonly stretch: (one: Placed, lie: Lie) => Stretch;
  /** The same one after another, so that they are not all kept. */
  readonly each: (some: readonly Placed[], lie: Lie) => Iterable<Stretch>;
}

/** Spectra that are kept: 17 MB. */
const mostKnown = 512;

/** Looks at a recording that is not changed before all spectra were asked for. */
export const clickStretches = (signal: Float32Array, sound: ClickSound): Stretches => {
  const window = stretchWindow(Math.max(sound.beat.length, sound.first.length));
  const shapes = { beat: spectrumOf(sound.beat), first: spectrumOf(sound.first) };
  const placed = (clicks: readonly ExpectedClick[], lie: Lie): readonly Placed[] =>
    clicks.flatMap((click): readonly Placed[] => {
      const at = toRecording(lie.clock, onGrid(click.time, lie.grid)) * listeningRate;
      const start = Math.floor(at) - lead;
      const inside = Math.round(at) >= 0 && start + size <= signal.length;
      return inside && levelOf(click, lie) > 0 ? [{ click, start, part: at - start - lead }] : [];
    });
  const heardFrom = (start: number): Float32Array => {
    const samples = new Float32Array(size);
    samples.set(signal.subarray(Math.max(0, start), start + size), Math.max(0, -start));
    return samples;
  };
  const sent = ({ click, part }: Placed, lie: Lie): Spectrum => {
    const { re, im } = shifted(click.first ? shapes.first : shapes.beat, lead + part);
    const level = levelOf(click, lie);
    return { re: re.map((x) => level * x), im: im.map((x) => level * x) };
  };
  const known = new Map<number, Spectrum>();
  const heardAt = (start: number): Spectrum => {
    const there = known.get(start);
    if (there !== undefined) return there;
    const made = spectrumOf(heardFrom(start).map((value, n) => value * (window[n] ?? 0)));
    if (known.size < mostKnown) known.set(start, made);
    return made;
  };
  const stretch = (one: Placed, lie: Lie): Stretch => ({
    sent: sent(one, lie),
    heard: heardAt(one.start),
  });
  function* each(some: readonly Placed[], lie: Lie): Generator<Stretch> {
    for (const one of some) yield stretch(one, lie);
  }
  return { shapes, placed, heardFrom, sent, stretch, each };
};
