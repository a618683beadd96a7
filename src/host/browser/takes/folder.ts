/** Where the sounds of takes lie: in the browser's own storage for this page (origin-private file system), and nowhere else. */
const name = 'takes';

export const soundFolder = async (): Promise<FileSystemDirectoryHandle> =>
  (await navigator.storage.getDirectory()).getDirectoryHandle(name, { create: true });

/** Whether there is such a folder: who has never recorded has none. */
export const anySounds = async (): Promise<boolean> => {
  try {
    await (await navigator.storage.getDirectory()).getDirectoryHandle(name);
    return true;
  } catch {
    return false;
  }
};

/** Name of the notes beside a take's sound. */
export const notesOf = (file: string): string => `${file}.notes`;

export const isNotes = (name: string): boolean => name.endsWith('.notes');

/** A file by name; null where it is not there. Read from the disk as it is needed. */
export const fileIn = async (name: string): Promise<File | null> => {
  try {
    return await (await (await soundFolder()).getFileHandle(name)).getFile();
  } catch {
    return null;
  }
};
