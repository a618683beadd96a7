/** The app as it is built, once for all test files of a run: the first that asks builds it, the others wait. */
import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { inject } from 'vitest';

/** Builds the app into a folder. */
const buildApp = (folder: string): void => {
  const vite = path.resolve('node_modules', 'vite', 'bin', 'vite.js');
  execFileSync(
    process.execPath,
    [vite, 'build', '--outDir', folder, '--emptyOutDir', '--logLevel', 'error'],
    {
      env: { ...process.env, NODE_ENV: 'production' },
    },
  );
};

/** Whether this process is the first to ask. */
const first = (lock: string): boolean => {
  try {
    mkdirSync(lock);
    return true;
  } catch {
    return false;
  }
};

/** Puts the built app into a folder; errors: the build's own, and that another test's build failed. */
export const putApp = async (folder: string): Promise<void> => {
  const shared = inject('builtApp');
  const [app, lock, ended] = [
    path.join(shared, 'app'),
    path.join(shared, 'lock'),
    path.join(shared, 'ended'),
  ];
  if (first(lock))
    try {
      buildApp(app);
    } finally {
      writeFileSync(ended, '');
    }
  while (!existsSync(ended)) await pause(50);
  if (!existsSync(path.join(app, 'index.html')))
    throw new Error('The app could not be built: another test says why.');
  cpSync(app, folder, { recursive: true });
};
