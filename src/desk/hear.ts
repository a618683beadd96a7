/** The ear: recordings of the players of a drill in, what was heard out. */
import type { Drill } from '../drill/model.ts';
import { workOut, type WorkedDrill } from '../drill/workOut.ts';
import type { ClickSound } from '../listen/model.ts';
import type { Mono } from '../listen/mono.ts';
import { hearPlayer, type PlayerHeard } from '../listen/player.ts';
import { listeningRate } from '../listen/model.ts';
import { weighting } from '../sound/loudness.ts';
import { chooseRegister } from '../sound/registers.ts';
import { fail, ok, problem, secondsNumber, type Problem, type Result } from '../units/index.ts';
import { readSound, type DecodePort } from './hearSound.ts';
import { assign, betterOrder, doubtedFit, type Assigned, type TakeFile } from './hearAssign.ts';
import { clickSound, expectedNotes, taskOf } from './hearTask.ts';
import { pieceHash } from './makeDrill.ts';
import type { Reading, ReadingNote } from './reading.ts';
import { figuresOf } from './readingFigures.ts';
import { eachOnce, readPiece } from './readOnce.ts';

export interface HearOptions {
  /** Whether the players held to the click, or played freely; null: by the drill. */
  readonly with: 'click' | 'free' | null;
}

/** A drill that was opened from its folder. */
export interface HeardDrill {
  readonly bytes: Uint8Array;
  readonly drill: Drill;
}

/** Times come out exact at any rate; this one is that of usual recordings. */
const rate = 48_000;

const openWorked = ({ bytes, drill }: HeardDrill): Result<WorkedDrill> => {
  if (pieceHash(bytes) !== drill.score.sha256)
    return fail(
      'score-changed',
      `The score in this drill's folder (${drill.score.file}) is not the one that the drill was made on, so that it is not known what was to be played. Make the drill anew from the score.`,
    );
  const read = readPiece(bytes);
  if (!read.ok) return read;
  return workOut(read.value.score, drill, rate);
};

/**
 * Shares of notes found at their pitch, and surely heard, below which a recording is of something else. Set on recordings held
 * against the drills of others: at most .55 and .53 there, at least .63 found where they belong together.
 */
const otherPiece = { found: 0.57, heard: 0.6 } as const;
/** Below this share it is said that much was not found. */
const doubtful = 0.7;

const judgeFit = ({ part, file }: Assigned, heard: PlayerHeard): Result<null> => {
  const share = Math.round(100 * heard.fit);
  const sure = heard.notes.filter(({ state }) => state === 'heard').length / Math.max(1, heard.notes.length);
  if (heard.fit < otherPiece.found && sure < otherPiece.heard)
    return fail(
      'take-other-piece',
      `${file.name} does not sound like ${part.name} in this drill: only ${share} % of the notes were found in order. It may be of another piece, another drill or another player.`,
    );
  if (heard.fit >= doubtful) return ok(null);
  return ok(null, [
    problem(
      'note',
      'take-doubtful',
      `In ${file.name} only ${share} % of the notes of ${part.name} were clearly found at their pitch.`,
      { part: part.id },
    ),
  ]);
};

const saidOf = ({ part, file }: Assigned, heard: PlayerHeard, last: number): readonly Problem[] => {
  const said: Problem[] = [];
  const place = { part: part.id };
  const { clock, ends, abandoned } = heard;
  if (clock.by === 'notes')
    said.push(
      problem(
        'assumption',
        'clock-by-notes',
        `No click is heard in ${file.name}: it was laid on the drill's time by its notes. How far this player was from the others on the whole cannot be told.`,
        place,
      ),
    );
  if (ends < last - 0.5)
    said.push(
      problem(
        'note',
        'take-ends-early',
        `${file.name} ends ${(last - ends).toFixed(1)} seconds before the last note begins.`,
        place,
      ),
    );
  if (abandoned > 2)
    said.push(
      problem(
        'note',
        'take-restarted',
        `${part.name} stopped and began again: ${abandoned} notes were played twice, and the last time was read.`,
        place,
      ),
    );
  if (heard.added.length > 0)
    said.push(
      problem(
        'note',
        'take-added',
        `${heard.added.length} note(s) are heard that are not in the part.`,
        place,
      ),
    );
  return said;
};

const standing: readonly Problem[] = [
  problem(
    'assumption',
    'beat-model',
    'Where a note is felt to begin is taken as the moment at which it comes within 15 dB of its loudest; players are compared by that moment.',
  ),
  problem(
    'assumption',
    'levels-apart',
    'How loud the players are against each other is not told: their recordings were not made with one and the same microphone.',
  ),
];

const notesOf = ({ timeline }: WorkedDrill, part: string, heard: PlayerHeard): readonly ReadingNote[] => {
  const byId = new Map(heard.notes.map((note) => [note.id, note]));
  return timeline.notes.flatMap((note): readonly ReadingNote[] => {
    const found = byId.get(note.id);
    if (note.part !== part || found === undefined) return [];
    return [
      {
        id: note.id,
        part,
        bar: note.bar,
        barIndex: note.barIndex,
        beat: note.beat,
        pass: note.pass,
        rep: note.rep,
        expected: secondsNumber(note.time),
        onset: found.onset,
        perceived: found.perceived,
        offset: found.offset,
        level: found.level,
        cents: found.cents,
        uncertainty: found.uncertainty,
        perceivedUncertainty: found.perceivedUncertainty,
        state: found.state,
      },
    ];
  });
};

interface Heard {
  readonly assigned: Assigned;
  readonly heard: PlayerHeard;
}

/** What one recording needs to be heard against a part. */
interface Listening {
  readonly worked: WorkedDrill;
  readonly click: ClickSound;
  readonly free: boolean;
  readonly port: DecodePort;
  /** Digests of the recordings that were read, with their names. */
  readonly seen: Map<string, string>;
}

/** A recording's samples; the file's bytes are let go here. Errors: `takes-same-file`, those of `readSound`. */
const soundOf = async (file: TakeFile, { port, seen }: Listening): Promise<Result<Mono>> => {
  const bytes = await file.read();
  if (!bytes.ok) return bytes;
  const digest = pieceHash(bytes.value);
  const other = seen.get(digest);
  if (other !== undefined)
    return fail(
      'takes-same-file',
      `${other === file.name ? `${other} is given twice` : `${other} and ${file.name} are the same recording`}. Each player needs a recording of their own; leave out who has none, and say whose each is, as P1=recording.wav.`,
    );
  seen.set(digest, file.name);
  return readSound(bytes.value, file.name, port);
};

const listen = (
  sound: Float32Array,
  part: string,
  { worked, click, free }: Listening,
): PlayerHeard | null => {
  const task = taskOf(worked, part, click, !free);
  return task.notes.length === 0 ? null : hearPlayer(sound, task, weighting(listeningRate));
};

/** Says so where recordings that fit their part badly fit another one clearly better. Error: `players-swapped`. */
const judgeOrder = async (players: readonly Heard[], listening: Listening): Promise<Result<null>> => {
  const doubted = players.filter(({ heard }) => heard.fit < doubtedFit);
  const settled = players.filter((player) => !doubted.includes(player)).map(({ assigned }) => assigned.part);
  const open = listening.worked.parts.filter((part) => !settled.includes(part));
  if (doubted.length === 0 || open.length < 2) return ok(null);
  const fits: (readonly number[])[] = [];
  for (const { assigned, heard } of doubted) {
    const sound = await soundOf(assigned.file, { ...listening, seen: new Map() });
    if (!sound.ok) return sound;
    fits.push(
      open.map((part) =>
        part === assigned.part ? heard.fit : (listen(sound.value.signal, part.id, listening)?.fit ?? 0),
      ),
    );
  }
  const given = doubted.map(({ assigned }) => open.indexOf(assigned.part));
  const better = betterOrder(fits, given);
  if (better === null) return ok(null);
  const percent = (share: number | undefined): number => Math.round(100 * (share ?? 0));
  const whose = (player: Heard): WorkedDrill['parts'][number] =>
    open[better[doubted.indexOf(player)] ?? -1] ?? player.assigned.part;
  const told = doubted.flatMap((player, i) => {
    const [now, { part, file }] = [whose(player), player.assigned];
    if (now === part) return [];
    const fit = percent(fits[i]?.[better[i] ?? -1]);
    return `${file.name} does not sound like ${part.name} but like ${now.name} (${fit} % of the notes found in order, against ${percent(player.heard.fit)} %)`;
  });
  const order = players
    .map((player) => ({ id: whose(player).id, name: player.assigned.file.name }))
    .sort((a, b) => a.id.localeCompare(b.id, 'en', { numeric: true }));
  return fail(
    'players-swapped',
    `${told.join('; ')}. Say whose each is: ${order.map(({ id, name }) => `${id}=${name}`).join(' ')}`,
  );
};

/**
 * Hears one recording for each player of a drill. Same files, same reading. Errors: `score-changed`, `takes-count`,
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
  const assigned = assign(files, worked);
  if (!assigned.ok) return assigned;
  const click = clickSound(rate, chooseRegister(worked.timeline.notes, rate));
  if (!click.ok) return click;
  const free = options.with === 'free' || (options.with === null && opened.drill.click === 'none');
  const listening: Listening = { worked, click: click.value, free, port, seen: new Map() };
  const assumed: Problem[] = [];
  const players: Heard[] = [];
  for (const one of assigned.value) {
    const sound = await soundOf(one.file, listening);
    if (!sound.ok) return sound;
    const place = { part: one.part.id };
    assumed.push(...sound.problems.map((found) => ({ ...found, ...place })));
    const heard = listen(sound.value.signal, one.part.id, listening);
    if (heard === null)
      assumed.push(problem('note', 'take-no-notes', `${one.part.name} has no notes in this drill.`, place));
    else players.push({ assigned: one, heard });
  }
  const ordered = await judgeOrder(players, listening);
  if (!ordered.ok) return ordered;
  for (const player of players) {
    const fits = judgeFit(player.assigned, player.heard);
    if (!fits.ok) return fits;
    const last = expectedNotes(worked, player.assigned.part.id).at(-1)?.time ?? 0;
    assumed.push(...fits.problems, ...saidOf(player.assigned, player.heard, last));
  }
  return ok(readingOf(players, worked, opened.drill, free, assumed));
};

const clicksPerBar = ({ timeline: { bars, clicks } }: WorkedDrill): number => {
  const played = bars.filter(({ kind }) => kind === 'bar').length;
  return clicks.filter(({ kind }) => kind === 'click').length / Math.max(1, played);
};

const readingOf = (
  players: readonly Heard[],
  worked: WorkedDrill,
  { score: { title }, bars, click: placement }: Drill,
  free: boolean,
  assumed: readonly Problem[],
): Reading => {
  const order = new Map(worked.timeline.notes.map(({ id }, i) => [id, i]));
  const notes = players
    .flatMap(({ assigned, heard }) => notesOf(worked, assigned.part.id, heard))
    .sort((a, b) => (order.get(a.id) ?? 0) - (order.get(b.id) ?? 0));
  const clock = players.map(({ assigned: { part, file }, heard }) => ({
    part: part.id,
    file: file.name,
    offset: heard.clock.offset,
    ppm: heard.clock.ppm,
    offsetError: heard.clock.offsetError,
    ppmError: heard.clock.ppmError,
    by: heard.clock.by,
    clicksHeard: heard.clock.clicksHeard,
    clicksExpected: heard.clock.clicksExpected,
  }));
  return {
    format: 'levare.reading/1',
    title,
    bars,
    click: { placement, perBar: clicksPerBar(worked) },
    parts: players.map(({ assigned: { part, file }, heard }) => ({
      id: part.id,
      name: part.name,
      file: file.name,
      reference: heard.reference,
    })),
    clock,
    notes,
    added: players
      .flatMap(({ assigned: { part }, heard }) => heard.added.map((note) => ({ part: part.id, ...note })))
      .sort((a, b) => a.time - b.time),
    ...figuresOf(worked, notes, clock, free),
    assumed: eachOnce([...(players.length > 1 ? standing : standing.slice(0, 1)), ...assumed]),
  };
};
