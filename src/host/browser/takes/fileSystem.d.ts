/** Of the File System Standard (WHATWG), what TypeScript's DOM library leaves to its library for workers. */
interface FileSystemSyncAccessHandle {
  readonly write: (bytes: Uint8Array<ArrayBuffer>, options: { readonly at: number }) => number;
  readonly read: (bytes: Uint8Array<ArrayBuffer>, options: { readonly at: number }) => number;
  readonly truncate: (size: number) => void;
  readonly getSize: () => number;
  readonly flush: () => void;
  readonly close: () => void;
}
interface FileSystemFileHandle {
  readonly createSyncAccessHandle: () => Promise<FileSystemSyncAccessHandle>;
}
interface FileSystemDirectoryHandle {
  readonly values: () => AsyncIterableIterator<FileSystemHandle>;
}
