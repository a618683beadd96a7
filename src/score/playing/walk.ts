/** Walks through one movement as players do: repeats, endings, da capo, dal segno, coda and fine. */
import { problem, type Problem } from '../../units/index.ts';
import type { Bar, Jump } from '../model.ts';
import { barName, type Bracket } from './brackets.ts';
import type { Stretch } from './movements.ts';
import { findSections, type RepeatSection } from './sections.ts';

export interface Walk {
  /** Bar indices in played order; null where there would be more than `most`. */
  readonly played: readonly number[] | null;
  readonly problems: readonly Problem[];
}

type Target = { readonly bar: number; readonly exact: boolean } | null;
type Named = Extract<Jump, { name: string }>;

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
    for (const jump of bar.jumps)
      if ((jump.kind === 'daCapo' || jump.kind === 'dalSegno') && targets.has(jump) && !taken.has(jump))
        problems.push(
          problem(
            'note',
            'jump-never-taken',
            `The ${words[jump.kind]} in ${barName(bar)} is never reached after its repeats, so it is not followed.`,
            { bar: bar.number },
          ),
        );
  return { played, problems };
};

const words = {
  daCapo: 'da capo',
  dalSegno: 'dal segno',
  toCoda: '"to coda"',
  fine: 'fine',
  segno: 'segno',
  coda: 'coda',
} as const;

/** Where each da capo, dal segno and to-coda of the movement leads. Those without a target are reported and left out. */
const jumpTargets = (
  bars: readonly Bar[],
  from: number,
  to: number,
  problems: Problem[],
): ReadonlyMap<Jump, number> => {
  const result = new Map<Jump, number>();
  const own = bars.slice(from, to + 1);
  const jumping = own.some((bar) => bar.jumps.some(({ kind }) => kind === 'daCapo' || kind === 'dalSegno'));
  const find = (jump: Named, kind: 'segno' | 'coda', at: number): Target => {
    // MusicXML 4.0, sound: dalsegno is for backwards jumps to a segno, tocoda for forward jumps to a coda.
    const range = kind === 'segno' ? own.slice(0, at - from + 1).reverse() : bars.slice(at + 1, to + 1);
    const named = range.find((bar) => bar.jumps.some((j) => j.kind === kind && j.name === jump.name));
    if (named !== undefined) return { bar: named.index, exact: true };
    const others = range.filter((bar) => bar.jumps.some((j) => j.kind === kind));
    const only = others.length === 1 ? others[0] : undefined;
    return only === undefined ? null : { bar: only.index, exact: false };
  };
  const named = (jump: Named, kind: 'segno' | 'coda', bar: Bar, i: number): void => {
    const target = find(jump, kind, i);
    if (target === null) {
      const where = kind === 'segno' ? 'before' : 'after';
      problems.push(
        problem(
          'repair',
          `${kind}-missing`,
          `The ${words[jump.kind]} in ${barName(bar)} has no ${kind} sign ${where} it to go to; it is ignored.`,
          { bar: bar.number },
        ),
      );
      return;
    }
    if (!target.exact)
      problems.push(
        problem(
          'repair',
          'jump-name-mismatch',
          `The ${words[jump.kind]} "${jump.name}" in ${barName(bar)} finds no ${kind} of that name; the only ${kind} there is was taken.`,
          { bar: bar.number },
        ),
      );
    result.set(jump, target.bar);
  };
  own.forEach((bar, k) => {
    const i = from + k;
    for (const jump of bar.jumps) {
      if (jump.kind === 'daCapo') result.set(jump, from);
      else if (jump.kind === 'dalSegno') named(jump, 'segno', bar, i);
      else if (jump.kind === 'toCoda') named(jump, 'coda', bar, i);
      if ((jump.kind === 'fine' || jump.kind === 'toCoda') && !jumping)
        problems.push(
          problem(
            'note',
            `${jump.kind === 'fine' ? 'fine' : 'to-coda'}-without-jump`,
            `The ${words[jump.kind]} in ${barName(bar)} acts only after a da capo or dal segno, and there is none.`,
            { bar: bar.number },
          ),
        );
      const start = result.get(jump);
      if (jump.kind === 'daCapo' || jump.kind === 'dalSegno') {
        if (start === undefined) continue;
        const ends = bars
          .slice(start, i + 1)
          .some((b) => b.jumps.some(({ kind }) => kind === 'fine' || kind === 'toCoda'));
        if (!ends)
          problems.push(
            problem(
              'assumption',
              'fine-missing',
              `The ${words[jump.kind]} in ${barName(bar)} leads back to ${barName(bars[start] ?? bar)}, and no fine or "to coda" stands between: all of it is played again to the end.`,
              { bar: bar.number },
            ),
          );
      }
    }
  });
  return result;
};
