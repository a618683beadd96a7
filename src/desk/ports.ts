/** What the desk needs from outside: files. Adapters stand in src/host. */
import type { WordSet } from '../sound/words/wordSet.ts';
import type { Result } from '../units/index.ts';

export interface ReadPort {
  /**
   * The bytes of a file. Errors: `file-missing`, `file-is-folder`, `file-unreadable`, `file-too-large`. The text "-"
   * stands for standard input where there is one.
   */
  readonly read: (path: string) => Promise<Result<Uint8Array>>;
  /** False also where nothing is there. */
  readonly isFolder: (path: string) => Promise<boolean>;
  /** The path of a file in a folder. */
  readonly inside: (folder: string, name: string) => string;
  /** The path of a file that stands beside another. */
  readonly beside: (path: string, name: string) => string;
}

/** A file to be written, made while it is written: its bytes are asked for once. */
export interface FileToWrite {
  /** A plain file name. */
  readonly name: string;
  readonly chunks: Iterable<Uint8Array>;
  /** In bytes, give or take a header, to tell progress by; null where it is not known in front. */
  readonly size: number | null;
}

export interface WrittenFile {
  readonly name: string;
  /** Size in bytes. */
  readonly bytes: number;
}

export interface WritePort {
  /**
   * Writes all of the files into a folder, which is made if need be, or none of them; other files there stay as they
   * are. Error: `cannot-write`.
   */
  readonly writeFolder: (
    folder: string,
    files: readonly FileToWrite[],
    progress?: Progress,
  ) => Promise<Result<readonly WrittenFile[]>>;
}

/** Told as a file grows: its name, bytes so far, and bytes in all, roughly, where they are known. */
export type Progress = (name: string, done: number, size: number | null) => void;

/** The spoken count words, one language at a time. */
export interface WordsPort {
  /** Language by its ISO 639-1 code: "en", "de", "nl", "fr", "it", "es". Errors: `words-language`, `words-damaged`. */
  readonly read: (language: string) => Promise<Result<WordSet>>;
}
