/**
 * Beams: notes of an eighth or less that stand together without space (ABC 2.1, section 4.7). A rest, a longer note and
 * a bar line end a beam; which way a short beam points is common practice, no source.
 */
import { noteTypes, type NoteValue } from '../../notes.ts';
import type { Group } from './events.ts';

/** How many beams or flags a value has. */
const levelsOf = (value: NoteValue | null): number =>
  value === null ? 0 : Math.max(0, noteTypes.indexOf(value.type) - noteTypes.indexOf('quarter'));

interface Beamed {
  readonly group: Group;
  readonly levels: number;
  readonly dots: number;
}

const hook = (before: Beamed | undefined, after: Beamed | undefined): string => {
  if (before === undefined) return 'forward hook';
  return after !== undefined && after.dots > before.dots ? 'forward hook' : 'backward hook';
};

const beamsIn = (run: readonly Beamed[], into: Map<Group, readonly string[]>): void => {
  if (run.length < 2) return;
  run.forEach(({ group, levels }, index) => {
    const [before, after] = [run[index - 1], run[index + 1]];
    const beams: string[] = [];
    for (let level = 1; level <= levels; level += 1) {
      const joins = (before?.levels ?? 0) >= level;
      const goesOn = (after?.levels ?? 0) >= level;
      beams.push(joins ? (goesOn ? 'continue' : 'end') : goesOn ? 'begin' : hook(before, after));
    }
    into.set(group, beams);
  });
};

/** The beams of one layer of a bar; groups without any stay out. Grace notes are beamed among themselves. */
export const beamsOf = (
  groups: readonly Group[],
  valueOf: (group: Group) => NoteValue | null,
): ReadonlyMap<Group, readonly string[]> => {
  const beams = new Map<Group, readonly string[]>();
  for (const kind of ['note', 'grace'] as const) {
    let run: Beamed[] = [];
    for (const group of groups) {
      if (kind === 'note' ? group.kind === 'grace' : group.kind !== 'grace') {
        if (kind === 'grace') {
          beamsIn(run, beams);
          run = [];
        }
        continue;
      }
      const value = group.kind === 'rest' ? null : valueOf(group);
      const levels = levelsOf(value);
      if (group.apart || levels === 0) {
        beamsIn(run, beams);
        run = [];
      }
      if (levels > 0) run.push({ group, levels, dots: value?.dots ?? 0 });
    }
    beamsIn(run, beams);
  }
  return beams;
};
