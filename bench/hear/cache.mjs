/** Where rendered sound lies: beside the installed packages, or in the system's temporary folder. Never in the tree. */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../..', import.meta.url));
const here = fileURLToPath(new URL('.', import.meta.url));

const modules = path.join(root, 'node_modules');
export const cache = existsSync(modules)
  ? path.join(modules, '.cache', 'levare-hear')
  : path.join(os.tmpdir(), 'levare-hear');

export const folder = (...names) => {
  const made = path.join(cache, ...names);
  mkdirSync(made, { recursive: true });
  return made;
};

/** Sixteen hexadecimal digits of SHA-256 over texts and bytes. */
export const digest = (...things) => {
  const sum = createHash('sha256');
  for (const thing of things) sum.update(thing).update('\0');
  return sum.digest('hex').slice(0, 16);
};

/** Digest of some of the bench's own files, so that a changed generator never meets old sound. */
export const digestOf = (names) => digest(...names.map((name) => readFileSync(path.join(here, name))));

/** Digest of a built folder's programs; says "none" where it was not built. */
export const digestOfBuild = (...names) =>
  digest(
    ...names.flatMap((name) => {
      const at = path.join(root, 'dist', name);
      if (!existsSync(at)) return ['none'];
      return readdirSync(at, { recursive: true })
        .filter((file) => file.endsWith('.js'))
        .sort()
        .map((file) => readFileSync(path.join(at, file)));
    }),
  );
