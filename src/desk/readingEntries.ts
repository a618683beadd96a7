/** Where two players come in together, in a reading: how far apart they begin. */
import type { NoteEvent } from '../drill/model.ts';
import type { Place } from '../lines/index.ts';
import type { Part } from '../score/model.ts';
import { cueIn } from './cues.ts';
import { joined, ms, perceptionError } from './figure.ts';
import type { ReadingClock, ReadingEntry } from './reading.ts';
import { same, tick, type Heard, type Lines } from './readingLines.ts';

/** Whole notes of silence of one's own after which a note is an entry. Our choice: a quarter, a breath. */
const silence = 1 / 4;

/** A part and a place in the score at which it comes in together with others. */
const jointKey = ({ part, barIndex, beat }: Pick<NoteEvent, 'part' | 'barIndex' | 'beat'>): string =>
  `${part}/${barIndex}/${beat}`;

/** Joint entries of the score: after a silence of all, a general pause or a fermata. */
const jointEntries = (places: readonly Place[]): ReadonlySet<string> =>
  new Set(
    places
      .filter(({ kind }) => kind === 'joint-entry')
      .flatMap(({ parts, from }) => parts.map((part) => jointKey({ part, ...from }))),
  );

/** The notes with which a player comes in, by position; `first`: of a repetition. */
const comingIn = (
  line: readonly Heard[],
  joint: ReadonlySet<string>,
): ReadonlyMap<number, { readonly one: Heard; readonly first: boolean }> =>
  new Map(
    line.flatMap((one, i) => {
      const before = line[i - 1];
      const first = before === undefined || before.event.rep !== one.event.rep;
      const rested = before !== undefined && one.at - (before.at + before.length) > silence - same;
      return first || rested || joint.has(jointKey(one.event))
        ? [[tick(one.at), { one, first }] as const]
        : [];
    }),
  );

/**
 * Each entry of two players on one clock (`places`: those of the score), in the order of the music. The interval is that of the two measured beginnings
 * and of what these two players' beginnings may be off by on the whole: what happened this once, not what these players do on the whole.
 */
export const entriesOf = (
  places: readonly Place[],
  { heard }: Lines,
  clocks: readonly ReadingClock[],
  parts: readonly Part[],
): readonly ReadingEntry[] => {
  const joint = jointEntries(places);
  const cue = cueIn(parts);
  const onsets = new Map(parts.flatMap(({ notes }) => notes.map(({ id, onset }) => [id, onset] as const)));
  const entering = [...heard].map(([part, line]) => ({ part, notes: comingIn(line, joint) }));
  return entering
    .flatMap((a, i) =>
      entering.slice(i + 1).flatMap((b) =>
        joined([a.part, b.part], clocks)
          ? [...a.notes].flatMap(([key, mine]) => {
              const other = b.notes.get(key);
              const [x, y] = [mine.one.time, other?.one.time ?? null];
              if (other === undefined || x === null || y === null) return [];
              const { rep, bar, barIndex, pass, beat, note } = mine.one.event;
              const written = onsets.get(note);
              const by = written === undefined ? null : cue(barIndex, written);
              const value = ms * (x - y);
              const heardBy = Math.hypot(perceptionError(a.part, clocks), perceptionError(b.part, clocks));
              const half = 1.96 * ms * Math.sqrt(mine.one.variance + other.one.variance + heardBy ** 2);
              const entry: ReadingEntry = {
                rep,
                bar,
                barIndex,
                pass,
                beat,
                first: mine.first && other.first,
                parts: [a.part, b.part],
                apart: { value, low: value - half, high: value + half },
                ...(by === a.part || by === b.part ? { cue: by } : {}),
              };
              return [{ at: mine.one.at, entry }];
            })
          : [],
      ),
    )
    .sort((a, b) => a.at - b.at)
    .map(({ entry }) => entry);
};
