/** The thread that writes takes while they are recorded, and keeps their sounds. The page may hang; it goes on. */
import { notesState, shelvedLine, endLine } from '../../../desk/takes/notes.ts';
import { rateIn, samplesIn, takeHeaderSize } from '../../../desk/takes/sound.ts';
import { fail, ok, type Result } from '../../../units/index.ts';
import { answering } from '../calls.ts';
import type { Broke, KeptSound, SoundCalls } from './calls.ts';
import { fileIn, isNotes, notesOf, soundFolder } from './folder.ts';
import type { ToDisk } from './tapMessages.ts';
import { mended, TakeWriter } from './writer.ts';

/** Milliseconds to wait for the last samples: the audio thread may have gone. */
const patience = 1000;

/** Bytes of a file that are copied at once. */
const copied = 4 * 1024 * 1024;

interface Recording {
  readonly writer: TakeWriter;
  /** Comes true when the last sample is written. */
  readonly last: Promise<void>;
  broken: boolean;
}
let recording: Recording | null = null;

const nameOf = (error: unknown): string => (error instanceof Error ? error.name : '');

const refused = (error: unknown): Result<never> =>
  nameOf(error) === 'QuotaExceededError'
    ? fail(
        'take-no-room',
        'There is no room left for sound on this device. What was recorded up to here is kept.',
      )
    : fail(
        'take-disk',
        `This browser does not let a recording be kept here (${nameOf(error)}). A private window, or one that is too old?`,
      );

const attempt = async <T>(work: () => Promise<T>): Promise<Result<T>> => {
  try {
    return ok(await work());
  } catch (error) {
    return refused(error);
  }
};

const opened = async (name: string): Promise<FileSystemSyncAccessHandle> => {
  const folder = await soundFolder();
  return (await folder.getFileHandle(name, { create: true })).createSyncAccessHandle();
};

const tellBroke = (error: unknown): void => {
  const news: Broke = { broke: nameOf(error) === 'QuotaExceededError' ? 'no-room' : 'take-disk' };
  postMessage(news);
};

const begin = async (file: string, rate: number, head: string, port: MessagePort): Promise<null> => {
  recording?.writer.end('stopped');
  const sound = await opened(file);
  const notes = await opened(notesOf(file)).catch((error: unknown) => {
    sound.close();
    throw error;
  });
  let writer: TakeWriter;
  try {
    writer = new TakeWriter(sound, notes, rate, head);
  } catch (error) {
    sound.close();
    notes.close();
    await removeFiles([file]);
    throw error;
  }
  const now: Recording = {
    writer,
    broken: false,
    last: new Promise((resolve) => {
      port.onmessage = ({ data }: MessageEvent<ToDisk>) => {
        if (data.kind === 'end') {
          port.close();
          resolve();
          return;
        }
        if (now.broken) return;
        try {
          writer.write(data.samples);
        } catch (error) {
          now.broken = true;
          tellBroke(error);
        }
      };
    }),
  };
  recording = now;
  return null;
};

const addLine = async (file: string, line: string): Promise<void> => {
  const notes = await opened(notesOf(file));
  try {
    notes.write(new TextEncoder().encode(`${line}\n`), { at: notes.getSize() });
    notes.flush();
  } finally {
    notes.close();
  }
};

/** Ends a take in order that was cut off; null where another window is recording it. */
const mend = async (file: string): Promise<number | null> => {
  let sound: FileSystemSyncAccessHandle;
  try {
    sound = await opened(file);
  } catch {
    return null;
  }
  try {
    const header = new Uint8Array(takeHeaderSize);
    sound.read(header, { at: 0 });
    const rate = rateIn(header);
    const samples = rate === 0 ? 0 : mended(sound, rate);
    await addLine(file, `\n${endLine('cut-off', samples)}`);
    return samples;
  } finally {
    sound.close();
  }
};

const look = async (name: string): Promise<readonly KeptSound[]> => {
  const before = await (await fileIn(notesOf(name)))?.text();
  const cut = before !== undefined && !notesState(before).ended;
  if (cut && (await mend(name)) === null) return [];
  const file = await fileIn(name);
  if (file === null) return [];
  const about = { file: name, bytes: file.size, changed: file.lastModified };
  if (before === undefined) return [{ ...about, notes: null, rate: 0, samples: 0 }];
  const notes = (await (await fileIn(notesOf(name)))?.text()) ?? before;
  const header = new Uint8Array(await file.slice(0, takeHeaderSize).arrayBuffer());
  return [{ ...about, notes, rate: rateIn(header), samples: samplesIn(file.size) }];
};

const list = async (): Promise<readonly KeptSound[]> => {
  const found: KeptSound[] = [];
  const names: string[] = [];
  for await (const { name } of (await soundFolder()).values()) if (!isNotes(name)) names.push(name);
  for (const name of names.sort()) found.push(...(await look(name)));
  return found;
};

const removeFiles = async (files: readonly string[]): Promise<null> => {
  const folder = await soundFolder();
  for (const name of files.flatMap((file) => [file, notesOf(file)]))
    await folder.removeEntry(name).catch((error: unknown) => {
      if (nameOf(error) !== 'NotFoundError') throw error;
    });
  return null;
};

/** Piece by piece, so that the memory stays as it is; all of it or nothing. */
const bring = async (file: string, from: Blob): Promise<number> => {
  const to = await opened(file);
  try {
    for (let at = 0; at < from.size; at += copied) {
      const bytes = new Uint8Array(await from.slice(at, at + copied).arrayBuffer());
      if (to.write(bytes, { at }) < bytes.length)
        throw new DOMException('Too little room.', 'QuotaExceededError');
    }
    to.flush();
  } catch (error) {
    to.close();
    await removeFiles([file]);
    throw error;
  }
  to.close();
  return from.size;
};

answering<SoundCalls>({
  begin: ({ file, rate, head, port }) => attempt(() => begin(file, rate, head, port)),
  note: (line) =>
    attempt(async () => {
      await Promise.resolve();
      recording?.writer.note(line);
      return null;
    }),
  end: async (why) => {
    const now = recording;
    if (now === null) return ok(0);
    if (!now.broken) await Promise.race([now.last, new Promise((resolve) => setTimeout(resolve, patience))]);
    const samples = now.writer.end(why);
    if (recording === now) recording = null;
    return ok(samples);
  },
  list: () => attempt(list),
  bring: ({ file, from }) => attempt(() => bring(file, from)),
  shelved: (files) =>
    attempt(async () => {
      for (const file of files) await addLine(file, shelvedLine);
      return null;
    }),
  remove: (files) => attempt(() => removeFiles(files)),
});
