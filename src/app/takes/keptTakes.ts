/** The takes that are kept: found again, listened to, taken along, brought from elsewhere, deleted. */
import {
  newTake,
  notesState,
  performedOf,
  samplesIn,
  soundsNamed,
  soundsOf,
  type Performed,
  type Take,
  type TakeSound,
} from '../../desk/index.ts';
import {
  freshTag,
  roomHere,
  savedFile,
  type KeptSound,
  type Room,
  type Sounds,
} from '../../host/browser/index.ts';
import { problem, type Problem } from '../../units/index.ts';
import type { Session } from '../session.ts';
import { instrumentOf } from '../reading/seats.ts';
import { bare, withoutEnding } from '../shelf/records.ts';
import type { Keeper } from '../shelf/keeping.ts';
import { Listener } from './listening.ts';
import { whose } from './whose.ts';

/** A take that was cut off, or has not come to the shelf. */
export interface Found {
  readonly file: string;
  readonly seconds: number;
  /** ISO 8601; empty where it is not known any more. */
  readonly begun: string;
}

export interface KeptNow {
  readonly found: readonly Found[];
  readonly room: Room | null;
  readonly problem: Problem | null;
  /** The sound that plays; null: none. */
  readonly heard: string | null;
}

/** Milliseconds after which a sound that no take names is taken for left over: another window may just be bringing it. */
const young = 60_000;

/** What recordings are called. */
const endings = /\.(wav|flac|mp3|ogg|oga|opus|m4a|mp4|aac|aif|aiff|caf|webm|amr|3gp)$/i;

export const isSound = ({ name, type }: File): boolean => type.startsWith('audio/') || endings.test(name);

export class KeptTakes {
  readonly #session: Session;
  readonly #keeper: Keeper;
  readonly #redraw: () => void;
  readonly #listener: Listener;
  #sounds: Sounds | null = null;
  #left: readonly KeptSound[] = [];
  #room: Room | null = null;
  #problem: Problem | null = null;

  constructor(session: Session, keeper: Keeper, redraw: () => void) {
    this.#session = session;
    this.#keeper = keeper;
    this.#redraw = redraw;
    this.#listener = new Listener(redraw);
  }

  get now(): KeptNow {
    return {
      found: this.#left.map(({ file, notes, rate, samples }) => {
        const about = performedOf(notes ?? '', samples);
        return { file, seconds: rate === 0 ? 0 : samples / rate, begun: about.ok ? about.value.begun : '' };
      }),
      room: this.#room,
      problem: this.#problem,
      heard: this.#listener.now.file,
    };
  }

  #refuse(error: Problem): void {
    this.#problem = error;
    this.#redraw();
  }

  /** Looks through what is kept: what was cut off is offered, what no take has any more goes. Once the shelf is read. */
  async start(sounds: Sounds): Promise<void> {
    this.#sounds = sounds;
    // Who has never recorded needs no thread for it; and where no shelf is read, nothing is known to be left over.
    if (this.#keeper.now.trouble !== null || !(await sounds.any())) return;
    const list = await sounds.list();
    if (!list.ok) return;
    const named = soundsNamed(this.#keeper.now.state.records);
    const states = list.value.map((sound) => ({
      ...sound,
      ...(sound.notes === null ? { ended: true, shelved: true } : notesState(sound.notes)),
      named: named.has(sound.file),
    }));
    const late = Date.now() - young;
    const over = states.filter((one) => !one.named && one.shelved && one.changed < late);
    if (over.length > 0) await sounds.remove(over.map(({ file }) => file));
    const fresh = states.filter((one) => one.named && !one.shelved);
    if (fresh.length > 0) await sounds.shelved(fresh.map(({ file }) => file));
    this.#left = states.filter((one) => !one.named && !one.shelved);
    await this.look();
  }

  /** How much room there is. */
  async look(): Promise<void> {
    this.#room = await roomHere();
    this.#redraw();
  }

  /** Marks the sound of a take as one that goes with it, once the take is kept. */
  async settle(take: Take, patience = 40): Promise<void> {
    await this.look();
    if (this.#keeper.now.state.unkept && patience > 0) {
      setTimeout(() => void this.settle(take, patience - 1), 250);
      return;
    }
    const files = soundsOf(take).flatMap(([, { file, recorded }]) => (recorded ? [file] : []));
    if (!this.#keeper.now.state.unkept) await this.#sounds?.shelved(files);
  }

  /** Keeps a take that was cut off. */
  async keep(file: string): Promise<void> {
    const sound = this.#left.find((one) => one.file === file);
    const { piece } = this.#keeper.now;
    if (sound === undefined) return;
    const about = performedOf(sound.notes ?? '', sound.samples);
    const own = about.ok ? about.value : null;
    const home =
      own !== null && this.#keeper.now.state.records.has(`piece:${own.piece}`) ? own.piece : piece?.id;
    if (home === undefined) return;
    const take = newTake(withoutEnding(file), home, {
      asked: own?.asked ?? {},
      begun: own?.begun ?? new Date(sound.changed).toISOString(),
      click: own?.click ?? 'room',
      ended: own?.ended ?? 'cut-off',
      sounds: {
        r: {
          file,
          name: '',
          part: '',
          recorded: true,
          seconds: sound.rate === 0 ? null : sound.samples / sound.rate,
          bytes: sound.bytes,
          along: false,
        },
      },
    });
    this.#left = this.#left.filter((one) => one !== sound);
    this.#keeper.add({ kind: 'take', value: take });
    await this.settle(take);
  }

  /** Deletes one that was cut off. */
  async drop(file: string): Promise<void> {
    if (await this.#erase([file])) this.#left = this.#left.filter((one) => one.file !== file);
    this.#redraw();
  }

  async #erase(files: readonly string[]): Promise<boolean> {
    if (files.includes(this.#listener.now.file ?? '')) this.#listener.stop();
    const removed = await this.#sounds?.remove(files);
    if (removed?.ok === false) this.#refuse(removed.error);
    await this.look();
    return removed?.ok === true;
  }

  /** Deletes a take with all its sounds, at once and for good. */
  async remove(take: Take, name: string): Promise<void> {
    if (await this.#erase(soundsOf(take).map(([, { file }]) => file)))
      await this.#keeper.remove([`take:${take.id}`], name, true);
  }

  /** Deletes one sound of a take. */
  async removeSound(take: Take, id: string, { file }: TakeSound): Promise<void> {
    if (await this.#erase([file])) this.#keeper.change(`take:${take.id}`, { sounds: { [id]: null } });
  }

  /** What sounded while a take was recorded here; null where that is not known. */
  async performed(take: Take): Promise<Performed | null> {
    const own = soundsOf(take).find(([, { recorded }]) => recorded)?.[1];
    const notes = own === undefined ? null : ((await this.#sounds?.notes(own.file)) ?? null);
    if (own === undefined || notes === null) return null;
    const read = performedOf(notes, samplesIn(own.bytes));
    return read.ok ? { ...read.value, click: take.click } : null;
  }

  /** The file of a sound, read from the disk as it is needed; null where it is not on this device. */
  async file({ file }: TakeSound): Promise<File | null> {
    return (await this.#sounds?.file(file)) ?? null;
  }

  /** Plays a sound from so many seconds on, or stops it. */
  async listen(sound: TakeSound, from: number): Promise<void> {
    if (this.#listener.now.file === sound.file) {
      this.#listener.stop();
      return;
    }
    this.#session.playback.stop();
    const file = await this.file(sound);
    if (file === null) this.#refuse(missing(sound.name));
    else this.#listener.play(sound.file, file, from, () => this.#refuse(unplayable(sound.name)));
  }

  /** What plays on the stand is not to be mixed with what is listened to. */
  hush(): void {
    this.#listener.stop();
  }

  /** Gives a sound as a file. */
  async takeAlong(take: Take, id: string, sound: TakeSound, name: string): Promise<void> {
    const file = await this.file(sound);
    if (file === null) {
      this.#refuse(missing(sound.name));
      return;
    }
    const ending = /\.[^.]*$/.exec(sound.file)?.[0] ?? '';
    savedFile(`${bare(name)}${ending}`, file);
    this.#keeper.change(`take:${take.id}`, { sounds: { [id]: { ...sound, along: true } } });
  }

  /** Gives what sounded as a file. */
  async timesAlong(take: Take, name: string): Promise<void> {
    const performed = await this.performed(take);
    if (performed === null) this.#refuse(missing(''));
    else savedFile(`${bare(name)}.performed.json`, new Blob([`${JSON.stringify(performed, null, 1)}\n`]));
  }

  /** What else a part is called: by its player, and what they play. */
  #called(part: string): readonly string[] {
    const { piece, state } = this.#keeper.now;
    const home = state.records.get(`ensemble:${piece?.ensemble ?? ''}`);
    const ensemble = home?.kind === 'ensemble' ? home.value : null;
    if (piece === null) return [];
    const player = ensemble?.players[piece.players[part] ?? '']?.name ?? '';
    return [player, instrumentOf(piece, ensemble, part)];
  }

  /** Puts recordings from elsewhere to a take; without one, to a new one of the drill that stands in the margin. */
  async bring(files: readonly File[], take: Take | null = null): Promise<void> {
    const { piece } = this.#keeper.now;
    const sounds: Record<string, TakeSound> = {};
    this.#problem = null;
    const recordings = files.filter(isSound);
    const parts = whose(
      recordings.map(({ name }) => name),
      this.#session.shown.piece?.look.parts ?? [],
      (part) => this.#called(part),
    );
    for (const [i, from] of recordings.entries()) {
      const id = freshTag();
      const file = `${id}${/\.[A-Za-z0-9]{1,8}$/.exec(from.name)?.[0].toLowerCase() ?? ''}`;
      const brought = await this.#sounds?.bring(file, from);
      if (brought?.ok === false) this.#refuse(brought.error);
      if (brought?.ok !== true) continue;
      const name = from.name.slice(0, 200);
      sounds[id] = {
        file,
        name,
        part: parts[i] ?? '',
        recorded: false,
        seconds: null,
        bytes: brought.value,
        along: false,
      };
    }
    if (files.some((one) => !isSound(one)))
      this.#refuse(
        problem('error', 'take-no-sound', 'Not all of these files are recordings; the others were left.'),
      );
    if (Object.keys(sounds).length > 0 && take !== null) this.#keeper.change(`take:${take.id}`, { sounds });
    else if (Object.keys(sounds).length > 0 && piece !== null) {
      const made = newTake(freshTag(), piece.id, {
        asked: { ...this.#session.shown.asked },
        begun: new Date().toISOString(),
        click: 'room',
        ended: 'brought',
        sounds,
      });
      this.#keeper.add({ kind: 'take', value: made });
    }
    await this.look();
  }
}

const missing = (name: string): Problem =>
  problem('error', 'take-sound-missing', `The sound ${name} of this take is not on this device.`);

const unplayable = (name: string): Problem =>
  problem(
    'error',
    'take-unplayable',
    `This browser cannot play ${name}. The file is kept as it is, and can be taken along.`,
  );
