import type { Beats } from '../../../units/index.ts';
import type { Metre } from '../../metre.ts';
import type { Cursor } from './cursor.ts';
import { maximumBars } from './limits.ts';
import type { BarsStatement, Labels, RepeatWords } from './statement.ts';
import { labelPattern, needLength, takeMetre } from './values.ts';
import { suggestion } from './words.ts';

const wholeCount = (cursor: Cursor, text: string): number => {
  const count = Number(text);
  if (count > maximumBars)
    cursor.fail(
      'too-many-bars',
      `This asks for ${text} bars; a plan holds at most ${maximumBars}. Is a digit typed twice?`,
    );
  return count;
};

const takeLabels = (cursor: Cursor): Labels | null => {
  const mark = cursor.mark();
  const count = cursor.take(/(\d{1,40}) +(unnumbered +)?bars?(?![a-z])/);
  if (count !== null) {
    cursor.reset(mark);
    const whole = wholeCount(cursor, count[1] ?? '');
    if (whole === 0) cursor.fail('bar-range-empty', 'No bars are asked for here.');
    cursor.take(/\d+ +(unnumbered +)?bars?/);
    return { kind: 'count', count: whole, numbered: count[2] === undefined };
  }
  cursor.take(/bars? +(?=["\u201c-\u201f]|[a-z]{0,3}\d)/);
  const printed = cursor.quoted();
  if (printed !== null) return { kind: 'label', text: printed, printed: true };
  const start = cursor.mark();
  const range = cursor.take(/(\d{1,40}) *(?:-|to(?![a-z])|\.\.) *(\d{1,40})(?![A-Za-z0-9/=]|\.\d)/);
  if (range === null) {
    const label = cursor.take(labelPattern)?.[0];
    if (label === undefined) return null;
    return /^\d+$/.test(label)
      ? { kind: 'range', first: Number(label), last: Number(label) }
      : { kind: 'label', text: label, printed: false };
  }
  const end = cursor.mark();
  cursor.reset(start);
  const [first, last] = [Number(range[1]), Number(range[2])];
  if (last < first)
    cursor.fail(
      'bars-reversed',
      `Bars ${first}-${last} run backwards. Write the first bar first: ${last}-${first}.`,
    );
  wholeCount(cursor, String(BigInt(range[2] ?? '0') - BigInt(range[1] ?? '0') + 1n));
  if (last > 999_999_999) cursor.fail('bar-number-absurd', `No piece has a bar ${range[2] ?? ''}.`);
  cursor.reset(end);
  return { kind: 'range', first, last };
};

/** "twice", "3 times", "x3", and "also after D.C."; null where none is here. `times` 1 is no repeat. */
export const takeRepeatWords = (cursor: Cursor): RepeatWords | null => {
  const mark = cursor.mark();
  const figure =
    cursor.take(/(\d{1,9})(?: *times|x)(?![a-z])/) ?? cursor.take(/x *(\d{1,9})(?![\d/])/) ?? null;
  const word = figure === null ? cursor.take(/(once|twice|thrice)(?![a-z])/) : null;
  if (figure === null && word === null) return null;
  const times =
    figure === null
      ? ['once', 'twice', 'thrice'].indexOf((word?.[1] ?? '').toLowerCase()) + 1
      : Number(figure[1]);
  if (times < 1) {
    cursor.reset(mark);
    cursor.fail('repeat-times-absurd', `A section cannot be played ${times} times; say 2 or more.`);
  }
  return { times, afterJump: takeAfterJump(cursor) };
};

/** Whether the repeat is said to hold after a da capo too. */
export const takeAfterJump = (cursor: Cursor): boolean =>
  cursor.take(/(?:also|even) +after +(?:the +)?(?:d\. ?c\.|d\. ?s\.|da capo|dal segno|jumps?)/) !== null;

/** Nothing may be left over in a statement, save a full stop. */
export const needEnd = (cursor: Cursor): void => {
  cursor.take(/\.(?=\s*$)/);
  if (cursor.done()) return;
  const word = cursor.peek();
  cursor.fail('word-unknown', `"${word}" is not understood here.${suggestion(word)}`);
};

/** "1-16 4/4 twice", "12a 3/4 lasts 1/4 pickup", "8 bars cut". Null where the statement begins with no bar. */
export const takeBars = (cursor: Cursor): BarsStatement | null => {
  const place = cursor.place();
  const labels = takeLabels(cursor);
  if (labels === null) return null;
  let metre: Metre | null = null;
  let lasts: Beats | null = null;
  let pickup = false;
  let renumbered = false;
  let repeat: RepeatWords | null = null;
  for (;;) {
    cursor.take(/,|in(?= )/);
    const words: RepeatWords | null = repeat === null ? takeRepeatWords(cursor) : null;
    if (words !== null) {
      repeat = words;
      continue;
    }
    if (cursor.take(/lasts?(?![a-z])/) !== null) {
      lasts = needLength(cursor, 'length');
      continue;
    }
    if (cursor.take(/(?:pick-?up|upbeat)(?![a-z])/) !== null) {
      pickup = true;
      continue;
    }
    if (cursor.take(/renumbered(?![a-z])/) !== null) {
      renumbered = true;
      continue;
    }
    const found: Metre | null = metre === null ? takeMetre(cursor) : null;
    if (found === null) break;
    metre = found;
  }
  needEnd(cursor);
  return { kind: 'bars', labels, metre, lasts, pickup, repeat, renumbered, place };
};
