/**
 * Repeats, endings and bar lines of the whole score, brought together from all parts. A repeat inside a bar, for which
 * the model has no place, moves to the bar's edge with a problem.
 */
import { lookUp } from '../../../units/index.ts';
import type { Bar, Ending } from '../../model.ts';
import type { EndingDraft } from './draft.ts';
import { notKept, type Log } from './log.ts';
import type { Row } from './metres.ts';

export interface BarCourse {
  repeatStart: boolean;
  repeatEnd: number;
  repeatAfterJump: boolean;
  ending: Ending | null;
  barline: Bar['barline'];
  fermata: boolean;
}

const numberOf = (row: Row | undefined): string => row?.find((draft) => draft !== null)?.number ?? '';

const styles: Readonly<Record<string, Bar['barline']>> = {
  regular: 'regular',
  'light-light': 'double',
  'light-heavy': 'final',
  dashed: 'dashed',
  dotted: 'dotted',
  none: 'none',
};

const takeStyles = (rows: readonly Row[], courses: BarCourse[]): void => {
  rows.forEach((row, index) => {
    for (const draft of row) {
      for (const { edge, style } of draft?.styles ?? []) {
        const target = edge === 'right' ? courses[index] : edge === 'left' ? courses[index - 1] : undefined;
        // The heavy-light line at the left belongs to the repeat that begins here, not to the bar before.
        if (target?.barline !== 'regular' || (edge === 'left' && style === 'heavy-light')) continue;
        target.barline = lookUp(styles, style) ?? 'other';
      }
    }
  });
};

/** One fermata for each bar line, whichever parts show it; at a left edge it stands over the line before its bar. */
const takeFermatas = (rows: readonly Row[], courses: BarCourse[], log: Log): void => {
  rows.forEach((row, index) => {
    const place = { bar: numberOf(row) };
    for (const draft of row) {
      for (const { edge, shape } of draft?.fermatas ?? []) {
        const target = courses[edge === 'left' ? index - 1 : index];
        if (target === undefined) {
          notKept(log, 'barline/fermata/first', 'A fermata before the first bar', place);
          continue;
        }
        target.fermata = true;
        if (shape !== '' && shape !== 'normal')
          notKept(log, 'barline/fermata/shape', 'The shape of a fermata on a bar line', place);
      }
    }
  });
};

const takeRepeats = (rows: readonly Row[], courses: BarCourse[], log: Log): readonly number[] => {
  const times = courses.map(() => 0);
  rows.forEach((row, index) => {
    let told = false;
    for (const draft of row) {
      for (const repeat of draft?.repeats ?? []) {
        const forward = repeat.direction === 'forward';
        if (repeat.edge === 'middle' && !told) {
          told = true;
          log.say(
            'repair',
            'repeat-mid-bar',
            `A repeat sign stands inside this bar; it is read as standing at the bar's ${forward ? 'beginning' : 'end'}.`,
            { bar: numberOf(row) },
          );
        }
        if (forward) {
          const target = courses[repeat.edge === 'right' ? index + 1 : index];
          if (target !== undefined) target.repeatStart = true;
          continue;
        }
        const at = repeat.edge === 'left' ? index - 1 : index;
        const target = courses[at];
        if (target === undefined) {
          log.say('repair', 'repeat-nothing', 'A repeat ends before the first bar; it is left out.', {
            bar: numberOf(row),
          });
          continue;
        }
        target.repeatEnd = 2;
        target.repeatAfterJump ||= repeat.afterJump;
        const known = times[at] ?? 0;
        if (known > 0 && repeat.times > 0 && known !== repeat.times)
          log.say(
            'repair',
            'repeats-differ',
            `The parts disagree how often this repeat is played: ${known} or ${repeat.times} times. ${known} is taken.`,
            { bar: numberOf(row) },
          );
        if (known === 0) times[at] = repeat.times;
      }
    }
  });
  return times;
};

interface EndingEvents {
  start: EndingDraft | null;
  stop: EndingDraft | null;
}

/** Each bar's beginning and end of a bracket, from the first part that has any there, moved to the bar it means. */
const endingEvents = (rows: readonly Row[]): readonly EndingEvents[] => {
  const events = rows.map((): EndingEvents => ({ start: null, stop: null }));
  rows.forEach((row, index) => {
    for (const draft of row) {
      for (const ending of draft?.endings ?? []) {
        const starts = ending.type === 'start';
        const moved = starts ? ending.edge === 'right' : ending.edge === 'left';
        const target = events[moved ? index + (starts ? 1 : -1) : index];
        if (target === undefined) continue;
        if (starts) target.start ??= ending;
        else target.stop ??= ending;
      }
    }
  });
  return events;
};

/** Where a bracket that begins at `from` ends: at its own stop; else, with a problem, at its repeat sign or bar. */
const endOf = (
  events: readonly EndingEvents[],
  courses: readonly BarCourse[],
  from: number,
): { readonly end: number; readonly closed: boolean } => {
  let repeat = -1;
  for (let index = from; index < events.length; index += 1) {
    if (index > from && events[index]?.start) break;
    if (events[index]?.stop) return { end: index, closed: true };
    if (repeat < 0 && (courses[index]?.repeatEnd ?? 0) > 0) repeat = index;
  }
  return { end: repeat < 0 ? from : repeat, closed: false };
};

const takeEndings = (rows: readonly Row[], courses: BarCourse[], log: Log): void => {
  const events = endingEvents(rows);
  for (let index = 0; index < events.length; index += 1) {
    const { start, stop } = events[index] ?? { start: null, stop: null };
    const opening = start ?? stop;
    if (opening === null) continue;
    if (start === null)
      log.say(
        'repair',
        'ending-without-start',
        'An ending bracket ends here that never began; it holds for this bar.',
        {
          bar: numberOf(rows[index]),
        },
      );
    const { end, closed } = start === null ? { end: index, closed: true } : endOf(events, courses, index);
    if (!closed)
      log.say(
        'repair',
        'ending-unclosed',
        `An ending bracket begins here and never ends; it is read up to bar ${numberOf(rows[end])}.`,
        { bar: numberOf(rows[index]) },
      );
    const type = events[end]?.stop?.type === 'discontinue' ? 'discontinue' : 'stop';
    for (let bar = index; bar <= end; bar += 1) {
      const course = courses[bar];
      if (course === undefined) continue;
      const { numbers, text } = opening;
      course.ending = { numbers, text, begins: bar === index, ends: bar === end ? type : null };
    }
    index = end;
  }
};

/**
 * How often a repeat is played: what it says; at the end of an ending, one time more than the ending's last number if
 * another ending follows ("1, 2" then "3": three times); else twice.
 */
const takeTimes = (courses: BarCourse[], times: readonly number[]): void => {
  courses.forEach((course, index) => {
    if (course.repeatEnd === 0) return;
    const last = course.ending === null ? 0 : Math.max(...course.ending.numbers);
    const follows = courses[index + 1]?.ending?.begins === true;
    course.repeatEnd = Math.max(2, times[index] ?? 0, follows ? last + 1 : last);
  });
};

export const coursesOf = (rows: readonly Row[], log: Log): readonly BarCourse[] => {
  const courses = rows.map((): BarCourse => ({
    repeatStart: false,
    repeatEnd: 0,
    repeatAfterJump: false,
    ending: null,
    barline: 'regular',
    fermata: false,
  }));
  takeStyles(rows, courses);
  takeFermatas(rows, courses, log);
  const times = takeRepeats(rows, courses, log);
  takeEndings(rows, courses, log);
  takeTimes(courses, times);
  return courses;
};
