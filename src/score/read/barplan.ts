/**
 * The bar plan: for groups that own paper and no file, a line or two of text giving pickup, metres, bar numbers,
 * repeats and tempi. Our own format; its grammar is in docs/formats/bar-plan.md.
 */
import { fail, refusable, Refusal, type Result } from '../../units/index.ts';
import type { Score } from '../model.ts';
import { buildScore } from './barplan/build.ts';
import { plainText, splitStatements, type RawStatement } from './barplan/cursor.ts';
import { maximumCharacters } from './barplan/limits.ts';
import { parseStatement } from './barplan/parse.ts';

/** Characters that no plain text has; a form feed and the like are not music either. */
const unsaid = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/;

/**
 * Reads a bar plan. The score has bars and marks and no parts; a pickup has the number "0". An error carries the line
 * and column (from 1, in UTF-16 units) of the word that is wrong. At most 100,000 bars and 8,000,000 characters.
 */
export const readBarPlan = (text: string): Result<Score> => {
  if (text.length > maximumCharacters)
    return fail(
      'file-too-large',
      `The plan has ${text.length} characters; at most ${maximumCharacters} are read.`,
    );
  const foreign = unsaid.exec(text);
  if (foreign !== null) {
    const lines = text.slice(0, foreign.index).split(/\r\n|\r|\n/);
    return fail('not-text', 'This is not plain text: it holds a control character.', {
      line: lines.length,
      column: (lines.at(-1)?.length ?? 0) + 1,
    });
  }
  const statements = splitStatements(text.replace(/^\ufeff/, ''));
  if (statements.length === 0)
    return fail(
      'file-empty',
      'The plan is empty. Write, for example, "pickup 1/4; 1-16 4/4 twice; tempo 1/4=92".',
      {
        line: 1,
        column: 1,
      },
    );
  return refusable(() => buildScore(statements.flatMap(parseStatement)));
};

/** A refused range or metre ("1-16 0/4", "1-1000000000 4/4") is a plan with a mistake, not another format. */
const planMistakes: ReadonlySet<string> = new Set([
  'bar-number-absurd',
  'bar-range-empty',
  'bars-reversed',
  'length-zero',
  'metre-unreadable',
  'repeat-times-absurd',
  'too-many-bars',
]);

const value = String.raw`(?:\d{1,3}\/\d{1,3}\.{0,4}|(?:dotted +)?(?:half|minim|quarter|crotchet|eighth|quaver)(?: +note)?)`;
/** "1-16 4/4", "bars 1 to 16 in 3+2/8", "16 bars 3/4": bars and a metre that is met with, whatever follows. */
const barsAndMetre =
  /^(?:bars? +)?(?:\d{1,9} *(?:-|\.\.|to(?![a-z])) *\d{1,9}|\d{1,9} +(?:unnumbered +)?bars?)(?: *,| +in)? +(?:\d{1,2} *\+ *)*\d{1,2} *\/ *(?:1|2|4|8|16|32|64)(?![\d/.])/i;
/** The same of any size, so that "16-1 4/4" and "1-16 0/4" are plans with a mistake, while "2-1" is a result. */
const barsOfAnySize =
  /^(?:bars? +)?\d{1,40} *(?:(?:-|\.\.|to(?![a-z])) *\d{1,40}|(?:unnumbered +)?bars?)(?: *,| +in)? +(?:\d[\d+ ]*\/ *\d|(?:c|cut|free)(?![a-z.]))/i;
/** "tempo 1/4=92", "pickup 1/8", "old 1/4 = new 1/8": a word of the plan and a note value, whatever follows. */
const wordAndValue = new RegExp(
  String.raw`^(?:(?:pick-?up|upbeat|anacrusis) +${value}(?![a-z\d/])|(?:tempo:?|old) +${value} *=)`,
  'i',
);

/** What a statement says of the text that it stands in. */
const weigh = (raw: RawStatement): 'plan' | 'begins' | 'fits' | 'other' => {
  const plain = plainText(raw.text);
  const begins = barsAndMetre.test(plain) || wordAndValue.test(plain);
  try {
    const lays = parseStatement(raw).some(
      (statement) =>
        statement.kind === 'pickup' ||
        (statement.kind === 'bars' && (statement.metre !== null || statement.repeat !== null)),
    );
    return lays ? 'plan' : begins ? 'begins' : 'fits';
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const mistaken = barsOfAnySize.test(plain) || /^(?:pick-?up|upbeat|anacrusis) +\d+\//i.test(plain);
    if (mistaken && planMistakes.has(error.problem.code)) return 'plan';
    return begins ? 'begins' : 'other';
  }
};

/**
 * Whether a text is a bar plan, judged by its content: it begins like no other format, and among its first 200 statements
 * one lays down bars or a pickup; or one begins as only a plan does ("1-16 4/4 ...", "tempo 1/4=..."), and at least half
 * of them are of a plan. A plan with a mistake elsewhere is still one, so that its error is told.
 */
export const looksLikeBarPlan = (text: string): boolean => {
  const start = text.slice(0, 20_000);
  if (unsaid.test(start) || /^\s*(?:<|\{|!!|\*\*|X:|%)/.test(start)) return false;
  const weights = splitStatements(start.replace(/^\ufeff/, ''))
    .slice(0, 200)
    .map(weigh);
  if (weights.includes('plan')) return true;
  return weights.includes('begins') && 2 * weights.filter((one) => one !== 'other').length >= weights.length;
};
