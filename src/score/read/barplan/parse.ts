import { bpm, F, lookUp } from '../../../units/index.ts';
import type { Bar, Jump } from '../../model.ts';
import { needEnd, takeAfterJump, takeBars, takeRepeatWords } from './barsStatement.ts';
import { Cursor, type RawStatement } from './cursor.ts';
import type { Statement } from './statement.ts';
import { needAtBar, needBar, needLength, takeAt, takeValue, takeWhere } from './values.ts';
import { suggestion, tempoWords } from './words.ts';

type Rule = readonly [RegExp, (cursor: Cursor, head: RegExpExecArray) => Statement[]];

const barlines: Readonly<Record<string, Bar['barline']>> = {
  regular: 'regular',
  double: 'double',
  final: 'final',
  dashed: 'dashed',
  dotted: 'dotted',
  no: 'none',
  other: 'other',
};

const needText = (cursor: Cursor, what: string): string =>
  cursor.quoted() ??
  cursor.take(/[^\s"]+/)?.[0] ??
  cursor.fail(
    'text-missing',
    `Here the ${what} is missing. Texts of several words stand in quotation marks.`,
  );

const repeatRule = (cursor: Cursor): Statement[] => {
  let from = null;
  let to = null;
  if (cursor.take(/from(?![a-z])/) !== null) {
    from = needBar(cursor);
    if (cursor.take(/to(?![a-z])/) !== null) to = needBar(cursor);
  } else if (cursor.take(/to(?![a-z])/) !== null) to = needBar(cursor);
  else {
    from = needBar(cursor);
    to = cursor.take(/-|to(?![a-z])/) === null ? from : needBar(cursor);
  }
  const words = takeRepeatWords(cursor) ?? { times: 2, afterJump: takeAfterJump(cursor) };
  return [{ kind: 'repeat', from, to, words }];
};

const endingNumbers = (cursor: Cursor, text: string): number[] => {
  const numbers = (text.match(/\d+/g) ?? []).map(Number);
  if (numbers.some((n) => n < 1))
    cursor.fail('ending-number-absurd', `An ending is for a time through, from 1 on: not ${text.trim()}.`);
  return numbers;
};

const endingRule = (cursor: Cursor, numbers: number[]): Statement[] => {
  const from = needAtBar(cursor);
  const to = cursor.take(/-|to(?![a-z])/) === null ? from : needBar(cursor);
  const text = cursor.take(/printed(?![a-z])/) === null ? null : needText(cursor, 'printed text');
  const begins = cursor.take(/continued(?![a-z])/) === null;
  const open = cursor.take(/(open|unclosed)(?![a-z])/)?.[1]?.toLowerCase();
  const ends = open === undefined ? 'stop' : open === 'open' ? 'discontinue' : null;
  return [{ kind: 'ending', numbers, text, begins, ends, from, to }];
};

const jumpRule =
  (make: (name: string) => Jump): Rule[1] =>
  (cursor) => {
    const jump = make(cursor.quoted() ?? '');
    const al = cursor.take(/al +(fine|coda)(?![a-z])/)?.[1]?.toLowerCase();
    return [{ kind: 'jump', jump, until: al === 'fine' || al === 'coda' ? al : null, at: needAtBar(cursor) }];
  };

const takeTempo = (cursor: Cursor): Statement[] | null => {
  const mark = cursor.mark();
  const place = cursor.place();
  let unit = takeValue(cursor, 'beat');
  if (unit !== null && cursor.take(/=/) === null) {
    cursor.reset(mark);
    unit = null;
  }
  const figure = cursor.take(/[+-]?\d{1,40}(?:\.\d{1,40})?(?:\/\d{1,40})?(?![\d/])/);
  if (figure === null) {
    cursor.reset(mark);
    return null;
  }
  const perMinute = F.parse(figure[0].includes('/') ? figure[0].replace(/\.\d*/, '') : figure[0]);
  if (perMinute === null || !F.isPositive(perMinute) || /\.\d+\//.test(figure[0])) {
    cursor.reset(mark);
    cursor.fail(
      'tempo-zero',
      `A tempo of ${figure[0]} beats a minute never moves on. Write, for example, 1/4=92.`,
    );
  }
  cursor.take(/bpm(?![a-z])/);
  const at = takeAt(cursor);
  const printed = cursor.take(/not +printed(?![a-z])/) === null;
  return [{ kind: 'tempo', unit, perMinute: bpm(perMinute), printed, at, place }];
};

const wordsPattern = new RegExp(
  `(?:${tempoWords.map((word) => word.replace(/ /g, ' +')).join('|')})(?![a-z])(?:(?! +(?:at|from)(?![a-z]))[^\\d="\\u201c-\\u201f;])*`,
);

/** Tempo words that need no quotation marks, with a figure behind them if one stands there: "Allegro 1/4=120". */
const takeBareWords = (cursor: Cursor): Statement[] | null => {
  const words = cursor.take(wordsPattern);
  if (words === null) return null;
  const text = words[0].trim();
  const [tempo] = takeTempo(cursor) ?? [];
  if (tempo?.kind === 'tempo') return [{ kind: 'words', text, at: tempo.at }, tempo];
  return [{ kind: 'words', text, at: takeAt(cursor) }];
};

const rules: readonly Rule[] = [
  [
    /title(?![a-z])(?: *[:=])?/,
    (cursor) => [
      {
        kind: 'title',
        text:
          cursor.quoted() ??
          (cursor.done() ? cursor.fail('text-missing', 'Here the title is missing.') : cursor.rest()),
      },
    ],
  ],
  [
    /(?:pick-?up|upbeat|anacrusis)(?![a-z])/,
    (cursor) => {
      const place = cursor.place();
      return [{ kind: 'pickup', length: needLength(cursor, 'length of the pickup'), place }];
    },
  ],
  [
    /(\d{1,9})(?:st|nd|rd|th) +ending(?![a-z])/,
    (cursor, head) => endingRule(cursor, endingNumbers(cursor, head[1] ?? '')),
  ],
  [
    /endings? +((?:\d{1,9}(?:[.,]| and(?= )|(?= )) *)+?)(?=at |over |in |bars? )/,
    (cursor, head) => endingRule(cursor, endingNumbers(cursor, head[1] ?? '')),
  ],
  [/endings?(?= +(?:at|over|in|printed)(?![a-z]))/, (cursor) => endingRule(cursor, [])],
  [/repeats?(?![a-z])/, repeatRule],
  [/to +coda(?![a-z])/, jumpRule((name) => ({ kind: 'toCoda', name }))],
  [/coda(?![a-z])/, jumpRule((name) => ({ kind: 'coda', name }))],
  [/segno(?![a-z])/, jumpRule((name) => ({ kind: 'segno', name }))],
  [/(?:dal +segno|d\. ?s\.|d\.?s(?![a-z]))/, jumpRule((name) => ({ kind: 'dalSegno', name }))],
  [/(?:da +capo|d\. ?c\.|d\.?c(?![a-z]))/, jumpRule(() => ({ kind: 'daCapo' }))],
  [/fine(?![a-z])/, jumpRule(() => ({ kind: 'fine' }))],
  [
    /(regular|double|final|dashed|dotted|no|other) +(?:bar ?)?line(?![a-z])/,
    (cursor, head) => [
      {
        kind: 'barline',
        barline: lookUp(barlines, (head[1] ?? '').toLowerCase()) ?? 'regular',
        at: needAtBar(cursor),
      },
    ],
  ],
  [
    /fermata(?![a-z])/,
    (cursor) => {
      if (cursor.take(/after(?![a-z])/) === null)
        cursor.fail(
          'word-unknown',
          'A plan has no notes, so its fermatas stand over bar lines. Write, for example, "fermata after 12".',
        );
      return [{ kind: 'fermata', after: needBar(cursor) }];
    },
  ],
  [
    /tempo(?! +(?:primo|i|di|giusto)(?![a-z]))(?![a-z]) *:?/,
    (cursor) =>
      takeTempo(cursor) ??
      cursor.fail('tempo-missing', 'Here the tempo is missing. Write, for example, "tempo 1/4=92".'),
  ],
  [
    /old(?![a-z])/,
    (cursor) => {
      const from = needLength(cursor, 'old beat');
      if (cursor.take(/= *(?:new(?![a-z]))?/) === null)
        cursor.fail('relation-incomplete', 'A change of beat is written "old 1/4 = new 1/4. at 17".');
      const to = needLength(cursor, 'new beat');
      return [{ kind: 'relation', from, to, at: takeAt(cursor) }];
    },
  ],
  [/words?(?![a-z])/, (cursor) => [{ kind: 'words', text: needText(cursor, 'text'), at: takeAt(cursor) }]],
  [
    /(?:rehearsal +mark|mark|letter)(?![a-z])/,
    (cursor) => [{ kind: 'rehearsal', text: needText(cursor, 'rehearsal mark'), at: takeAt(cursor) }],
  ],
];

/** Reads one statement. Throws Refusal, for `refusable`, with the line and column of what is wrong. */
export const parseStatement = (raw: RawStatement): Statement[] => {
  const cursor = new Cursor(raw);
  for (const [head, rule] of rules) {
    const match = cursor.take(head);
    if (match === null) continue;
    const statements = rule(cursor, match);
    needEnd(cursor);
    return statements;
  }
  const bars = takeBars(cursor);
  if (bars !== null) return [bars];
  const words = takeBareWords(cursor);
  if (words !== null) {
    needEnd(cursor);
    return words;
  }
  if (takeWhere(cursor) === null && /^\d+\/\d+/.test(cursor.peek()))
    cursor.fail(
      'metre-without-bars',
      `Which bars are in ${cursor.peek()}? Write, for example, "1-16 ${cursor.peek()}".`,
    );
  const word = cursor.peek();
  return cursor.fail(
    'word-unknown',
    `"${word}" is not understood here. A statement names bars ("1-16 4/4"), a pickup, a tempo, a repeat, ` +
      `an ending, a jump, words or a mark.${suggestion(word)}`,
  );
};
