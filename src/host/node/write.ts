/** Writing a folder of files on Node so that nothing is ever half-written. */
import { rmSync } from 'node:fs';
import { lstat, mkdir, mkdtemp, open, rename, rm, rmdir } from 'node:fs/promises';
import path from 'node:path';
import type { FileToWrite, Progress, WritePort, WrittenFile } from '../../desk/index.ts';
import { fail, ok, type Result } from '../../units/index.ts';
import { causeOf, codeOf, isSystemError } from './cause.ts';

/** What stands at a path; null for nothing. */
const standing = async (name: string): Promise<'folder' | 'other' | null> => {
  try {
    const info = await lstat(name);
    return info.isDirectory() ? 'folder' : 'other';
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return null;
    throw error;
  }
};

const writeFile = async (to: string, file: FileToWrite, progress: Progress | undefined): Promise<number> => {
  const handle = await open(to, 'wx');
  let done = 0;
  try {
    for (const chunk of file.chunks) {
      for (let at = 0; at < chunk.length;) {
        const { bytesWritten } = await handle.write(chunk, at, chunk.length - at);
        at += bytesWritten;
      }
      done += chunk.length;
      progress?.(file.name, done, file.size);
    }
  } finally {
    await handle.close();
  }
  return done;
};

/** A file moved into place, and where the one that it replaced waits. */
interface Move {
  readonly to: string;
  readonly kept: string | null;
}

/** Moves the finished files into a folder that is there; where one move fails, those before it are taken back. */
const moveIn = async (
  names: readonly string[],
  from: string,
  kept: string,
  folder: string,
): Promise<void> => {
  const moved: Move[] = [];
  try {
    await mkdir(kept);
    for (const name of names) {
      const to = path.join(folder, name);
      const found = await standing(to);
      if (found === 'folder') throw Object.assign(new Error(to), { code: 'EISDIR' });
      const aside = found === null ? null : path.join(kept, name);
      if (aside !== null) await rename(to, aside);
      moved.push({ to, kept: aside });
      await rename(path.join(from, name), to);
    }
  } catch (error) {
    for (const { to, kept: aside } of moved.reverse()) {
      await rm(to, { force: true });
      if (aside !== null) await rename(aside, to);
    }
    throw error;
  }
};

/** Removes folders that were made on the way, from the innermost up, as long as they are empty. */
const unmake = async (innermost: string, outermost: string | undefined): Promise<void> => {
  if (outermost === undefined) return;
  for (let folder = innermost; folder.startsWith(outermost); folder = path.dirname(folder)) {
    try {
      await rmdir(folder);
    } catch {
      return;
    }
  }
};

/** Runs `work` with a folder of its own inside `parent`, which is gone afterwards, also when the user breaks off. */
const withWorkshop = async <T>(parent: string, work: (folder: string) => Promise<T>): Promise<T> => {
  const folder = await mkdtemp(path.join(parent, '.levare-'));
  const clear = () => rmSync(folder, { recursive: true, force: true });
  const breakOff = () => process.exit(130);
  process.once('exit', clear);
  process.once('SIGINT', breakOff);
  process.once('SIGTERM', breakOff);
  process.once('SIGHUP', breakOff);
  try {
    return await work(folder);
  } finally {
    process.off('exit', clear);
    process.off('SIGINT', breakOff);
    process.off('SIGTERM', breakOff);
    process.off('SIGHUP', breakOff);
    await rm(folder, { recursive: true, force: true });
  }
};

const writeAll = async (
  folder: string,
  files: readonly FileToWrite[],
  progress: Progress | undefined,
): Promise<readonly WrittenFile[]> => {
  const there = await standing(folder);
  const whole = path.resolve(folder);
  const parent = path.dirname(whole);
  const made = there === null ? await mkdir(parent, { recursive: true }) : undefined;
  try {
    // The workshop stands on the same disk as the goal, so that moving is at once.
    return await withWorkshop(there === null ? parent : whole, async (workshop) => {
      const fresh = path.join(workshop, 'new');
      await mkdir(fresh);
      const written: WrittenFile[] = [];
      for (const file of files) {
        written.push({
          name: file.name,
          bytes: await writeFile(path.join(fresh, file.name), file, progress),
        });
      }
      if (there === null) await rename(fresh, whole);
      else {
        const names = files.map(({ name }) => name);
        await moveIn(names, fresh, path.join(workshop, 'old'), whole);
      }
      return written;
    });
  } catch (error) {
    await unmake(parent, made);
    throw error;
  }
};

/** Folders on this machine. */
export const nodeWriter: WritePort = {
  writeFolder: async (folder, files, progress): Promise<Result<readonly WrittenFile[]>> => {
    try {
      return ok(await writeAll(folder, files, progress));
    } catch (error) {
      // A defect in what makes the bytes is none of the disk's business.
      if (!isSystemError(error)) throw error;
      return fail('cannot-write', `Nothing was written to ${folder}: ${causeOf(error)}.`);
    }
  },
};
