/** Which recording is whose: as told, and whether another way fits clearly better. */
import type { WorkedDrill } from '../drill/workOut.ts';
import { fail, ok, type Result } from '../units/index.ts';
import type { SoundBytes } from './soundBytes.ts';

/** One player's recording. */
export interface TakeFile {
  /** As the user named it. */
  readonly name: string;
  /** Id or name of the part; null: by its place among the files. */
  readonly part: string | null;
  /** Its bytes, asked for once; once more where it may be another player's. Errors pass through. */
  readonly read: () => Promise<Result<SoundBytes>>;
}

export interface Assigned {
  readonly part: WorkedDrill['parts'][number];
  readonly file: TakeFile;
}

/** Which file is whose, in the order of the parts. Errors: `take-no-parts`, `takes-count`, `part-unknown`, `takes-same-part`. */
export const assign = (
  files: readonly TakeFile[],
  { parts }: Pick<WorkedDrill, 'parts'>,
): Result<readonly Assigned[]> => {
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
 * Share of notes found in order at their pitch below which it is tried whether the recording is another player's. On recordings of two to
 * four players (14 of the bench's tuning half) wrong parts had at most .78, mostly under .55; right ones .55 to 1.
 */
export const doubtedFit = 0.8;
/** By so much of the notes, on average, another order has to fit better. */
const clearlyBetter = 0.15;
/** And so many of the notes have to be found that way. */
const leastFit = 0.57;
/** Recordings in doubt beyond which no order is looked for: then it is another piece. */
const mostInDoubt = 6;

interface Order {
  /** Indices of parts, one for each recording. */
  readonly parts: readonly number[];
  readonly sum: number;
}

/** The way of giving each recording a part of its own that fits best altogether. */
const bestOrder = (fits: readonly (readonly number[])[], taken: readonly number[] = []): Order => {
  const row = fits[taken.length];
  if (row === undefined) return { parts: taken, sum: 0 };
  let best: Order | null = null;
  for (const [part, fit] of row.entries()) {
    if (taken.includes(part)) continue;
    const rest = bestOrder(fits, [...taken, part]);
    if (best === null || fit + rest.sum > best.sum) best = { parts: rest.parts, sum: fit + rest.sum };
  }
  return best ?? { parts: taken, sum: -Infinity };
};

/**
 * Whether recordings belong to other parts than they were given for: for each of them the index of its part, or null where the
 * order given is as good. `fits`: by recording and part, the share of notes found; `given`: the part of each recording.
 */
export const betterOrder = (
  fits: readonly (readonly number[])[],
  given: readonly number[],
): readonly number[] | null => {
  if (fits.length === 0 || fits.length > mostInDoubt) return null;
  const { parts } = bestOrder(fits);
  const moved = fits.flatMap((row, i) => {
    const [to, from] = [parts[i] ?? 0, given[i] ?? 0];
    return to === from ? [] : [{ now: row[to] ?? 0, before: row[from] ?? 0 }];
  });
  const [now, before] = [
    moved.reduce((sum, one) => sum + one.now, 0) / Math.max(1, moved.length),
    moved.reduce((sum, one) => sum + one.before, 0) / Math.max(1, moved.length),
  ];
  return moved.length > 0 && now >= leastFit && now - before >= clearlyBetter ? parts : null;
};
