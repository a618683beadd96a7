import type { Server } from 'node:http';

/** Serves the files of a folder: GET and HEAD, to this machine alone. */
export declare const staticServer: (folder: string) => Server;

/** Listens on 127.0.0.1; the port that was free, from `port` on (0: any), trying `tries` more. */
export declare const listening: (server: Server, port: number, tries: number) => Promise<number>;
