import { fail, type Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';

export const looksLikeKern = (text: string): boolean => /^\*\*kern/m.test(text.slice(0, 100_000));

export const readKern = (text: string): Result<Score> =>
  fail('not-a-score', `This format (kern, ${text.length} characters) is not read yet.`);
