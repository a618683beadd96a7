/** The ear: recordings of the players of a drill in, what was heard out. */
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { Drill } from '../drill/model.ts';
import { workOut, type WorkedDrill } from '../drill/workOut.ts';
import type { ClickSound } from '../listen/model.ts';
import type { Mono } from '../listen/mono.ts';
import { refineByRises } from '../listen/mix/rises.ts';
import { hearPlayer, type PlayerHeard } from '../listen/player.ts';
import { listeningRate } from '../listen/model.ts';
import { weighting } from '../sound/loudness.ts';
import { chooseRegister } from '../sound/registers.ts';
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import { mayOrnament } from './freeTimes.ts';
import { asInScore, type PieceSettings } from './fitScore.ts';
import { readSound, type DecodePort } from './hearSound.ts';
import { assign, type Assigned, type TakeFile } from './hearAssign.ts';
import { hearMixed, type Distances, type MixedHeard } from './hearMixed.ts';
import { judgeOrder, type FitTo } from './hearOrder.ts';
import { readingOf, type Heard } from './hearReading.ts';
import { judgeFit, saidOf } from './hearSaid.ts';
import { clickSound, expectedNotes, taskOf } from './hearTask.ts';
import { pieceHash } from './makeDrill.ts';
import type { Reading } from './reading.ts';
import { readPiece } from './readOnce.ts';
import { eachPiece, type SoundBytes } from './soundBytes.ts';

export interface HearOptions {
  /** Whether the players held to the click, or played freely; null: by the drill. */
  readonly with: 'click' | 'free' | null;
  /** Of one recording for all: metres from players to the microphone. */
  readonly distances?: Distances;
  /** Of one recording for all: the search by signal processing alone, to hold others against it. */
  readonly bySignal?: boolean;
  /** Told how much of the work is done, 0 to 1, as far as it is known. */
  readonly progress?: (done: number) => void;
}

/** A drill with its score, and what its ensemble has set for the piece; where that is left out, as in the score. */
export interface HeardDrill extends Partial<PieceSettings> {
  readonly bytes: Uint8Array;
  readonly drill: Drill;
}

/** Times come out exact at any rate; this one is that of usual recordings. */
const rate = 48_000;

const openWorked = ({ bytes, drill, ...settings }: HeardDrill): Result<WorkedDrill> => {
  if (pieceHash(bytes) !== drill.score.sha256)
    return fail(
      'score-changed',
      `The score in this drill's folder (${drill.score.file}) is not the one that the drill was made on, so that it is not known what was to be played. Make the drill anew from the score.`,
    );
  const read = readPiece(bytes, { ...asInScore, ...settings });
  if (!read.ok) return read;
  return workOut(read.value.score, drill, rate);
};

/** How much of the work is done when a recording's bytes have become sound, and when its notes are found; by the clock, roughly. */
const shares = { sound: 0.05, notes: 0.95 } as const;

/** What one recording needs to be heard against a part. */
interface Listening {
  readonly worked: WorkedDrill;
  readonly click: ClickSound;
  readonly free: boolean;
  readonly port: DecodePort;
  /** Digests of the recordings that were read, with their names; null where there is nothing to be held against each other. */
  readonly seen: Map<string, string> | null;
}

/** Says so where a recording was read before. Error: `takes-same-file`. */
const notAgain = async (
  bytes: SoundBytes,
  { name }: TakeFile,
  seen: Map<string, string>,
): Promise<Result<null>> => {
  const sum = sha256.create();
  const read = await eachPiece(bytes, (piece) => void sum.update(piece));
  if (!read.ok) return read;
  const digest = bytesToHex(sum.digest());
  const other = seen.get(digest);
  if (other !== undefined)
    return fail(
      'takes-same-file',
      `${other === name ? `${other} is given twice` : `${other} and ${name} are the same recording`}. Each player needs a recording of their own; leave out who has none, and say whose each is, as P1=recording.wav.`,
    );
  seen.set(digest, name);
  return ok(null);
};

/** A recording's samples. Errors: `takes-same-file`, those of `readSound`. */
const soundOf = async (file: TakeFile, { port, seen }: Listening): Promise<Result<Mono>> => {
  const bytes = await file.read();
  if (!bytes.ok) return bytes;
  const fresh = seen === null ? ok(null) : await notAgain(bytes.value, file, seen);
  return fresh.ok ? readSound(bytes.value, file.name, port) : fresh;
};

const listen = (
  sound: Float32Array,
  part: string,
  { worked, click, free }: Listening,
): PlayerHeard | null => {
  const task = taskOf(worked, part, click, !free);
  if (task.notes.length === 0) return null;
  const heard = hearPlayer(sound, task, weighting(listeningRate));
  const ornament = mayOrnament(worked, part);
  return { ...heard, added: heard.added.filter(({ time }) => !ornament(time)) };
};

/** How well a recording fits each part. The same file may be asked for again here. */
const fitTo =
  (listening: Listening): FitTo =>
  async (file) => {
    const sound = await soundOf(file, { ...listening, seen: null });
    if (!sound.ok) return sound;
    // The click is taken out of what is listened to, each time anew.
    return ok((part: string) => listen(sound.value.signal.slice(), part, listening)?.fit ?? 0);
  };

/** One recording of all players. Its samples are let go before anything is told of it. */
const heardAll = async (
  file: TakeFile,
  listening: Listening,
  { distances = new Map(), bySignal = false, progress = () => undefined }: HearOptions,
): Promise<Result<MixedHeard>> => {
  const sound = await soundOf(file, listening);
  if (!sound.ok) return sound;
  progress(shares.sound);
  const { worked, click, free } = listening;
  const refine = bySignal ? refineByRises : null;
  const heard = hearMixed(sound.value.signal, file, worked, click, {
    free,
    distances,
    refine,
    progress: (done) => progress(shares.sound + (shares.notes - shares.sound) * done),
  });
  return heard.ok ? ok({ ...heard.value, assumed: [...sound.problems, ...heard.value.assumed] }) : heard;
};

/** One recording of all players, read. */
const hearAll = async (
  file: TakeFile,
  listening: Listening,
  drill: Drill,
  options: HearOptions,
): Promise<Result<Reading>> => {
  const heard = await heardAll(file, listening, options);
  if (!heard.ok) return heard;
  options.progress?.(shares.notes);
  const { players, assumed } = heard.value;
  // Where it is not said, players whose recording has no click played without it.
  const heardClick = players.some((player) => player.heard.clock.by === 'clicks');
  const freely = listening.free || (options.with === null && !heardClick);
  return ok(readingOf(players, listening.worked, drill, freely, assumed));
};

/** One player's recording; its samples are let go before the next is read. Null where the player has no notes. */
const heardOne = async (
  { file, part }: Assigned,
  listening: Listening,
  begun: () => void,
): Promise<Result<PlayerHeard | null>> => {
  const sound = await soundOf(file, listening);
  if (!sound.ok) return sound;
  begun();
  return ok(listen(sound.value.signal, part.id, listening), sound.problems);
};

/**
 * Hears one recording for each player of a drill, or one of all of them (a single one, without a part's name). Same files, same reading. Errors: `score-changed`, `takes-count`,
 * `takes-same-part`, `takes-same-file`, `part-unknown`, `take-no-parts`, `players-swapped`, `take-other-piece`, those of
 * `readSound`, of the score's reader and of the drill.
 */
export const hear = async (
  files: readonly TakeFile[],
  opened: HeardDrill,
  options: HearOptions,
  port: DecodePort,
): Promise<Result<Reading>> => {
  const work = openWorked(opened);
  if (!work.ok) return work;
  const worked = work.value;
  const [only] = files;
  const together = files.length === 1 && only?.part === null && worked.parts.length > 1 ? only : null;
  const assigned = together === null ? assign(files, worked) : ok([]);
  if (!assigned.ok) return assigned;
  const click = clickSound(rate, chooseRegister(worked.timeline.notes, rate));
  if (!click.ok) return click;
  const free = options.with === 'free' || (options.with === null && opened.drill.click === 'none');
  const listening: Listening = {
    worked,
    click: click.value,
    free,
    port,
    seen: files.length > 1 ? new Map() : null,
  };
  if (together !== null) return hearAll(together, listening, opened.drill, options);
  const assumed: Problem[] = [];
  const players: Heard[] = [];
  const { progress = () => undefined } = options;
  for (const [i, one] of assigned.value.entries()) {
    const found = await heardOne(one, listening, () =>
      progress((shares.notes * (i + 0.2)) / assigned.value.length),
    );
    if (!found.ok) return found;
    const place = { part: one.part.id };
    assumed.push(...found.problems.map((said) => ({ ...said, ...place })));
    const heard = found.value;
    if (heard === null)
      assumed.push(problem('note', 'take-no-notes', `${one.part.name} has no notes in this drill.`, place));
    else players.push({ assigned: one, heard });
    progress((shares.notes * (i + 1)) / assigned.value.length);
  }
  const ordered = await judgeOrder(players, worked.parts, fitTo(listening));
  if (!ordered.ok) return ordered;
  for (const player of players) {
    const fits = judgeFit(player.assigned, player.heard);
    if (!fits.ok) return fits;
    const last = expectedNotes(worked, player.assigned.part.id).at(-1)?.time ?? 0;
    assumed.push(...fits.problems, ...saidOf(player.assigned, player.heard, last));
  }
  return ok(readingOf(players, worked, opened.drill, free, assumed));
};
