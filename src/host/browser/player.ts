/** The loudspeaker: one audio graph of one node, which plays clicks and parts exactly and is told when to begin and to stop. */
import type { LiveClicks, LiveParts, PartsBlock } from '../../desk/index.ts';
import { fail, ok, type Result } from '../../units/index.ts';
import { asking } from './calls.ts';
import { clickProcessor, type FromAudio, type ToAudio } from './audioMessages.ts';
import type { Balance, Sounding } from './clickMessages.ts';
import processorUrl from './clicks.worklet.ts?worker&url';
import type { PartsCalls } from './parts.worker.ts';
import { recorderOn, type Recorder, type RecorderNews } from './takes/recorder.ts';
import { browserSounds, type Sounds } from './takes/sounds.ts';

export type { Balance } from './clickMessages.ts';

/** What is to sound of a drill. */
export interface Material {
  readonly clicks: LiveClicks;
  /** Null: clicks only. */
  readonly parts: LiveParts | null;
}

export interface PlayerNews {
  /** What was told by `then` has taken over. */
  readonly tookOver: () => void;
  /** All was played, or a stop's fade is over. */
  readonly ended: () => void;
  /** What was loaded or told by `then` sounds from frame `from` of the audio clock on; its first sample lies on frame `start`. */
  readonly began?: (material: Material, start: number, from: number) => void;
  /** What sounded is silent from this frame on. */
  readonly left?: (frame: number) => void;
  /** Of what is recorded meanwhile. */
  readonly recorder?: RecorderNews;
}

export interface Player {
  /** Hz; sound has to be made at this rate. */
  readonly sampleRate: number;
  /** Browsers let sound begin by a touch or key only: called on the first one, it saves time later. */
  readonly wake: () => void;
  /** What `play` will play: told in front, it begins at once. */
  readonly load: (material: Material) => void;
  /** Plays what was loaded, after `wait` seconds of silence; what was playing fades out. */
  readonly play: (wait: number) => void;
  /**
   * Leaves what is playing at its sample `at` and goes on with another drill from its sample `from`, on that very frame.
   * What was told before and has not begun is forgotten.
   */
  readonly then: (material: Material, at: number, from: number) => void;
  /** How loud, from now on. */
  readonly balance: (balance: Balance) => void;
  /** Fades out within 5 ms. */
  readonly stop: () => void;
  /**
   * Sample of the drill that is heard now, as far as the browser knows the delay of its output; negative while it waits;
   * null while nothing plays.
   */
  readonly heard: () => number | null;
  /** Samples of parts that were not there in time, since the page was opened. */
  readonly late: () => number;
  /** Records on the same clock. */
  readonly recorder: Recorder;
  /** What was recorded. */
  readonly sounds: Sounds;
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

/** Error: `no-sound`. */
export const browserPlayer = async (news: PlayerNews): Promise<Result<Player>> => {
  try {
    const context = makeContext();
    await context.audioWorklet.addModule(processorUrl);
    const node = new AudioWorkletNode(context, clickProcessor, {
      numberOfInputs: 0,
      outputChannelCount: [2],
    });
    node.connect(context.destination);
    return ok(playerOn(context, node, news));
  } catch (error) {
    const why = error instanceof Error ? ` (${error.message})` : '';
    return fail(
      'no-sound',
      `This browser gives no exact sound${why}. It needs to be a current one, and the page has to come from this machine or over https.`,
    );
  }
};

/** The thread that renders parts, started when the first parts are to sound. */
const partsThread = (audio: MessagePort) => {
  let ask: ReturnType<typeof asking<PartsCalls>> | null = null;
  return () => {
    if (ask !== null) return ask;
    const worker = new Worker(new URL('./parts.worker.ts', import.meta.url), {
      type: 'module',
      name: 'parts',
    });
    ask = asking<PartsCalls>(worker);
    const { port1, port2 } = new MessageChannel();
    const connect: ToAudio = { kind: 'connect', port: port2 };
    audio.postMessage(connect, [port2]);
    void ask('connect', port1, [port1]);
    return ask;
  };
};

const nothingNew: RecorderNews = { level: () => undefined, cut: () => undefined };

/** A run that is ready to begin, or will be. */
interface Prepared {
  readonly run: number;
  readonly ready: Promise<Sounding>;
  /** Null until it is ready. */
  sounding: Sounding | null;
}

const playerOn = (context: AudioContext, node: AudioWorkletNode, news: PlayerNews): Player => {
  const tell = (message: ToAudio): void => node.port.postMessage(message);
  const parts = partsThread(node.port);
  let runs = 0;
  /** The run whose news count, and the one that is to take over. */
  let [run, following] = [0, 0];
  let playing = false;
  let startFrame: number | null = null;
  let loaded: { readonly material: Material; readonly prepared: Prepared } | null = null;
  let late = 0;
  /** What runs play, from which sample on, until they are over. */
  const played = new Map<number, readonly [material: Material, from: number]>();
  const sounds = browserSounds();

  const firstOf = async (
    number: number,
    { parts: tones }: Material,
    from: number,
  ): Promise<PartsBlock | null> => {
    if (tones === null) return null;
    const head = await parts()('begin', { run: number, parts: tones, from });
    return head.ok ? head.value : null;
  };
  const prepare = (material: Material, from: number): Prepared => {
    const number = (runs += 1);
    played.set(number, [material, from]);
    const soundingOf = (head: PartsBlock | null): Sounding => ({
      run: number,
      clicks: material.clicks,
      head,
      from,
    });
    const prepared: Prepared = {
      run: number,
      ready: firstOf(number, material, from).then((head) => (prepared.sounding = soundingOf(head))),
      sounding: material.parts === null ? soundingOf(null) : null,
    };
    return prepared;
  };
  /** Does it now where that is possible, so that no time is lost. */
  const whenReady = ({ ready, sounding }: Prepared, act: (sounding: Sounding) => void): void => {
    if (sounding === null) void ready.then(act);
    else act(sounding);
  };
  const wake = (): void => {
    if (context.state !== 'running') void context.resume();
  };
  node.port.onmessage = ({ data }: MessageEvent<FromAudio>) => {
    if (data.kind === 'late') late += data.samples;
    else if (data.kind === 'started') {
      if (data.run < run) return;
      startFrame = data.frame;
      const [material, from] = played.get(data.run) ?? [null, 0];
      if (material !== null) news.began?.(material, data.frame, data.frame + from);
      if (data.run === run) return;
      run = data.run;
      if (following === run) following = 0;
      news.tookOver();
    } else if (data.run === run) {
      playing = false;
      startFrame = null;
      for (const number of played.keys()) if (number <= run) played.delete(number);
      news.left?.(data.frame);
      news.ended();
    }
  };
  return {
    sampleRate: context.sampleRate,
    wake,
    load: (material) => {
      const before = loaded?.prepared.run ?? run;
      if (before !== run && loaded?.material.parts !== null) void parts()('end', before);
      loaded = { material, prepared: prepare(material, 0) };
    },
    play: (wait) => {
      if (loaded === null) return;
      wake();
      const { material, prepared } = loaded;
      [run, following] = [prepared.run, 0];
      playing = true;
      startFrame = null;
      whenReady(prepared, (sounding) => {
        if (run === sounding.run)
          tell({ kind: 'play', sounding, wait: Math.round(wait * context.sampleRate) });
      });
      loaded = { material, prepared: prepare(material, 0) };
    },
    then: (material, at, from) => {
      const prepared = prepare(material, from);
      following = prepared.run;
      whenReady(prepared, (sounding) => {
        if (playing && following === sounding.run) tell({ kind: 'next', sounding, after: run, at });
      });
    },
    balance: (balance) => tell({ kind: 'balance', balance }),
    stop: () => {
      following = 0;
      tell({ kind: 'stop' });
    },
    heard: () => {
      if (!playing || startFrame === null) return null;
      // Safari has no outputLatency.
      const known = Number.isFinite(context.outputLatency) ? context.outputLatency : context.baseLatency;
      return (context.currentTime - known) * context.sampleRate - startFrame;
    },
    late: () => late,
    recorder: recorderOn(context, sounds, () => news.recorder ?? nothingNew),
    sounds,
  };
};
