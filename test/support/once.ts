/** Before all test files of a run: a place for what they share. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { TestProject } from 'vitest/node';

declare module 'vitest' {
  interface ProvidedContext {
    /** A folder in which the app is built when the first test asks for it. */
    readonly builtApp: string;
  }
}

export default (project: TestProject): (() => void) => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-built-'));
  project.provide('builtApp', folder);
  return () => rmSync(folder, { recursive: true, force: true });
};
