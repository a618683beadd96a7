/** Who takes up what from whom: rules 1 to 3 of imitation.ts, between two entries. */
import {
  common,
  entriesOf,
  lastOnset,
  leastNotes,
  motifStrength,
  type Entry,
  type Strength,
} from './motifs.ts';
import { barAt, strikeAt, strikesIn, type Music, type Strike } from './music.ts';

export interface Answer {
  readonly leader: Entry;
  readonly follower: Entry;
  /** Notes in common. */
  readonly count: number;
  readonly exact: boolean;
  /** 'none' where only the step to the last note differs, or somebody has the motif both times: that counts where it has been taken up already. */
  readonly strength: Strength;
}

/** Rule 2: bars, or bars felt in one, that a follower may be behind, and that a motif may last that has ended when the answer begins. */
const mostBars = { behind: 4, ended: 2, endedInOne: 4 };

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

/** Rule 3: somebody, be it the leader, has the motif both times. */
const repeatedBy = (music: Music, leader: Entry, follower: Entry, count: number): boolean =>
  music.players.some(({ index, voices }) => {
    const row = voices[0] ?? [];
    if (index === follower.player || !movesAlong(row, notesOf(follower, count))) return false;
    return index === leader.player || movesAlong(row, notesOf(leader, count));
  });

/** Rule 2. */
const inTime = (music: Music, leader: Entry, follower: Entry, count: number): boolean => {
  const bar = barAt(music, leader.at);
  const length = Math.max(1, (bar?.end ?? 0) - (bar?.start ?? 0));
  const last = lastOnset(leader, count);
  if (follower.at > last + (barAt(music, follower.at)?.pulse ?? 1)) return false;
  const most = (bar?.pulse ?? 0) >= length ? mostBars.endedInOne : mostBars.ended;
  return follower.at < last || last - leader.at <= most * length;
};

/** So many notes of an accompaniment show who has it. */
const leastExchanged = 3;

/** Rule 3: more than two bars later the two change places: the leader then strikes what the follower had struck before. */
const changesPlaces = (music: Music, leader: Entry, follower: Entry): boolean => {
  const bar = barAt(music, leader.at);
  const lag = follower.at - leader.at;
  if (lag <= mostBars.ended * ((bar?.end ?? 0) - (bar?.start ?? 0))) return false;
  const before = strikesIn(follower.row, leader.at, follower.at);
  const again = before.filter(({ at }) => strikeAt(leader.row, at + lag) !== null);
  return before.length >= leastExchanged && again.length >= mostAlong * before.length;
};

/** All answers, by leader. */
export const answersOf = (music: Music): readonly Answer[] => {
  const entries = entriesOf(music);
  const answers: Answer[] = [];
  const stretchOf = (at: number): number | undefined => music.stretch[barAt(music, at)?.index ?? 0];
  entries.forEach((leader, i) => {
    const bar = barAt(music, leader.at);
    const horizon = leader.at + mostBars.behind * ((bar?.end ?? 0) - (bar?.start ?? 0));
    for (let j = i + 1; j < entries.length; j++) {
      const follower = entries[j];
      if (follower === undefined || follower.at > horizon) break;
      if (follower.player === leader.player || follower.at === leader.at) continue;
      if (follower.row[follower.index]?.midi === null) continue;
      const { count, exact, loose } = common(leader, follower);
      if (loose < leastNotes) continue;
      const strength = motifStrength(music, leader, follower, count);
      const notes = strength === 'none' ? loose : count;
      if (strength === 'none' && (loose === count || loose > leastNotes)) continue;
      if (alongside(leader, follower, notes) || !inTime(music, leader, follower, loose)) continue;
      if (stretchOf(leader.at) !== stretchOf(follower.at)) continue;
      if (changesPlaces(music, leader, follower)) continue;
      const fresh = !repeatedBy(music, leader, follower, notes);
      answers.push({
        leader,
        follower,
        count: notes,
        exact: exact && count === notes,
        strength: fresh ? strength : 'none',
      });
    }
  });
  return answers;
};
