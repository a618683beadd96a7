/** The bars a player names, found in the score and in its playing order. */
import { metreLength } from '../score/metre.ts';
import type { Bar, Score } from '../score/model.ts';
import type { PlayingOrder, Visit } from '../score/playing.ts';
import { F, fail, ok, problem, type Problem, type Result } from '../units/index.ts';

/** A stretch of written bars, [first, last]. */
interface Span {
  readonly first: number;
  readonly last: number;
}

/** A name found in the score: bars that bear a number, or a rehearsal mark. */
interface Named extends Span {
  readonly mark: boolean;
}

const rehearsalBars = (score: Score): readonly { readonly text: string; readonly bar: number }[] =>
  score.marks.flatMap((mark) => (mark.kind === 'rehearsal' ? [{ text: mark.text, bar: mark.bar }] : []));

const isShort = ({ metre, length }: Bar): boolean => F.less(length, metreLength(metre) ?? length);

/**
 * A bar and the rest of it: short bars in a row that share a number are one bar to the players, split by a repeat sign,
 * say. The endings of a repeat may bear one number too, but are bars of their own.
 */
const run = (bars: readonly Bar[], first: number): Span => {
  const { number } = bars[first] ?? { number: '' };
  let last = first;
  for (;;) {
    const [bar, next] = [bars[last], bars[last + 1]];
    const joins =
      bar !== undefined &&
      next?.number === number &&
      next.ending?.begins !== true &&
      isShort(bar) &&
      isShort(next);
    if (!joins) return { first, last };
    last++;
  }
};

/** "12" is the printed number, "@12" the bar's index, "A" or "mark:12" a rehearsal mark. A number wins over a mark. Looked for from the bar with index `from` on. */
const named = (score: Score, text: string, problems: Problem[], from = 0): Named | null => {
  const index = /^@(\d{1,6})$/.exec(text);
  if (index !== null) {
    const at = Number(index[1]);
    return at < score.bars.length ? { first: at, last: at, mark: false } : null;
  }
  const asked = text.startsWith('mark:') ? text.slice(5) : text;
  if (asked === text && text !== '') {
    const first = score.bars.findIndex(({ number, index: at }) => at >= from && number === text);
    if (first >= 0) {
      const span = run(score.bars, first);
      const again = score.bars.slice(span.last + 1).find(({ number }) => number === text);
      if (again !== undefined) {
        const message = `Bar number ${text} stands more than once; the first is taken. Write @${again.index} for the next (levare look shows the index of every bar).`;
        problems.push(problem('assumption', 'bar-number-twice', message, { bar: text }));
      }
      return { ...span, mark: false };
    }
  }
  const mark =
    rehearsalBars(score).find((candidate) => candidate.text === asked) ??
    rehearsalBars(score).find((candidate) => candidate.text.toLowerCase() === asked.toLowerCase());
  return mark === undefined ? null : { first: mark.bar, last: mark.bar, mark: true };
};

const missing = (score: Score, text: string): Result<never> => {
  const numbers = score.bars.map(({ number }) => number).filter((number) => number !== '');
  const marks = rehearsalBars(score).map((mark) => mark.text);
  const range =
    numbers.length === 0 ? '' : ` The bars run from ${numbers[0] ?? ''} to ${numbers.at(-1) ?? ''}.`;
  const known = marks.length === 0 ? '' : ` Rehearsal marks: ${marks.join(', ')}.`;
  return fail('bar-unknown', `There is no bar or rehearsal mark "${text}".${range}${known}`);
};

/** A rehearsal mark alone means up to the next mark. */
const untilNextMark = (score: Score, from: Named): Span => {
  const next = rehearsalBars(score).find(({ bar }) => bar > from.first);
  return { first: from.first, last: (next?.bar ?? score.bars.length) - 1 };
};

/** A rehearsal mark as the end means up to it: its own bar is not played. */
const ending = (to: Named): number => (to.mark ? to.first - 1 : to.last);

/**
 * The written bars of "12-15", "12", "A", "A-C", "B-24", "@3-@7" or "all". Fails with `bar-unknown` and
 * `bars-reversed`.
 */
export const findBars = (score: Score, text: string): Result<Span> => {
  const asked = text.trim().replace(/[‐-―]/g, '-');
  if (asked.toLowerCase() === 'all') return ok({ first: 0, last: score.bars.length - 1 });
  const problems: Problem[] = [];
  const whole = named(score, asked, problems);
  if (whole !== null) return ok(whole.mark ? untilNextMark(score, whole) : whole, problems);
  for (let cut = asked.indexOf('-'); cut >= 0; cut = asked.indexOf('-', cut + 1)) {
    const from = named(score, asked.slice(0, cut).trim(), problems);
    const right = asked.slice(cut + 1).trim();
    // Numbers may begin anew in a next movement: the end is the first after the beginning, if there is one.
    const to = named(score, right, [], from?.first) ?? named(score, right, []);
    if (from === null || to === null) continue;
    const last = ending(to);
    if (last < from.first) {
      return fail('bars-reversed', `"${text}" ends before it begins: write the earlier bar first.`);
    }
    return ok({ first: from.first, last }, problems);
  }
  const [left = '', right] = asked.split('-').map((side) => side.trim());
  if (left === '' || right === '') return missing(score, asked);
  return missing(score, named(score, left, []) === null || right === undefined ? left : right);
};

/** From a visit on to the next time that a bar is played, both included. */
const runTo = (order: PlayingOrder, start: number, last: number): readonly Visit[] | null => {
  const end = order.visits.findIndex((visit, i) => i >= start && visit.barIndex === last);
  return end < 0 ? null : order.visits.slice(start, end + 1);
};

const plural = (count: number): string => (count === 1 ? 'once' : count === 2 ? 'twice' : `${count} times`);

/**
 * The run of the playing order that plays the named bars: from the first bar on its `pass`-th time to the next time
 * that the last one is played. Without `pass`, the time through that takes the fewest bars, the earliest of those: a
 * passage that goes on past a repeat is taken the last time through. "all" is the whole playing order, with every
 * repeat. Fails with `pass-unknown` where the bar is not played that often, and `bars-not-played` where playing never
 * leads from the first bar to the last.
 */
export const findPassage = (
  score: Score,
  order: PlayingOrder,
  asked: { readonly bars: string; readonly pass: number | null },
): Result<readonly Visit[]> => {
  const span = findBars(score, asked.bars);
  if (!span.ok) return span;
  if (asked.bars.trim().toLowerCase() === 'all' && asked.pass === null)
    return ok(order.visits, span.problems);
  const { first, last } = span.value;
  const name = score.bars[first]?.number ?? '';
  const starts = order.visits.filter(({ barIndex }) => barIndex === first);
  const chosen = starts.filter(({ pass }) => asked.pass === null || pass === asked.pass);
  if (starts.length > 0 && chosen.length === 0) {
    return fail(
      'pass-unknown',
      `Bar ${name} is played ${plural(starts.length)}; there is no time ${asked.pass ?? 1}.`,
      { bar: name },
    );
  }
  const runs = chosen.map(({ index }) => runTo(order, index, last)).filter((found) => found !== null);
  const [shortest] = runs.toSorted((a, b) => a.length - b.length);
  if (shortest === undefined) {
    return fail(
      'bars-not-played',
      `In playing order, bar ${name} never leads to bar ${score.bars[last]?.number ?? ''}: a repeat, an ending or a jump lies between. Name a shorter passage.`,
      { bar: name },
    );
  }
  return ok(shortest, span.problems);
};
