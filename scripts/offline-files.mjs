/**
 * Tells the thread that keeps the app offline what there is to keep: every file of the build but old-style fonts that are none
 * of the PDF maker's, which no browser with that thread asks for. Its own file stands beside index.html under a fixed name, so that it may answer for all.
 */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';

/** Name of the thread's file. */
export const keeper = 'offline.js';

const notKept = (file) =>
  file.endsWith('.map') || (file.endsWith('.woff') && !/^assets\/(tinos|noto-music)-/.test(file));

const bytesOf = (item) => (item.type === 'chunk' ? item.code : item.source);

/** Files that are copied as they are: name and bytes. */
const publicFiles = (folder) =>
  readdirSync(folder).map((name) => [name, readFileSync(path.join(folder, name))]);

/** `folder`: of the files that are copied as they are. */
export const offlineFiles = (folder) => ({
  name: 'levare-offline',
  apply: 'build',
  enforce: 'post',
  generateBundle: (_options, bundle) => {
    const own = bundle[keeper];
    const made = Object.values(bundle)
      .filter(({ fileName }) => fileName !== keeper && !notKept(fileName))
      .map((item) => [item.fileName, bytesOf(item)]);
    const files = [...made, ...publicFiles(folder)].sort(([a], [b]) => (a < b ? -1 : 1));
    const digest = createHash('sha256').update(own.code);
    for (const [name, bytes] of files) digest.update(name).update(bytes);
    const list = files.map(([name]) => name).join('\\n');
    own.code = own.code.replace('%BUILD%', digest.digest('hex').slice(0, 16)).replace('%FILES%', () => list);
  },
});
