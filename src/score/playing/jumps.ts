/** Where da capo, dal segno and to-coda lead within a movement. */
import { problem, type Problem } from '../../units/index.ts';
import type { Bar, Jump } from '../model.ts';
import { barName } from './brackets.ts';

type Target = { readonly bar: number; readonly exact: boolean } | null;
type Named = Extract<Jump, { name: string }>;

/** What the signs are called in messages. */
export const jumpWords = {
  daCapo: 'da capo',
  dalSegno: 'dal segno',
  toCoda: '"to coda"',
  fine: 'fine',
  segno: 'segno',
  coda: 'coda',
} as const;

/** Where each da capo, dal segno and to-coda of the movement leads. Those without a target are reported and left out. */
export const jumpTargets = (
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
          'jump-target-missing',
          `The ${jumpWords[jump.kind]} in ${barName(bar)} has no ${kind} sign ${where} it to go to; it is ignored.`,
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
          `The ${jumpWords[jump.kind]} "${jump.name}" in ${barName(bar)} finds no ${kind} of that name; the only ${kind} there is was taken.`,
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
            jump.kind === 'fine' ? 'fine-without-jump' : 'to-coda-without-jump',
            `The ${jumpWords[jump.kind]} in ${barName(bar)} acts only after a da capo or dal segno, and there is none.`,
            { bar: bar.number },
          ),
        );
    }
  });
  return result;
};

/** What is to be said of a da capo or dal segno that is followed, back to bar index `start`: whether anything ends it. */
export const backwardProblems = (
  bars: readonly Bar[],
  bar: Bar,
  jump: Jump,
  start: number,
): readonly Problem[] => {
  const ends = bars
    .slice(start, bar.index + 1)
    .some(({ jumps }) => jumps.some(({ kind }) => kind === 'fine' || kind === 'toCoda'));
  if (ends) return [];
  const message = `The ${jumpWords[jump.kind]} in ${barName(bar)} leads back to ${barName(bars[start] ?? bar)}, and no fine or "to coda" stands between: all of it is played again to the end.`;
  return [problem('assumption', 'fine-missing', message, { bar: bar.number })];
};
