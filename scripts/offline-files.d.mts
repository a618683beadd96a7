import type { Plugin } from 'vite';

/** Name of the file of the thread that keeps the app offline. */
export declare const keeper: string;
/** A step of the build: `folder` holds the files that are copied as they are. */
export declare const offlineFiles: (folder: string) => Plugin;
