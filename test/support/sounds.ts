/** What of a score a file of mere sound can tell: title, bars by length, keys, tempi, and the notes that are heard. */
import { metreText } from '../../src/score/metre.ts';
import type { Score } from '../../src/score/model.ts';
import { F, type Fraction } from '../../src/units/index.ts';

/** Tempi in quarters a minute, changes of beat worked out. */
const tempi = ({ marks }: Score): readonly string[] => {
  let quarters: Fraction = F.fraction(120);
  return marks.flatMap((mark) => {
    if (mark.kind === 'tempo') quarters = F.mul(F.mul(mark.perMinute, mark.unit), F.fraction(4));
    else if (mark.kind === 'relation') quarters = F.mul(quarters, F.div(mark.to, mark.from));
    else return [];
    return [`tempo at ${F.format(mark.at)}: ${F.format(quarters)}`];
  });
};

/** One line each; where two scores sound alike the lines are the same. */
export const soundLines = (score: Score): readonly string[] => [
  `title ${score.title}`,
  ...score.bars.map(
    ({ index, start, length, metre }) =>
      `bar ${index} at ${F.format(start)}: ${F.format(length)} in ${metreText(metre)}`,
  ),
  ...tempi(score),
  ...score.parts.flatMap(({ id, name, program, keys, transpositions, notes }) => [
    `${id} ${name}, program ${program ?? '-'}`,
    ...keys.map(
      ({ at, fifths }) =>
        `${id} key at ${F.format(at)}: ${fifths}${transpositions.length > 0 ? ' written' : ''}`,
    ),
    ...notes.map(
      ({ onset, duration, midi }) =>
        `${id} note at ${F.format(onset)}: ${F.format(duration)} of ${midi ?? '-'}`,
    ),
  ]),
];

/** How the bars are numbered, repeated and led through, and the marks over them; one line each. */
export const courseLines = ({ bars, marks }: Score): readonly string[] => [
  ...bars.flatMap(({ index, number, pickup, repeatStart, repeatEnd, ending, jumps, barline, fermata }) => [
    `bar ${index} "${number}"${pickup ? ', upbeat' : ''}${fermata ? ', fermata at its end' : ''}, ${barline}`,
    ...(repeatStart ? [`bar ${index} begins a repeat`] : []),
    ...(repeatEnd > 0 ? [`bar ${index} ends a repeat, ${repeatEnd} times`] : []),
    ...(ending === null ? [] : [`bar ${index} ending ${ending.numbers.join()} ${ending.ends ?? 'goes on'}`]),
    ...jumps.map((jump) => `bar ${index} ${jump.kind}`),
  ]),
  ...marks.flatMap((mark) =>
    mark.kind === 'tempo'
      ? [`mark at ${F.format(mark.at)}: ${F.format(mark.unit)} = ${F.format(mark.perMinute)}`]
      : mark.kind === 'relation'
        ? [`mark at ${F.format(mark.at)}: old ${F.format(mark.from)} = new ${F.format(mark.to)}`]
        : [`mark at ${F.format(mark.at)}: ${mark.kind} "${mark.text}"`],
  ),
];

/** Lines of one only: "- " before those of the first, "+ " before those of the second. Each line counts as often as it stands. */
export const lineDifferences = (a: readonly string[], b: readonly string[]): readonly string[] => {
  const without = (from: readonly string[], lines: readonly string[], sign: string): string[] => {
    const counts = new Map<string, number>();
    for (const line of lines) counts.set(line, (counts.get(line) ?? 0) + 1);
    return from.flatMap((line) => {
      const left = counts.get(line) ?? 0;
      counts.set(line, left - 1);
      return left > 0 ? [] : [`${sign} ${line}`];
    });
  };
  return [...without(a, b, '-'), ...without(b, a, '+')];
};
