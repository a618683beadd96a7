/** Who takes up what from whom: rules 1 to 3 of imitation.ts, between two entries. */
import { common, entriesOf, lastOnset, leastNotes, isMotif, type Entry } from './motifs.ts';
import { barAt, strikeAt, type Music, type Strike } from './music.ts';

export interface Answer {
  readonly leader: Entry;
  readonly follower: Entry;
  /** Notes in common. */
  readonly count: number;
  readonly exact: boolean;
  /** False where only the step to the last note differs, or somebody has the motif both times: that counts where it has been taken up already. */
  readonly strong: boolean;
}

/** Rule 2: bars, or bars felt in one, that a follower may be behind while the motif goes on, and when it has ended. */
const mostBehind = { goingOn: { usual: 4, inOne: 4 }, ended: { usual: 2, inOne: 4 } };

/** Rule 3: the share of the motif's steps that another has too. */
const mostAlong = 2 / 3;

/** Whether a player moves along with notes: at most of their steps strikes both and goes the same way. */
const movesAlong = (row: readonly Strike[], notes: readonly Strike[]): boolean => {
  const own = notes.map(({ at }) => strikeAt(row, at)?.step ?? null);
  const along = notes.filter(({ step }, k) => {
    const [here, before, last] = [own[k] ?? null, own[k - 1] ?? null, notes[k - 1]?.step ?? null];
    if (here === null || before === null || step === null || last === null) return false;
    return Math.sign(here - before) === Math.sign(step - last);
  });
  return along.length >= mostAlong * (notes.length - 1);
};

const notesOf = ({ row, index }: Entry, count: number): readonly Strike[] => row.slice(index, index + count);

/** Rule 3: the follower goes with the leader from the beginning. */
const alongside = (leader: Entry, follower: Entry, count: number): boolean => {
  const before = notesOf(leader, count).filter(({ at }) => at < follower.at);
  return before.length > 1 && movesAlong(follower.row, before);
};

/** Whether a player is as high as notes that are struck together, or higher, at most of them. */
const over = (row: readonly Strike[], notes: readonly Strike[]): boolean => {
  const high = notes.filter(({ at, midi }) => (strikeAt(row, at)?.midi ?? -1) >= (midi ?? 0));
  return 2 * high.length > notes.length;
};

/** Rule 3: somebody at least as high, be it the leader, has the motif both times. */
const repeatedBy = (music: Music, leader: Entry, follower: Entry, count: number): boolean =>
  music.players.some(({ index, voices }) => {
    const row = voices[0] ?? [];
    const second = notesOf(follower, count);
    if (index === follower.player || !movesAlong(row, second) || !over(row, second)) return false;
    return index === leader.player || movesAlong(row, notesOf(leader, count));
  });

/** Rule 2: the last moment at which somebody may follow, in an ordinary number of bars or more of them. */
const horizonOf = (music: Music, { at }: Entry, most: { usual: number; inOne: number }): number => {
  const bar = barAt(music, at);
  if (bar === null) return at;
  const length = bar.end - bar.start;
  return at + length * (bar.pulse >= length ? most.inOne : most.usual);
};

/** Rule 2. */
const inTime = (music: Music, leader: Entry, follower: Entry, count: number): boolean => {
  const last = lastOnset(leader, count);
  if (follower.at < last) return true;
  const pulse = barAt(music, follower.at)?.pulse ?? 1;
  return follower.at <= Math.min(last + pulse, horizonOf(music, leader, mostBehind.ended));
};

/** All answers, by leader. */
export const answersOf = (music: Music): readonly Answer[] => {
  const entries = entriesOf(music);
  const answers: Answer[] = [];
  const stretchOf = (at: number): number | undefined => music.stretch[barAt(music, at)?.index ?? 0];
  entries.forEach((leader, i) => {
    const horizon = horizonOf(music, leader, mostBehind.goingOn);
    for (let j = i + 1; j < entries.length; j++) {
      const follower = entries[j];
      if (follower === undefined || follower.at > horizon) break;
      if (follower.player === leader.player || follower.at === leader.at) continue;
      if (follower.row[follower.index]?.midi === null) continue;
      const { count, exact, loose } = common(leader, follower);
      if (loose < leastNotes) continue;
      const strong = isMotif(leader, follower, count);
      const notes = strong ? count : loose;
      if (!strong && (loose === count || loose > leastNotes)) continue;
      if (alongside(leader, follower, notes) || !inTime(music, leader, follower, loose)) continue;
      if (stretchOf(leader.at) !== stretchOf(follower.at)) continue;
      answers.push({
        leader,
        follower,
        count: notes,
        exact: exact && count === notes,
        strong: strong && !repeatedBy(music, leader, follower, notes),
      });
    }
  });
  return answers;
};
