import { beats, F, type Beats, type Fraction } from '../../../units/index.ts';
import { metreText, noMetre, parseMetre, type Metre } from '../../metre.ts';
import type { Cursor } from './cursor.ts';
import type { Where } from './statement.ts';

/** Names of note values, as the trade says them on both sides of the ocean, and their signs. */
const valueNames: readonly (readonly [RegExp, Fraction])[] = [
  [/(?:breve|double[ -]whole)(?![a-z])/, F.fraction(2)],
  [/(?:whole(?: note)?|semibreve)(?![a-z])/, F.fraction(1)],
  [/(?:half(?: note)?|minim)(?![a-z])|\u{1D15E}|\u{1D157}\u{1D165}/u, F.fraction(1, 2)],
  [/(?:quarter(?: note)?|crotchet)(?![a-z])|\u2669/, F.fraction(1, 4)],
  [/(?:eighth(?: note)?|quaver)(?![a-z])|\u266a/, F.fraction(1, 8)],
  [/(?:sixteenth(?: note)?|semiquaver)(?![a-z])/, F.fraction(1, 16)],
];

/** A dot adds a half, a second one a quarter: (2 - 1/2^n) of the value. */
const dotted = (value: Fraction, dots: number): Beats =>
  beats(F.mul(value, F.sub(F.fraction(2), F.fraction(1n, 1n << BigInt(dots)))));

const positive = (cursor: Cursor, mark: number, value: Fraction, what: string): void => {
  if (F.isPositive(value)) return;
  cursor.reset(mark);
  cursor.fail(
    'length-zero',
    `A ${what} of ${F.format(value)} lasts no time. Write a note value such as 1/4.`,
  );
};

/** "1/4", "1/4.", "3/8", "dotted quarter". Null where none begins here. */
export const takeValue = (cursor: Cursor, what: string): Beats | null => {
  const mark = cursor.mark();
  const figure = cursor.take(/(\d{1,40})\/(\d{1,40})(\.{0,4})/);
  if (figure !== null) {
    const value = F.parse(`${figure[1] ?? ''}/${figure[2] ?? ''}`) ?? F.zero;
    positive(cursor, mark, value, what);
    return dotted(value, (figure[3] ?? '').length);
  }
  const dotWord = cursor.take(/(double[ -])?dotted +/);
  for (const [pattern, value] of valueNames) {
    if (cursor.take(pattern) === null) continue;
    const dots = dotWord === null ? 0 : dotWord[1] === undefined ? 1 : 2;
    return dotted(value, dots + (cursor.take(/\.{1,4}/)?.[0].length ?? 0));
  }
  cursor.reset(mark);
  return null;
};

/** "3/4", "1/4.", "2" whole notes, or a sum of them: "1/2+1/8". */
export const needLength = (cursor: Cursor, what: string): Beats => {
  let sum: Fraction = F.zero;
  do {
    const mark = cursor.mark();
    const value = takeValue(cursor, what);
    if (value !== null) sum = F.add(sum, value);
    else {
      const whole = cursor.take(/\d{1,40}(?![\d.])/);
      if (whole === null) cursor.fail('length-missing', `Here the ${what} is missing, such as 1/4 or 3/8.`);
      const length = F.fraction(BigInt(whole[0]));
      positive(cursor, mark, length, what);
      sum = F.add(sum, length);
    }
  } while (cursor.take(/\+/) !== null);
  return beats(sum);
};

const metrePattern = /(?:\d{1,6}(?: *\+ *\d{1,6})* *\/ *\d{1,6}(?![\d.])(?: *\+ *(?=\d[\d +]*\/))?)+/;

/** "4/4", "3+2/8", "2/4+3/8", "C", "cut", "free"; with "as C" or "as cut" behind figures. Null where none is here. */
export const takeMetre = (cursor: Cursor): Metre | null => {
  if (cursor.take(/free(?![a-z])/) !== null) return noMetre;
  if (cursor.take(/(?:cut(?: +(?:common|time|c))?|alla +breve|\u{1D135})(?![a-z])/u) !== null)
    return parseMetre('cut');
  if (cursor.take(/(?:common(?: +time)?|c|\u{1D134})(?![a-z.])/u) !== null) return parseMetre('C');
  const mark = cursor.mark();
  const figures = cursor.take(metrePattern);
  if (figures === null) return null;
  const text = figures[0].replace(/ /g, '');
  const value = text.length > 200 ? null : parseMetre(text);
  if (value === null) {
    cursor.reset(mark);
    return /(?:^|[+/])0+(?![0-9])/.test(text)
      ? cursor.fail(
          'metre-unreadable',
          `A metre of ${text} has a zero in it, so that its bars would have no length.`,
        )
      : cursor.fail(
          'metre-unreadable',
          `The metre ${text.slice(0, 60)} goes beyond any music. It looks like a slip.`,
        );
  }
  const drawn = cursor.take(/as +(c|cut)(?![a-z])/);
  if (drawn === null) return value;
  return { ...value, symbol: (drawn[1] ?? '').toLowerCase() === 'c' ? 'common' : 'cut' };
};

/** Whether a metre is met with in practice: a power of two below, at most 64 above. Common practice, no source. */
export const isUsualMetre = ({ components }: Metre): boolean =>
  components.every(
    ({ numerators, unit }) =>
      [1, 2, 4, 8, 16, 32, 64].includes(unit) && numerators.reduce((a, b) => a + b, 0) <= 64,
  );

/** The beat of a metre (design, section 6): dotted in compound time, halves over 2, else the figure below. */
export const beatOf = (metre: Metre): Beats => {
  const [numerators, unit] = /^(\d+)\/(\d+)$/.exec(metreText(metre))?.slice(1).map(Number) ?? [];
  if (numerators === undefined || unit === undefined) return beats(F.fraction(1, 4));
  return beats(
    unit >= 8 && numerators > 3 && numerators % 3 === 0 ? F.fraction(3, unit) : F.fraction(1, unit),
  );
};

/** A bare bar number: "12", "12a", "X1". Anything else stands in quotation marks. */
export const labelPattern = /[A-Za-z]{0,3}\d{1,9}[A-Za-z]{0,3}(?![A-Za-z0-9/=]|\.\d)/;
/** A bar by its place in the plan: "5th bar". */
const ordinalPattern = /(\d{1,9})(?:st|nd|rd|th) +bar(?![a-z])/;

/** A number as the plan knows it: "007" is "7". */
export const plainLabel = (text: string): string => (/^\d+$/.test(text) ? String(Number(text)) : text);

/** "17", "12a", "\"12-13\"", "5th bar". Null where none begins here. */
const takeBar = (cursor: Cursor): Where | null => {
  const place = cursor.place();
  const mark = cursor.mark();
  const ordinal = cursor.take(ordinalPattern);
  let bar: Where['bar'];
  if (ordinal !== null) bar = { ordinal: Number(ordinal[1]) };
  else {
    cursor.take(/bars? +(?=["\u201c-\u201f]|[a-z]{0,3}\d)/);
    const printed = cursor.quoted();
    const bare = printed === null ? cursor.take(labelPattern)?.[0] : undefined;
    if (printed === null && bare === undefined) {
      cursor.reset(mark);
      return null;
    }
    bar = { number: printed ?? plainLabel(bare ?? '') };
  }
  return { bar, offset: F.zero, place };
};

/** A bar, and how far into it where that is said: "17+1/4". Null where none begins here. */
export const takeWhere = (cursor: Cursor): Where | null => {
  const bar = takeBar(cursor);
  if (bar === null || cursor.take(/\+/) === null) return bar;
  return { ...bar, offset: needLength(cursor, 'distance from the bar line') };
};

const missing = (cursor: Cursor): never =>
  cursor.fail('bar-number-missing', 'Here the number of a bar is missing, such as "at 17".');

/** A bar alone: for what stands at bar lines. */
export const needBar = (cursor: Cursor): Where => takeBar(cursor) ?? missing(cursor);

/** "at 17" where it is said; null where nothing is. */
export const takeAt = (cursor: Cursor): Where | null =>
  cursor.take(/(?:at|in|from)(?![a-z])/) === null ? null : (takeWhere(cursor) ?? missing(cursor));

/** "at 17" for what stands at a bar line; "at" may be left out. */
export const needAtBar = (cursor: Cursor): Where => {
  cursor.take(/(?:at|in|over)(?![a-z])/);
  return needBar(cursor);
};
