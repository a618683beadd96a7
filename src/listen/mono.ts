/** From blocks of any rate and any number of channels to one channel at the listening rate, and what is wrong with it. */
import { problem, type Problem } from '../units/index.ts';
import { listeningRate } from './model.ts';
import { resampler, type Resampler } from './resample.ts';

export interface Mono {
  readonly signal: Float32Array;
  /** Hz, as the file has it. */
  readonly rate: number;
  readonly channels: number;
  /** Largest sample of any channel. */
  readonly peak: number;
  /** Share of samples that stand at the very top, two or more in a row. */
  readonly clipped: number;
  /** Samples that were no numbers. */
  readonly broken: number;
  /** Whether more came than is listened to. */
  readonly beyond: boolean;
}

/** Seconds that are listened to, and rates in Hz that a recording of music may have. Our choice, against files that lie. */
const longest = 3 * 3600;
const lowestRate = 4_000;
const highestRate = 800_000;

export interface MonoMaker {
  /** The next block: one array for each channel, equally long. The rate is that of the first block. */
  readonly push: (rate: number, channels: readonly Float32Array[]) => void;
  /** Null where nothing came. */
  readonly end: () => Mono | null;
}

/** From here up a run of equal samples is the recorder's ceiling. */
const ceiling = 0.97;

interface Store {
  readonly add: (samples: Float32Array) => void;
  readonly all: () => Float32Array;
  readonly length: () => number;
}

/** Samples one after the other. Where `expected` is no less than what comes, nothing is copied. */
const store = (expected: number): Store => {
  let [room, length] = [new Float32Array(expected), 0];
  return {
    add: (samples) => {
      if (length + samples.length > room.length) {
        const larger = new Float32Array(Math.ceil(1.3 * (length + samples.length)));
        larger.set(room.subarray(0, length));
        room = larger;
      }
      room.set(samples, length);
      length += samples.length;
    },
    all: () => room.subarray(0, length),
    length: () => length,
  };
};

/**
 * Gathers a recording. Memory is that of the result, four bytes for each sample at the listening rate, where its length
 * in seconds is told beforehand, and for moments up to 2.3 times that where it is not.
 */
export const monoMaker = (seconds = 0): MonoMaker => {
  const { add, all, length } = store(Math.ceil(Math.min(seconds, longest) * listeningRate) + 64);
  let beyond = false;
  /** Where a block's channels are mixed: what a long recording would leave behind of a new one each time is much. */
  let room = new Float32Array(0);
  let resample: Resampler | null = null;
  let [rate, channelCount, peak, broken, atTop, total] = [0, 0, 0, 0, 0, 0];
  const lastTop: boolean[] = [];
  const look = (channel: Float32Array, c: number): void => {
    let before = lastTop[c] === true;
    for (let i = 0; i < channel.length; i += 1) {
      const x = channel[i] ?? 0;
      if (!Number.isFinite(x)) {
        channel[i] = 0;
        broken += 1;
        continue;
      }
      const size = Math.abs(x);
      if (size > peak) peak = size;
      const top = size >= ceiling;
      if (top && before) atTop += 1;
      before = top;
    }
    lastTop[c] = before;
    total += channel.length;
  };
  return {
    push: (blockRate, channels) => {
      const [first] = channels;
      if (first === undefined || first.length === 0) return;
      if (rate === 0) {
        rate = blockRate;
        channelCount = channels.length;
        resample = rate === listeningRate ? null : resampler(rate, listeningRate);
      }
      beyond ||= length() > longest * listeningRate;
      if (beyond || rate < lowestRate || rate > highestRate) return;
      channels.forEach(look);
      if (room.length < first.length) room = new Float32Array(first.length);
      const mixed = room.subarray(0, first.length).fill(0);
      for (const channel of channels)
        for (let i = 0; i < mixed.length; i += 1)
          mixed[i] = (mixed[i] ?? 0) + (channel[i] ?? 0) / channels.length;
      add(resample === null ? mixed : resample.push(mixed));
    },
    end: () => {
      if (rate === 0) return null;
      if (resample !== null && !beyond) add(resample.end());
      const signal = all();
      const clipped = atTop / Math.max(1, total);
      return { signal, rate, channels: channelCount, peak, clipped, broken, beyond };
    },
  };
};

/** Full scale; below it there is no music. -70 dB: the absolute gate of ITU-R BS.1770-4. */
const silentPeak = 10 ** (-70 / 20);
/** Share of samples at the ceiling from which on a recording tells nothing any more, and from which on it is said. Our choice. */
const ruined = 0.05;
const audible = 0.0002;
/** Seconds. */
const shortest = 2;

/** The error that forbids to listen, or null, and what should be said. `name`: as the user named the file. */
export const judgeSound = (
  mono: Mono | null,
  name: string,
): { readonly error: Problem | null; readonly problems: readonly Problem[] } => {
  const refuse = (code: string, message: string) => ({
    error: problem('error', code, message),
    problems: [],
  });
  if (mono === null) return refuse('take-empty', `${name} holds no sound.`);
  const { signal, rate, channels, peak, clipped, broken, beyond } = mono;
  const seconds = signal.length / listeningRate;
  if (rate < lowestRate || rate > highestRate)
    return refuse(
      'take-rate',
      `${name} states a rate of ${rate} samples a second; a recording of music has 8,000 to 192,000. It may be damaged.`,
    );
  if (beyond)
    return refuse(
      'sound-too-long',
      `${name} is longer than ${longest / 3600} hours. Save a shorter part of it.`,
    );
  if (seconds < shortest)
    return refuse(
      'take-short',
      `${name} lasts ${seconds.toFixed(1)} seconds. That is too short to tell anything from; was the recording stopped at once?`,
    );
  if (peak < silentPeak)
    return refuse('take-silent', `${name} is silent. Was the microphone muted, or the wrong input chosen?`);
  if (clipped > ruined)
    return refuse(
      'take-clipped',
      `${name} is distorted throughout: ${(100 * clipped).toFixed(0)} % of it stands at the recorder's ceiling. Turn the recording level down and play again.`,
    );
  const problems: Problem[] = [];
  if (clipped > audible)
    problems.push(
      problem(
        'note',
        'take-clipped',
        `${name} reaches the recorder's ceiling in places. Loud beginnings may be read less surely; turn the recording level down next time.`,
      ),
    );
  if (channels > 1)
    problems.push(
      problem('note', 'take-mixed', `${name} has ${channels} channels; their mean is listened to.`),
    );
  if (broken > 0)
    problems.push(
      problem(
        'repair',
        'wav-no-number',
        `${broken} sample(s) are not numbers (a damaged file). Silence stands there.`,
      ),
    );
  return { error: null, problems };
};
