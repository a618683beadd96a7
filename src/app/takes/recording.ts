/** Recording: what is asked before the first take, the microphone and its level, and the take that runs. */
import {
  asInScore,
  loudnessOf,
  newTake,
  type Loudness,
  type Performed,
  type RunBegun,
  type Take,
} from '../../desk/index.ts';
import {
  deviceNote,
  freshTag,
  keepAwake,
  microphones,
  setDeviceNote,
  type Material,
  type Microphone,
  type OpenMicrophone,
  type Player,
  type RecorderNews,
} from '../../host/browser/index.ts';
import type { Problem } from '../../units/index.ts';
import type { Session } from '../session.ts';
import type { Keeper } from '../shelf/keeping.ts';
import { settingsOf } from '../shelf/settings.ts';
import { recordedPlayer, type RecordedPlayer } from './recordedPlayer.ts';

/** Why a take ended that nobody wanted to end. */
export type Cut = 'full-length' | 'microphone-gone' | 'no-room' | 'asleep' | 'stopped';

export interface RecordingNow {
  /** `asking`: what is to be agreed on; `checking`: the microphone is open, nothing is recorded. */
  readonly stage: 'away' | 'asking' | 'opening' | 'checking' | 'recording' | 'ending';
  /** Whether every start is recorded until it is put away. */
  readonly armed: boolean;
  /** Of the last seconds; null before anything was heard. */
  readonly loudness: Loudness | null;
  readonly microphone: OpenMicrophone | null;
  readonly microphones: readonly Microphone[];
  /** Milliseconds on the page's clock. */
  readonly since: number | null;
  readonly click: Take['click'];
  readonly problem: Problem | null;
  readonly cut: Cut | null;
  /** The take that was recorded last: its length in seconds, and whether it was too loud somewhere. */
  readonly last: { readonly seconds: number; readonly loud: boolean } | null;
}

interface Running {
  readonly id: string;
  readonly file: string;
  readonly piece: string;
  readonly begun: string;
  readonly asked: Readonly<Record<string, string>>;
}

/** A tenth of a second each: what is called loud or soft is so for three seconds. */
const remembered = 35;

/** Milliseconds that are recorded after the last sound, for the notes to die away; and after a stop, for the click's own end. */
const tails = { played: 2500, stopped: 250 } as const;

const notes = { agreed: 'asked-everyone', checked: 'level-checked', microphone: 'microphone' } as const;

export class Recording {
  readonly #session: Session;
  readonly #keeper: Keeper;
  readonly #redraw: () => void;
  /** Told after each take that was kept. */
  readonly #kept: (take: Take) => void;
  #player: Player | null = null;
  #recorded: RecordedPlayer | null = null;
  #once = false;
  #running: Running | null = null;
  #ending: Promise<void> | null = null;
  #tail: ReturnType<typeof setTimeout> | null = null;
  #stopAsked = false;
  #peaks: readonly number[] = [];
  #loudest = 0;
  #sleep: () => void = () => undefined;
  #now: RecordingNow = {
    stage: 'away',
    armed: false,
    loudness: null,
    microphone: null,
    microphones: [],
    since: null,
    click: 'room',
    problem: null,
    cut: null,
    last: null,
  };

  constructor(session: Session, keeper: Keeper, redraw: () => void, kept: (take: Take) => void) {
    this.#session = session;
    this.#keeper = keeper;
    this.#redraw = redraw;
    this.#kept = kept;
  }

  get now(): RecordingNow {
    return this.#now;
  }

  /** Whether something would be cut off if the window went. */
  get busy(): boolean {
    return this.#running !== null;
  }

  /** Whether there is something to be recorded: a loudspeaker, a drill, and a piece on the shelf to keep the take with. */
  get able(): boolean {
    return this.#player !== null && this.#session.shown.drill !== null && this.#keeper.now.piece !== null;
  }

  #set(change: Partial<RecordingNow>): void {
    this.#now = { ...this.#now, ...change };
    this.#redraw();
  }

  /** Takes the loudspeaker; gives it back as one that records where a take is wanted. */
  hear(player: Player): Player {
    this.#player = player;
    this.#recorded = recordedPlayer(player, {
      wanted: () => (this.#once || this.#now.armed) && (this.#running === null || this.#tail !== null),
      begin: () => this.#begin(),
      stopping: () => (this.#stopAsked = true),
      latest: () => this.#session.playback.latest,
      ended: () => this.#session.playback.ended(),
    });
    return this.#recorded.player;
  }

  /** For the recorder. */
  get news(): RecorderNews {
    return {
      level: (peak) => this.#level(peak),
      cut: (why) => void this.#end(why),
    };
  }

  #level(peak: number): void {
    this.#peaks = [...this.#peaks.slice(-remembered), peak];
    if (this.#running !== null) this.#loudest = Math.max(this.#loudest, peak);
    const loudness = loudnessOf(Math.max(...this.#peaks));
    if (this.#now.stage === 'checking' && loudness !== this.#now.loudness) this.#set({ loudness });
  }

  /** Play and record: by one touch, once all was agreed on and the level was looked at. */
  start(wait: number): void {
    if (this.#now.stage === 'checking') setDeviceNote(notes.checked, 'yes');
    else if (!this.#prepared()) return;
    this.#once = true;
    this.#session.playback.play(wait);
  }

  /** Every start is recorded from now on, or none any more. */
  arm(): void {
    if (this.#now.armed) {
      this.#set({ armed: false });
      if (this.#now.stage !== 'recording') this.putAway();
      return;
    }
    if (this.#now.stage === 'checking') setDeviceNote(notes.checked, 'yes');
    else if (!this.#prepared()) return;
    this.#set({ armed: true, stage: 'away', problem: null, cut: null });
  }

  /** The stand is left: a start is recorded no more unless it is said so. */
  disarm(): void {
    if (this.#now.armed) this.#set({ armed: false });
    if (this.#now.stage === 'checking' || this.#now.stage === 'asking') this.putAway();
  }

  #prepared(): boolean {
    if (deviceNote(notes.agreed) === null) this.#set({ stage: 'asking', problem: null, cut: null });
    else if (deviceNote(notes.checked) === null) void this.#open();
    else return true;
    return false;
  }

  /** All who will be heard have been asked. */
  agree(): void {
    setDeviceNote(notes.agreed, 'yes');
    void this.#open();
  }

  /** Looks at microphone and level once more. */
  check(): void {
    if (deviceNote(notes.agreed) === null) this.#set({ stage: 'asking' });
    else void this.#open();
  }

  putAway(): void {
    if (this.#running !== null) return;
    this.#player?.recorder.close();
    this.#set({ stage: 'away', microphone: null, loudness: null, armed: false });
  }

  choose(id: string): void {
    setDeviceNote(notes.microphone, id);
    void this.#open();
  }

  clickIn(click: Take['click']): void {
    this.#set({ click });
  }

  /** `check`: so that the level is looked at; else a take is to begin at once. */
  async #open(check = true): Promise<boolean> {
    if (this.#player === null) return false;
    this.#peaks = [];
    this.#set({ stage: 'opening', problem: null, cut: null, loudness: null });
    const wanted = deviceNote(notes.microphone) ?? '';
    const first = await this.#player.recorder.open(wanted);
    // The one that was chosen is not there today.
    const opened =
      !first.ok && first.error.code === 'microphone-missing' && wanted !== ''
        ? await this.#player.recorder.open('')
        : first;
    if (!opened.ok) {
      this.#set({ stage: 'away', problem: opened.error, microphone: null });
      return false;
    }
    this.#set({
      stage: check ? 'checking' : 'opening',
      microphone: opened.value,
      microphones: await microphones(),
    });
    return true;
  }

  async #begin(): Promise<boolean> {
    if (this.#running !== null) await this.#end('played');
    this.#once = false;
    this.#stopAsked = false;
    const { piece } = this.#keeper.now;
    const recorder = this.#player?.recorder;
    if (recorder === undefined || piece === null) return false;
    if (this.#now.stage !== 'checking' && !(await this.#open(false))) return false;
    const { microphone, click } = this.#now;
    const id = freshTag();
    const running: Running = {
      id,
      file: `${id}.wav`,
      piece: piece.id,
      begun: new Date().toISOString(),
      asked: { ...this.#session.shown.asked },
    };
    const { begun, asked } = running;
    const unasked = [...(microphone?.unasked ?? [])];
    const started = await recorder.begin(running.file, { begun, piece: piece.id, asked, click, unasked });
    if (!started.ok) {
      recorder.close();
      this.#set({ stage: 'away', problem: started.error, microphone: null });
      return false;
    }
    this.#running = running;
    this.#loudest = 0;
    this.#sleep = keepAwake(() => undefined);
    this.#set({ stage: 'recording', since: performance.now(), problem: null, cut: null, last: null });
    return true;
  }

  /** Told by the loudspeaker: this sounds from a frame on. */
  began(material: Material, start: number, from: number): void {
    const drill = this.#recorded?.drillOf(material) ?? null;
    const { piece, state } = this.#keeper.now;
    if (this.#running === null || drill === null) return;
    const { sound } = this.#session.shown;
    const run: RunBegun = {
      drill: { ...drill.drill },
      settings: { ...(piece === null ? asInScore : settingsOf(piece, state.records)) },
      sounding: { parts: drill.parts !== null, reference: Number(sound.pitch.replace(',', '.')) || 440 },
      at: start,
      from,
      clicks: drill.clicks.map(({ sample, rep, bar, beat, word }) => ({ sample, rep, bar, beat, word })),
      bars: [...drill.marks.bars],
    };
    this.#player?.recorder.run(run);
  }

  /** Told by the loudspeaker: it is silent from this frame on. */
  left(frame: number): void {
    if (this.#running !== null) this.#player?.recorder.left(frame);
  }

  /** Told when nothing sounds any more. */
  soundEnded(): void {
    if (this.#running === null || this.#tail !== null) return;
    const why = this.#stopAsked ? 'stopped' : 'played';
    this.#tail = setTimeout(() => void this.#end(why), tails[why]);
  }

  #end(why: Performed['ended']): Promise<void> {
    this.#ending ??= this.#endOnce(why).finally(() => (this.#ending = null));
    return this.#ending;
  }

  async #endOnce(why: Performed['ended']): Promise<void> {
    const running = this.#running;
    if (this.#tail !== null) clearTimeout(this.#tail);
    this.#tail = null;
    if (running === null || this.#player === null) return;
    const wanted = this.#stopAsked || why === 'played';
    this.#set({ stage: 'ending' });
    const { recorder, sampleRate, sounds } = this.#player;
    const samples = await recorder.end(why);
    recorder.close();
    this.#sleep();
    this.#running = null;
    const seconds = samples.ok ? samples.value / sampleRate : 0;
    const file = await sounds.file(running.file);
    const cut = !wanted && why !== 'cut-off' && why !== 'brought' ? why : null;
    this.#set({
      stage: 'away',
      since: null,
      microphone: null,
      loudness: null,
      cut,
      problem: samples.ok ? null : samples.error,
      last: { seconds, loud: loudnessOf(this.#loudest) === 'loud' },
    });
    if (seconds === 0) {
      await sounds.remove([running.file]);
      return;
    }
    const recorded = {
      file: running.file,
      name: '',
      part: '',
      recorded: true,
      seconds,
      bytes: file?.size ?? 0,
      along: false,
    };
    const { id, piece, asked, begun } = running;
    const take = newTake(id, piece, {
      asked,
      begun,
      click: this.#now.click,
      ended: why,
      sounds: { r: recorded },
    });
    this.#keeper.add({ kind: 'take', value: take });
    this.#kept(take);
  }
}
