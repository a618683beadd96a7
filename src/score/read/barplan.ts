/**
 * The bar plan: for groups that own paper and no file, a line or two of text giving pickup, metres, bar numbers,
 * repeats and tempi. Our own format; its grammar is in docs/formats/bar-plan.md.
 */
import { fail, refusable, Refusal, type Result } from '../../units/index.ts';
import type { Score } from '../model.ts';
import { buildScore } from './barplan/build.ts';
import { splitStatements } from './barplan/cursor.ts';
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

/**
 * Whether a text is a bar plan, judged by its content: among its first 200 statements one lays down bars or a pickup,
 * and it begins like no other format. A plan with a mistake elsewhere is still one, so that its error is told.
 */
export const looksLikeBarPlan = (text: string): boolean => {
  const start = text.slice(0, 20_000);
  if (unsaid.test(start) || /^\s*(?:<|\{|!!|\*\*|X:|%)/.test(start)) return false;
  return splitStatements(start.replace(/^\ufeff/, ''))
    .slice(0, 200)
    .some((raw) => {
      try {
        return parseStatement(raw).some(
          (statement) =>
            statement.kind === 'pickup' ||
            (statement.kind === 'bars' && (statement.metre !== null || statement.repeat !== null)),
        );
      } catch (error) {
        if (error instanceof Refusal) return planMistakes.has(error.problem.code);
        throw error;
      }
    });
};
