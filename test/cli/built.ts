/** The program as it is installed: built into a folder of its own, so that a test needs no build before it. */
import { execFileSync } from 'node:child_process';
import { chmodSync, cpSync, existsSync, mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';

/** Builds the program; gives the folder and the path of its `levare`. Remove the folder with `unbuild`. */
export const build = (): { readonly folder: string; readonly program: string } => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-built-'));
  chmodSync(folder, 0o755);
  const compiler = path.resolve('node_modules', 'typescript7', 'bin', 'tsc');
  execFileSync(process.execPath, [
    compiler,
    '-p',
    'tsconfig.build.json',
    // Types are checked by a check of their own.
    '--noCheck',
    '--outDir',
    path.join(folder, 'dist'),
  ]);
  cpSync('bin', path.join(folder, 'bin'), { recursive: true });
  cpSync('package.json', path.join(folder, 'package.json'));
  symlinkSync(path.resolve('assets'), path.join(folder, 'assets'));
  symlinkSync(path.resolve('node_modules'), path.join(folder, 'node_modules'));
  const program = path.join(folder, 'bin', 'levare.js');
  if (!existsSync(path.join(folder, 'dist', 'cli', 'main.js'))) throw new Error('The build gave no program.');
  return { folder, program };
};

export const unbuild = (folder: string): void => {
  rmSync(folder, { recursive: true, force: true });
};
