import { fail, type Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';

export const readMei = (text: string): Result<Score> =>
  fail('not-a-score', `This format (mei, ${text.length} characters) is not read yet.`);
