/** The ear: recordings of the players of a drill in, what was heard out. */
import type { Drill } from '../drill/model.ts';
import { workOut, type WorkedDrill } from '../drill/workOut.ts';
import type { ClickSound } from '../listen/model.ts';
import { hearPlayer, type PlayerHeard } from '../listen/player.ts';
import { listeningRate } from '../listen/model.ts';
import { weighting } from '../sound/loudness.ts';
import { chooseRegister } from '../sound/registers.ts';
import { fail, ok, problem, secondsNumber, type Problem, type Result } from '../units/index.ts';
import { readSound, type DecodePort } from './hearSound.ts';
import { clickSound, taskOf } from './hearTask.ts';
import { pieceHash } from './makeDrill.ts';
import type { Reading, ReadingNote } from './reading.ts';
import { figuresOf } from './readingFigures.ts';
import { eachOnce, readPiece } from './readOnce.ts';

/** One player's recording. */
export interface TakeFile {
  /** As the user named it. */
  readonly name: string;
  /** Id or name of the part; null: by its place among the files. */
  readonly part: string | null;
  /** Its bytes, asked for once and let go before the next is read. Errors pass through. */
  readonly read: () => Promise<Result<Uint8Array>>;
}

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

interface Assigned {
  readonly part: WorkedDrill['parts'][number];
  readonly file: TakeFile;
}

/** Which file is whose. */
const assign = (files: readonly TakeFile[], { parts }: WorkedDrill): Result<readonly Assigned[]> => {
  const known = parts.map(({ id, name }) => `${id} (${name})`).join(', ');
  if (parts.length === 0)
    return fail(
      'take-no-parts',
      'This drill has bars only and no notes: there is nothing to hold a recording against.',
    );
  if (files.every(({ part }) => part === null) && files.length !== parts.length)
    return fail(
      'takes-count',
      `${files.length === 1 ? 'One recording is' : `${files.length} recordings are`} given for ${parts.length} player(s): ${known}. Give one for each, in this order, or say whose each is, as ${parts[0]?.id ?? 'P1'}=recording.wav.`,
    );
  const found: Assigned[] = [];
  for (const [i, file] of files.entries()) {
    const wanted = file.part?.toLowerCase();
    const part =
      wanted === undefined
        ? parts[i]
        : (parts.find(({ id }) => id.toLowerCase() === wanted) ??
          parts.find(({ name }) => name.toLowerCase() === wanted));
    if (part === undefined && wanted === undefined)
      return fail('takes-count', `There are more recordings than players: ${known}.`);
    if (part === undefined)
      return fail('part-unknown', `There is no part "${file.part ?? ''}". The parts are ${known}.`);
    if (found.some((other) => other.part.id === part.id))
      return fail('takes-same-part', `Two recordings are given for ${part.id} (${part.name}). Give one.`);
    found.push({ part, file });
  }
  return ok(found.sort((a, b) => parts.indexOf(a.part) - parts.indexOf(b.part)));
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

const heardClick = (worked: WorkedDrill): Result<ClickSound> =>
  clickSound(rate, chooseRegister(worked.timeline.notes, rate));

/**
 * Hears one recording for each player of a drill. Same files, same reading. Errors: `score-changed`, `takes-count`,
 * `takes-same-part`, `part-unknown`, `take-no-parts`, `take-other-piece`, those of `readSound`, of the score's reader
 * and of the drill.
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
  const click = heardClick(worked);
  if (!click.ok) return click;
  const free = options.with === 'free' || (options.with === null && opened.drill.click === 'none');
  const assumed: Problem[] = [];
  const players: {
    readonly assigned: Assigned;
    readonly heard: PlayerHeard;
    readonly notes: readonly ReadingNote[];
  }[] = [];
  for (const one of assigned.value) {
    const bytes = await one.file.read();
    if (!bytes.ok) return bytes;
    const sound = await readSound(bytes.value, one.file.name, port);
    if (!sound.ok) return sound;
    const place = { part: one.part.id };
    assumed.push(...sound.problems.map((found) => ({ ...found, ...place })));
    const task = taskOf(worked, one.part.id, click.value, !free);
    if (task.notes.length === 0) {
      assumed.push(problem('note', 'take-no-notes', `${one.part.name} has no notes in this drill.`, place));
      continue;
    }
    const heard = hearPlayer(sound.value.signal, task, weighting(listeningRate));
    const fits = judgeFit(one, heard);
    if (!fits.ok) return fits;
    assumed.push(...fits.problems, ...saidOf(one, heard, task.notes.at(-1)?.time ?? 0));
    players.push({ assigned: one, heard, notes: notesOf(worked, one.part.id, heard) });
  }
  const order = new Map(worked.timeline.notes.map(({ id }, i) => [id, i]));
  const notes = players
    .flatMap((player) => player.notes)
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
  const reading: Reading = {
    format: 'levare.reading/1',
    title: opened.drill.score.title,
    bars: opened.drill.bars,
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
  return ok(reading, []);
};
