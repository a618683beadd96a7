/** Files of this device: those that the user picks or drops, and those that are saved. Nothing goes anywhere else. */
import { fail, ok, type Result } from '../../units/index.ts';

/** Larger files are refused before they fill the memory: 256 MiB, as on the command line. */
const largest = 256 * 1024 * 1024;

/** The bytes of a file. Errors: `file-too-large`, `file-unreadable`. */
export const pickedFile = async (file: File): Promise<Result<Uint8Array<ArrayBuffer>>> => {
  if (file.size > largest) {
    return fail('file-too-large', `${file.name} is larger than 256 MiB: that is no score.`);
  }
  try {
    return ok(new Uint8Array(await file.arrayBuffer()));
  } catch {
    return fail('file-unreadable', `${file.name} cannot be read. A folder, or a file that has gone?`);
  }
};

/** Hands a file to the browser to keep, where downloads go. */
export const savedFile = (name: string, bytes: Uint8Array<ArrayBuffer> | Blob): void => {
  const url = URL.createObjectURL(bytes instanceof Blob ? bytes : new Blob([bytes]));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The browser reads the address after the click; a minute is ample.
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
};
