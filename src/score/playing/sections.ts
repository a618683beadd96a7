/**
 * Which bars are repeated together: repeat signs and ending brackets of one movement, matched. The rules are listed,
 * with their sources, in docs/formats/playing-order.md.
 */
import { problem, type Problem } from '../../units/index.ts';
import type { Bar } from '../model.ts';
import { barName, findBrackets, mostPasses, type Bracket } from './brackets.ts';

export interface RepeatSection {
  /** Bar index to go back to. */
  readonly start: number;
  /** Last bar, ending brackets included. */
  readonly last: number;
  /** Bars with a repeat sign that goes back to `start`; the bracket it closes, if any. */
  readonly backs: readonly { readonly bar: number; readonly bracket: Bracket | null }[];
  readonly brackets: readonly Bracket[];
  /** The times through that are played, ascending: [1, 2]. */
  readonly passes: readonly number[];
  /** No repeat sign: the brackets are for before and after a da capo or dal segno. */
  readonly byJump: boolean;
}

interface Frame {
  start: number;
  readonly explicit: boolean;
  nested: boolean;
  readonly backs: { bar: number; bracket: Bracket | null }[];
  readonly brackets: Bracket[];
  last: number;
}

const frameAt = (start: number, explicit: boolean): Frame => ({
  start,
  explicit,
  nested: false,
  backs: [],
  brackets: [],
  last: start,
});

/** The repeated sections of bars `from` to `to` (indices, both included), inner ones before outer ones. */
export const findSections = (
  bars: readonly Bar[],
  from: number,
  to: number,
): { sections: readonly RepeatSection[]; problems: readonly Problem[] } => {
  const found = findBrackets(bars, from, to);
  const problems: Problem[] = [...found.problems];
  const beginning = new Map(found.brackets.map((b) => [b.first, b]));
  const sections: RepeatSection[] = [];
  const stack: Frame[] = [];
  let base = frameAt(from, false);
  /** Brackets with their numbers filled in, and the frame that each belongs to. */
  let current: { bracket: Bracket; owner: Frame } | null = null;

  const numbersOf = (frame: Frame): number[] => frame.brackets.flatMap((b) => b.numbers);

  /** Whether the bracket that begins at `index` is a further ending of the repeat before it. */
  const continues = (index: number): boolean => {
    const next = beginning.get(index);
    return next !== undefined && !next.numbers.includes(1);
  };

  const numbered = (frame: Frame, bracket: Bracket): Bracket => {
    if (bracket.numbers.length > 0) return bracket;
    const highest = Math.max(0, ...numbersOf(frame));
    const played = frame.brackets.length === 0 && frame.backs.length > 0 ? 1 : highest;
    return { ...bracket, numbers: [played + 1] };
  };

  const finish = (frame: Frame, last: number): void => {
    frame.last = last;
    const section = sectionOf(bars, frame, problems);
    if (section !== null) sections.push(section);
    const place = stack.indexOf(frame);
    if (place >= 0) stack.splice(place, 1);
    const outer = stack.at(-1);
    if (frame === base) base = frameAt(last + 1, false);
    else if (outer !== undefined) outer.nested = true;
    else if (base.brackets.length === 0) base = frameAt(last + 1, false);
  };

  for (let i = from; i <= to; i += 1) {
    const bar = bars[i];
    if (bar === undefined) break;
    const begins = beginning.get(i);
    if (begins !== undefined) {
      const waiting = [...stack, base].find(
        (frame) => frame.brackets.at(-1)?.last === i - 1 || frame.backs.at(-1)?.bar === i - 1,
      );
      const owner = waiting ?? stack.at(-1) ?? base;
      const bracket = numbered(owner, begins);
      reportOverlap(bars, owner, bracket, problems);
      owner.brackets.push(bracket);
      current = { bracket, owner };
    }
    if (bar.repeatStart) {
      if (current === null && stack.length === 0 && base.brackets.length > 0) finish(base, i - 1);
      stack.push(frameAt(i, true));
    }
    if (bar.repeatEnd > 0) {
      const top = stack.at(-1) ?? base;
      const inner = current !== null && top !== current.owner && top.start >= current.bracket.first;
      const closes = current !== null && !inner && current.bracket.last === i;
      const frame = closes && current !== null ? current.owner : top;
      frame.backs.push({ bar: i, bracket: closes && current !== null ? current.bracket : null });
      if (!closes && !(i < to && continues(i + 1))) finish(frame, i);
    }
    if (current?.bracket.last === i) {
      const { owner } = current;
      current = null;
      if (owner.backs.length > 0 && !(i < to && continues(i + 1))) finish(owner, i);
    }
  }

  for (const frame of [...stack].reverse()) {
    if (frame.backs.length === 0) {
      const bar = bars[frame.start];
      problems.push(
        problem(
          'repair',
          'repeat-unended',
          `The repeat that begins in ${bar === undefined ? 'a bar' : barName(bar)} has no end; it is ignored.`,
          { bar: bar?.number ?? '' },
        ),
      );
    }
    if (frame.backs.length + frame.brackets.length > 0) finish(frame, to);
  }
  if (base.backs.length + base.brackets.length > 0) finish(base, to);
  return { sections, problems };
};

const reportOverlap = (bars: readonly Bar[], owner: Frame, bracket: Bracket, problems: Problem[]): void => {
  const twice = bracket.numbers.filter((n) => owner.brackets.some((b) => b.numbers.includes(n)));
  const bar = bars[bracket.first];
  if (twice.length === 0 || bar === undefined) return;
  problems.push(
    problem(
      'repair',
      'ending-overlap',
      `Time ${twice.join(', ')} has more than one ending bracket; that of ${barName(bar)} is played as well.`,
      { bar: bar.number },
    ),
  );
};

const sectionOf = (bars: readonly Bar[], frame: Frame, problems: Problem[]): RepeatSection | null => {
  const { start, last, backs, brackets } = frame;
  const bar = bars[brackets[0]?.first ?? start];
  if (bar === undefined) return null;
  const place = { bar: bar.number };
  const say = (severity: Problem['severity'], code: string, message: string): void => {
    problems.push(problem(severity, code, message, place));
  };
  const numbers = [...new Set(brackets.flatMap((b) => b.numbers))].sort((a, b) => a - b);
  const highest = numbers.at(-1) ?? 0;
  if (backs.length === 0) {
    const jumpInside = brackets.slice(0, -1).some((b) => hasJump(bars, b));
    if (jumpInside) return { start, last, backs, brackets, passes: numbers, byJump: true };
    say(
      'repair',
      'ending-without-repeat',
      `The ending bracket of ${barName(bar)} belongs to no repeat; its bars are played as they stand.`,
    );
    return null;
  }
  for (const bracket of brackets) {
    // A first ending whose repeat sign was forgotten: without it the other endings could not be reached.
    const returns = backs.some((back) => back.bracket === bracket) || hasJump(bars, bracket);
    const more = highest > (bracket.numbers[0] ?? highest);
    const plainAfter = backs.some((back) => back.bracket === null && back.bar > bracket.last);
    if (returns || !more || plainAfter) continue;
    backs.push({ bar: bracket.last, bracket });
    say(
      'repair',
      'ending-without-repeat-sign',
      `The ending bracket of ${barName(bars[bracket.first] ?? bar)} has no repeat sign although there are further times through; one is assumed.`,
    );
  }
  if (frame.nested)
    say(
      'note',
      'repeat-nested',
      `The repeat that begins in ${barName(bars[start] ?? bar)} holds another repeat, which is played in full each time through.`,
    );
  const plain = backs.filter((b) => b.bracket === null);
  const asked = Math.max(0, ...plain.map((b) => bars[b.bar]?.repeatEnd ?? 0));
  if (asked > mostPasses)
    say(
      'repair',
      'repeat-times-absurd',
      `A repeat in ${barName(bar)} is to be played ${asked} times, and nobody plays more than ${mostPasses}; it is played twice.`,
    );
  const times = asked > mostPasses ? 2 : asked;
  if (plain.length > 0 && brackets.some((b) => plain.some((p) => p.bar > b.last)))
    say(
      'repair',
      'ending-mismatch',
      `The ending bracket of ${barName(bar)} stops before the repeat sign; its bars are played at the times it names.`,
    );
  let passes: number[];
  if (plain.length > 0) passes = Array.from({ length: Math.max(times, highest) }, (_, k) => k + 1);
  else {
    // A lone first ending: the next time through leads into the bar after it.
    passes = brackets.length === 1 ? [...numbers, highest + 1] : numbers;
    const missing = passes.filter((n, k) => n !== k + 1);
    if (missing.length > 0)
      say(
        'repair',
        'ending-missing',
        `The endings from ${barName(bar)} on are for times ${numbers.join(', ')}; times without an ending are not played.`,
      );
    const lastBracket = brackets.at(-1);
    if (
      brackets.length > 1 &&
      backs.some((b) => b.bracket === lastBracket) &&
      lastBracket?.numbers.includes(highest)
    )
      say(
        'assumption',
        'repeat-after-last-ending',
        `A repeat sign stands at the last ending of the repeat with endings from ${barName(bar)} on; no further time through has an ending, so it is not followed after time ${highest}.`,
      );
  }
  return { start, last, backs, brackets, passes, byJump: false };
};

const hasJump = (bars: readonly Bar[], bracket: Bracket): boolean =>
  bars
    .slice(bracket.first, bracket.last + 1)
    .some((bar) => bar.jumps.some(({ kind }) => kind === 'daCapo' || kind === 'dalSegno'));
