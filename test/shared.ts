/** Where the shared test data lies, beside the project; null, with one line said, where it is absent. */
import { existsSync } from 'node:fs';
import path from 'node:path';

const folder = path.resolve('..', 'shared', 'data');

export const sharedData: string | null = existsSync(folder) ? folder : null;

if (sharedData === null)
  console.log('The shared test data is not beside the project: tests on it are skipped.');
