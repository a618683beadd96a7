/** Records takes on the clock of the clicks: microphone, audio thread and the thread that writes, put together. */
import {
  headLine,
  leftLine,
  longestTake,
  runLine,
  type Performed,
  type PerformedHead,
  type RunBegun,
} from '../../../desk/index.ts';
import { fail, ok, type Result } from '../../../units/index.ts';
import type { Sounds } from './sounds.ts';
import { openMicrophone, type OpenMicrophone } from './microphone.ts';
import { tapProcessor, type FromTap, type ToTap } from './tapMessages.ts';
import tapUrl from './tap.worklet.ts?worker&url';

/** What may happen of itself. The take is then to be ended by whoever hears of it. */
export interface RecorderNews {
  /** The largest amplitude of the last tenth of a second, full scale 1. */
  readonly level: (peak: number) => void;
  readonly cut: (why: Performed['ended']) => void;
}

export interface Recorder {
  /** Has a microphone ready, and tells its level from now on; empty: the usual one. Errors: `microphone-…`. */
  readonly open: (id: string) => Promise<Result<OpenMicrophone>>;
  /** Lets it go. */
  readonly close: () => void;
  /** Records from now on. Done when the first sample is there. Errors: `take-…`, `microphone-…`. */
  readonly begin: (file: string, about: Omit<PerformedHead, 'rate'>) => Promise<Result<null>>;
  /** A drill begins to sound: `at`, `from` in frames of the audio clock. */
  readonly run: (run: RunBegun) => void;
  /** What sounds is left at this frame. */
  readonly left: (frame: number) => void;
  /** Ends the take; with its samples. */
  readonly end: (why: Performed['ended']) => Promise<Result<number>>;
}

/** Milliseconds to wait for the first sample. */
const patience = 3000;

/** `news` is asked for anew each time. */
export const recorderOn = (context: AudioContext, sounds: Sounds, news: () => RecorderNews): Recorder => {
  let tap: AudioWorkletNode | null = null;
  let open: { readonly microphone: OpenMicrophone; readonly source: AudioNode } | null = null;
  /** Frame of the recording's first sample; null while nothing is recorded. */
  let first: number | null = null;
  let begun: (frame: number) => void = () => undefined;
  let recording = false;

  const tell = (message: ToTap, transfer: Transferable[] = []): void =>
    tap?.port.postMessage(message, transfer);
  const cut = (why: Performed['ended']): void => {
    if (recording) news().cut(why);
  };
  sounds.watch(cut);
  context.addEventListener('statechange', () => {
    if (context.state !== 'running') cut('asleep');
  });

  const tapNode = async (): Promise<AudioWorkletNode> => {
    if (tap !== null) return tap;
    await context.audioWorklet.addModule(tapUrl);
    const node = new AudioWorkletNode(context, tapProcessor, {
      numberOfOutputs: 0,
      channelCount: 1,
      channelCountMode: 'explicit',
    });
    node.port.onmessage = ({ data }: MessageEvent<FromTap>) => {
      if (data.kind === 'level') news().level(data.peak);
      else if (data.kind === 'begun') begun(data.frame);
      else cut('full-length');
    };
    tap = node;
    return node;
  };
  const close = (): void => {
    open?.source.disconnect();
    open?.microphone.track.stop();
    open = null;
  };
  const connect = async (microphone: OpenMicrophone): Promise<Result<OpenMicrophone>> => {
    try {
      const node = await tapNode();
      const source = context.createMediaStreamSource(microphone.stream);
      source.connect(node);
      open = { microphone, source };
    } catch {
      // One browser does not bring a microphone of another rate to the rate of the output.
      microphone.track.stop();
      return fail(
        'microphone-rate',
        'Microphone and loudspeaker of this device run at different rates, which this browser cannot bring together. Choose another microphone, or set both to 48 kHz in the settings of the device.',
      );
    }
    microphone.track.addEventListener('ended', () => {
      if (open?.microphone !== microphone) return;
      cut('microphone-gone');
      close();
    });
    return ok(microphone);
  };
  const firstFrame = (): Promise<number | null> =>
    new Promise((resolve) => {
      const timer = setTimeout(() => resolve(null), patience);
      begun = (frame) => {
        clearTimeout(timer);
        resolve(frame);
      };
    });
  return {
    open: async (id) => {
      close();
      if (context.state !== 'running') void context.resume();
      const microphone = await openMicrophone(id);
      return microphone.ok ? connect(microphone.value) : microphone;
    },
    close,
    begin: async (file, about) => {
      const { port1, port2 } = new MessageChannel();
      const head = headLine({ ...about, rate: context.sampleRate });
      const opened = await sounds.begin({ file, rate: context.sampleRate, head, port: port2 });
      if (!opened.ok) return opened;
      const heard = firstFrame();
      tell({ kind: 'record', port: port1, most: longestTake * context.sampleRate }, [port1]);
      first = await heard;
      recording = first !== null;
      if (recording) return ok(null);
      await sounds.end('stopped');
      await sounds.remove([file]);
      return fail(
        'no-sound',
        'This browser gives no exact sound. It needs to be a current one, and the page has to come from this machine or over https.',
      );
    },
    run: (run) => {
      if (first === null) return;
      sounds.note(runLine({ ...run, at: run.at - first, from: run.from - first }));
    },
    left: (frame) => {
      if (first !== null) sounds.note(leftLine(frame - first));
    },
    end: async (why) => {
      recording = false;
      first = null;
      tell({ kind: 'end' });
      return sounds.end(why);
    },
  };
};
