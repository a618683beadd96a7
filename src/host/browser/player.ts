/** The loudspeaker: one audio graph of one node, which plays clicks exactly and is told when to begin and to stop. */
import type { LiveClicks } from '../../desk/index.ts';
import { fail, ok, type Result } from '../../units/index.ts';
import { clickProcessor, type FromAudio, type ToAudio } from './clickMessages.ts';
import processorUrl from './clicks.worklet.ts?worker&url';

export interface ClickPlayer {
  /** Hz; clicks have to be made at this rate. */
  readonly sampleRate: number;
  /** Browsers let sound begin by a touch or key only: called on the first one, it saves time later. */
  readonly wake: () => void;
  /** Plays from the drill's first sample, after `wait` seconds of silence; what was playing fades out. */
  readonly play: (clicks: LiveClicks, wait: number) => void;
  /** Fades out within 5 ms. */
  readonly stop: () => void;
  /**
   * Sample of the drill that is heard now, as far as the browser knows the delay of its output; negative while it waits;
   * null while nothing plays.
   */
  readonly heard: () => number | null;
}

/** Rates that clicks are made for, in Hz; a stranger device gets the usual rate, and the browser converts it. */
const rates = { lowest: 8_000, highest: 192_000, usual: 48_000 } as const;

const makeContext = (): AudioContext => {
  const own = new AudioContext({ latencyHint: 'interactive' });
  const { sampleRate } = own;
  if (Number.isInteger(sampleRate) && sampleRate >= rates.lowest && sampleRate <= rates.highest) return own;
  void own.close();
  return new AudioContext({ latencyHint: 'interactive', sampleRate: rates.usual });
};

/** `ended` is told when all was played, or when a stop's fade is over. Error: `no-sound`. */
export const browserPlayer = async (ended: () => void): Promise<Result<ClickPlayer>> => {
  try {
    const context = makeContext();
    await context.audioWorklet.addModule(processorUrl);
    const node = new AudioWorkletNode(context, clickProcessor, {
      numberOfInputs: 0,
      outputChannelCount: [2],
    });
    node.connect(context.destination);
    return ok(playerOn(context, node, ended));
  } catch (error) {
    const why = error instanceof Error ? ` (${error.message})` : '';
    return fail(
      'no-sound',
      `This browser gives no exact sound${why}. It needs to be a current one, and the page has to come from this machine or over https.`,
    );
  }
};

const playerOn = (context: AudioContext, node: AudioWorkletNode, ended: () => void): ClickPlayer => {
  const tell = (message: ToAudio): void => node.port.postMessage(message);
  let run = 0;
  let playing = false;
  let startFrame: number | null = null;
  node.port.onmessage = ({ data }: MessageEvent<FromAudio>) => {
    if (data.run !== run) return;
    if (data.kind === 'started') startFrame = data.frame;
    else {
      playing = false;
      startFrame = null;
      ended();
    }
  };
  const wake = (): void => {
    if (context.state !== 'running') void context.resume();
  };
  return {
    sampleRate: context.sampleRate,
    wake,
    play: (clicks, wait) => {
      wake();
      run += 1;
      playing = true;
      startFrame = null;
      tell({ kind: 'play', run, clicks, wait: Math.round(wait * context.sampleRate) });
    },
    stop: () => tell({ kind: 'stop' }),
    heard: () => {
      if (!playing || startFrame === null) return null;
      // Safari has no outputLatency.
      const known = Number.isFinite(context.outputLatency) ? context.outputLatency : context.baseLatency;
      return (context.currentTime - known) * context.sampleRate - startFrame;
    },
  };
};
