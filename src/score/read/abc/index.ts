import { fail, type Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';

export const looksLikeAbc = (text: string): boolean =>
  /^X:\s*\d/m.test(text.slice(0, 100_000)) && /^K:/m.test(text.slice(0, 100_000));

export const readAbc = (text: string): Result<Score> =>
  fail('not-a-score', `This format (abc, ${text.length} characters) is not read yet.`);
