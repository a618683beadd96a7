/** One recording for all players of a drill: heard together, told player by player. */
import type { WorkedDrill } from '../drill/workOut.ts';
import type { ClickSound } from '../listen/model.ts';
import { hearMix, secondsPerMetre } from '../listen/mix/hear.ts';
import { refine as learnt } from '../listen/mix/refine.ts';
import type { Refine } from '../listen/mix/types.ts';
import { noteShapes } from '../sound/parts/shapes.ts';
import { fail, ok, problem, type Problem, type Result } from '../units/index.ts';
import type { TakeFile } from './hearAssign.ts';
import type { Heard } from './hearReading.ts';
import { leastAbove } from './hearSaid.ts';
import { expectedClicks, expectedNotes } from './hearTask.ts';

/** Metres from players to the microphone, by the part's id or name. */
export type Distances = ReadonlyMap<string, number>;

export interface MixedOptions {
  /** Whether the players did not hold to the click. */
  readonly free: boolean;
  readonly distances: Distances;
  /** The fine search; null: the learnt one. */
  readonly refine: Refine | null;
  /** Told how much is done, 0 to 1. */
  readonly progress: (done: number) => void;
}

export interface MixedHeard {
  readonly players: readonly Heard[];
  readonly assumed: readonly Problem[];
}

/** Metres that are believed. */
const farthest = 50;

/** One for each part. Errors: `part-unknown`, `distance-unknown`. */
const distancesOf = (
  distances: Distances,
  parts: WorkedDrill['parts'],
): Result<readonly (number | null)[]> => {
  const out = parts.map((): number | null => null);
  for (const [name, metres] of distances) {
    const wanted = name.toLowerCase();
    const byId = parts.findIndex(({ id }) => id.toLowerCase() === wanted);
    const p = byId >= 0 ? byId : parts.findIndex((part) => part.name.toLowerCase() === wanted);
    if (p < 0)
      return fail(
        'part-unknown',
        `There is no part "${name}". The parts are ${parts.map((part) => `${part.id} (${part.name})`).join(', ')}.`,
      );
    if (!(metres >= 0 && metres <= farthest))
      return fail(
        'distance-unknown',
        `--distance says ${metres} metres for ${name}; it can be 0 to ${farthest}.`,
      );
    out[p] = metres;
  }
  return ok(out);
};

/** What the score asks of each note's loudness, by the ids of the timeline. */
const levelsOf = ({ timeline, parts }: WorkedDrill): ReadonlyMap<string, number> => {
  const shapes = noteShapes(parts);
  return new Map(
    timeline.notes.flatMap(({ id, note }) => {
      const shape = shapes.get(note);
      return shape === undefined ? [] : [[id, shape.level] as const];
    }),
  );
};

/** Share of onsets below which a recording is of something else whatever is found of them, or where other orders tell nothing; and below which it is said that much was not found. */
const otherPiece = { surely: 0.2, untold: 0.5 } as const;
const doubtful = 0.7;

const saidOf = (
  { name }: TakeFile,
  players: readonly Heard[],
  calibrated: readonly boolean[],
  told: readonly (number | null)[],
  last: number,
): readonly Problem[] => {
  const [first] = players;
  if (first === undefined) return [];
  const { clock, fit, ends, abandoned } = first.heard;
  const apart = players.filter((_, i) => calibrated[i] !== true).map(({ assigned }) => assigned.part.name);
  const unsure = Math.round(
    1000 * 1.96 * Math.SQRT2 * Math.max(...players.map(({ lagError = 0 }) => lagError)),
  );
  return [
    problem(
      'assumption',
      'one-microphone',
      'All players were heard through one microphone. Where it is hard to tell whose beginning was heard (two begin one pitch together, or one is covered by others), or when it was, the note is called rough or unsure, and nothing rests on it. How loud a note is can be held against the same player’s other notes only.',
    ),
    ...(apart.length === 0
      ? []
      : [
          problem(
            'assumption',
            'lag-unknown',
            `How quickly instruments speak could not be told from this take for ${apart.join(', ')} (it is told from notes during which nobody else plays): who is ahead on the whole is not known better than ${unsure} ms there.`,
          ),
        ]),
    ...(told.every((metres) => metres === null)
      ? []
      : [
          problem(
            'assumption',
            'distance-given',
            `Distances to the microphone were taken as given: sound needs ${(1000 * secondsPerMetre).toFixed(1)} ms for a metre.`,
          ),
        ]),
    ...(clock.by === 'notes'
      ? [
          problem(
            'assumption',
            'no-click-heard',
            `No click is heard in ${name}: the players are held against each other, not against the drill's time.`,
          ),
        ]
      : []),
    ...(fit < doubtful
      ? [
          problem(
            'note',
            'take-doubtful',
            `In ${name} only ${Math.round(100 * fit)} of each 100 notes were clearly found at their pitch.`,
          ),
        ]
      : []),
    ...(ends < last - 0.5
      ? [
          problem(
            'note',
            'take-ends-early',
            `${name} ends ${(last - ends).toFixed(1)} seconds before the last note begins.`,
          ),
        ]
      : []),
    ...(abandoned > 2
      ? [
          problem(
            'note',
            'take-restarted',
            `The players stopped and began again: what was played twice was read the last time.`,
          ),
        ]
      : []),
  ];
};

/** Hears all players of one recording. Errors: `part-unknown`, `distance-unknown`, `take-no-notes`, `take-other-piece`. */
export const hearMixed = (
  sound: Float32Array,
  file: TakeFile,
  worked: WorkedDrill,
  click: ClickSound,
  { free, distances, refine, progress }: MixedOptions,
): Result<MixedHeard> => {
  const parts = worked.parts
    .map((part) => ({ part, notes: expectedNotes(worked, part.id) }))
    .filter(({ notes }) => notes.length > 0);
  const told = distancesOf(
    distances,
    parts.map(({ part }) => part),
  );
  if (!told.ok) return told;
  if (parts.length === 0)
    return fail('take-no-notes', 'There are no notes in this drill to hold a recording against.');
  const found = hearMix(
    sound,
    {
      parts: parts.map(({ part, notes }) => ({ id: part.id, notes })),
      clicks: expectedClicks(worked),
      click,
      onClock: !free,
    },
    { levels: levelsOf(worked), distances: told.value, refine: refine ?? learnt, progress },
  );
  const players = parts.flatMap(({ part }, i): readonly Heard[] => {
    const one = found[i];
    return one === undefined ? [] : [{ assigned: { part, file }, heard: one.heard, lagError: one.lagError }];
  });
  const fit = players[0]?.heard.fit ?? 0;
  const above = players[0]?.heard.above ?? null;
  const share = Math.round(100 * fit);
  if (fit < (above === null ? otherPiece.untold : otherPiece.surely))
    return fail(
      'take-other-piece',
      `${file.name} does not sound like this drill: only ${share} of each 100 notes were found in order. It may be of another piece or another drill.`,
    );
  if (above !== null && above < leastAbove)
    return fail(
      'take-other-piece',
      `${file.name} does not sound like this drill: ${share} of each 100 notes were found, hardly more than when the same notes are put in another order. It may be of another piece or another drill.`,
    );
  const last = Math.max(...parts.map(({ notes }) => notes.at(-1)?.time ?? 0));
  const silent = worked.parts.filter(({ id }) => parts.every(({ part }) => part.id !== id));
  return ok({
    players,
    assumed: [
      ...saidOf(
        file,
        players,
        found.map(({ calibrated }) => calibrated),
        told.value,
        last,
      ),
      ...silent.map(({ id, name }) =>
        problem('note', 'take-no-notes', `${name} has no notes in this drill.`, { part: id }),
      ),
    ],
  });
};
