/** Walks through one movement as players do: repeats, endings, da capo, dal segno, coda and fine. */
import { problem, type Problem } from '../../units/index.ts';
import type { Bar, Jump } from '../model.ts';
import { barName, type Bracket } from './brackets.ts';
import type { Stretch } from './movements.ts';
import { backwardProblems, jumpTargets, jumpWords } from './jumps.ts';
import { findSections, type RepeatSection } from './sections.ts';

export interface Walk {
  /** Bar indices in played order; null where there would be more than `most`. */
  readonly played: readonly number[] | null;
  readonly problems: readonly Problem[];
}

/**
 * The played order of one movement. `repeatsAfterJump`: whether repeats already played are played again after a jump;
 * undefined: as the repeat sign says.
 */
export const walk = (
  bars: readonly Bar[],
  { from, to }: Stretch,
  repeatsAfterJump: boolean | undefined,
  most: number,
): Walk => {
  const { sections, problems: found } = findSections(bars, from, to);
  const problems: Problem[] = [...found];
  const backAt = new Map<number, { section: RepeatSection; bracket: Bracket | null }>();
  const bracketAt = new Map<number, { section: RepeatSection; bracket: Bracket }>();
  for (const section of sections) {
    for (const { bar, bracket } of section.backs) backAt.set(bar, { section, bracket });
    for (const bracket of section.brackets) bracketAt.set(bracket.first, { section, bracket });
  }

  const counters = new Map<RepeatSection, number>();
  const entered = new Set<RepeatSection>();
  let done = new Set<RepeatSection>();
  let jumps = 0;
  const taken = new Set<Jump>();

  const observed = (section: RepeatSection): boolean =>
    !done.has(section) ||
    (repeatsAfterJump ?? section.backs.some(({ bar }) => bars[bar]?.repeatAfterJump === true));
  /** After a jump: the ending that leads to the fine or to the coda, else the last one. */
  const finalTurn = ({ passes, brackets }: RepeatSection): number => {
    const leading = brackets.findLast(({ first, last }) =>
      bars
        .slice(first, last + 1)
        .some(({ jumps: signs }) => signs.some((j) => j.kind === 'fine' || j.kind === 'toCoda')),
    );
    const wanted = leading?.numbers.at(-1);
    const place = wanted === undefined ? -1 : passes.indexOf(wanted);
    return place < 0 ? passes.length - 1 : place;
  };
  const firstTurn = (section: RepeatSection): number => (observed(section) ? 0 : finalTurn(section));
  /** Index into the section's passes. */
  const turn = (section: RepeatSection): number =>
    section.byJump
      ? Math.min(jumps, section.passes.length - 1)
      : (counters.get(section) ?? firstTurn(section));
  const plays = (section: RepeatSection, bracket: Bracket): boolean =>
    bracket.numbers.includes(section.passes[turn(section)] ?? 0);
  const lastTurn = (section: RepeatSection): boolean =>
    !observed(section) || turn(section) >= section.passes.length - 1;
  /** Whether a repeat sign still ahead will lead back over this bar. */
  const comesBack = (i: number): boolean =>
    sections.some(
      (section) =>
        section.start <= i &&
        i <= section.last &&
        !lastTurn(section) &&
        section.backs.some(({ bar, bracket }) => bar > i && (bracket === null || plays(section, bracket))),
    );
  const enter = (i: number, back: RepeatSection | null): void => {
    for (const section of sections) {
      if (section.start !== i || section === back || (back !== null && section.last > back.last)) continue;
      entered.add(section);
      counters.set(section, firstTurn(section));
    }
  };

  const targets = jumpTargets(bars, from, to, problems);
  const played: number[] = [];
  let back: RepeatSection | null = null;
  let i = from;
  while (i <= to) {
    const choice = bracketAt.get(i);
    if (choice !== undefined && !plays(choice.section, choice.bracket)) {
      i = choice.bracket.last + 1;
      continue;
    }
    enter(i, back);
    back = null;
    if (played.length >= most) return { played: null, problems };
    played.push(i);
    const repeat = backAt.get(i);
    if (repeat !== undefined && !lastTurn(repeat.section)) {
      counters.set(repeat.section, turn(repeat.section) + 1);
      back = repeat.section;
      i = back.start;
      continue;
    }
    if (comesBack(i)) {
      i += 1;
      continue;
    }
    const signs = bars[i]?.jumps ?? [];
    if (jumps > 0 && signs.some(({ kind }) => kind === 'fine')) break;
    const onward = jumps > 0 ? signs.find((jump) => jump.kind === 'toCoda') : undefined;
    const coda = onward === undefined ? undefined : targets.get(onward);
    if (coda !== undefined) {
      i = coda;
      continue;
    }
    const again = signs.find((jump) => targets.has(jump) && jump.kind !== 'toCoda' && !taken.has(jump));
    if (again === undefined) {
      i += 1;
      continue;
    }
    taken.add(again);
    jumps += 1;
    done = new Set(entered);
    counters.clear();
    i = targets.get(again) ?? i + 1;
  }
  for (const bar of bars.slice(from, to + 1))
    for (const jump of bar.jumps) {
      const target = targets.get(jump);
      if ((jump.kind !== 'daCapo' && jump.kind !== 'dalSegno') || target === undefined) continue;
      if (taken.has(jump)) problems.push(...backwardProblems(bars, bar, jump, target));
      else
        problems.push(
          problem(
            'note',
            'jump-never-taken',
            `The ${jumpWords[jump.kind]} in ${barName(bar)} is never reached after its repeats, so it is not followed.`,
            { bar: bar.number },
          ),
        );
    }
  return { played, problems };
};
