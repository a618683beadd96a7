/** The notes of all players as the fine search is asked for them. */
import { hertzOf } from '../tuning.ts';
import type { Aligned } from './align.ts';
import type { MixNote } from './types.ts';

/** Seconds: the least spread of players around the tempo of all together. A narrower one would draw them together. */
const leastSpread = 0.05;

/** Seconds after the end of a note within which the next one of its pitch is a repetition. */
const joined = 0.25;

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? 0;
};

/** Where each group begins by the tempo around it: its own place and its neighbours' line weigh alike. */
const courseOf = ({ groups, placed }: Aligned): Float64Array =>
  Float64Array.from(groups, (_, i) => {
    const [own, line] = [placed.times[i] ?? 0, placed.lines[i] ?? NaN];
    if (Number.isNaN(line)) return own;
    return Math.abs(own - line) > 0.2 ? own : (own + line) / 2;
  });

/** All notes by time, then part. `levels`: what the score asks for, by the note's id, in dB. */
export const mixNotes = (aligned: Aligned, levels: ReadonlyMap<string, number>): readonly MixNote[] => {
  const { groups, placed, coarse } = aligned;
  const course = courseOf(aligned);
  const off = groups.flatMap((_, i) => {
    const [own, line] = [placed.times[i] ?? NaN, placed.lines[i] ?? NaN];
    return Number.isNaN(own - line) ? [] : [Math.abs(own - line)];
  });
  const spread = Math.max(leastSpread, Math.min(0.1, 1.4826 * median(off)));
  /** Seconds of the recording in a second of the drill, around a group. */
  const paceAt = (i: number): number => {
    const [from, to] = [Math.max(0, i - 3), Math.min(groups.length - 1, i + 3)];
    const written = (groups[to]?.time ?? 0) - (groups[from]?.time ?? 0);
    const pace = written > 0 ? ((course[to] ?? 0) - (course[from] ?? 0)) / written : 1;
    return Math.max(0.4, Math.min(2.5, pace));
  };
  const before = new Map<number, { readonly midi: number | null; readonly end: number }[]>();
  return groups.flatMap((group, i) => {
    const pace = paceAt(i);
    const found = group.members.map(({ part, note }): MixNote => {
      const last = before.get(part) ?? [];
      return {
        part,
        id: note.id,
        midi: note.midi,
        hertz: note.midi === null ? 0 : hertzOf(note.midi + coarse.tuning / 100),
        written: group.time,
        time: course[i] ?? 0,
        spread,
        length: Math.max(0.03, note.duration * pace),
        slurred: note.slurred,
        repeated:
          note.midi === null || last.some(({ midi, end }) => midi === note.midi && note.time - end < joined),
        level: levels.get(note.id) ?? null,
        found: placed.visited[i] === 1 && placed.stray[i] !== 1,
      };
    });
    for (const part of new Set(group.members.map((member) => member.part)))
      before.set(
        part,
        group.members
          .filter((member) => member.part === part)
          .map(({ note }) => ({ midi: note.midi, end: note.time + note.duration })),
      );
    return found;
  });
};
