/** The demo piece and, where it is there, the largest shared quartet. */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const quartets = path.join(root, '..', 'shared', 'data', 'scores', 'openscore-quartets');

export const demo = new Uint8Array(readFileSync(path.join(root, 'demo', 'lanterns-on-the-towpath.musicxml')));

/** Bytes of the largest shared quartet; null, with a word, where the shared data is absent. */
export const largestQuartet = () => {
  if (!existsSync(quartets)) {
    console.log('The shared quartets are not beside the project: the demo piece is measured instead.');
    return null;
  }
  const files = readdirSync(quartets)
    .filter((name) => name.endsWith('.mxl'))
    .map((name) => path.join(quartets, name));
  const [largest] = files.toSorted((a, b) => statSync(b).size - statSync(a).size);
  console.log(`Largest shared quartet: ${path.basename(largest)}, ${statSync(largest).size} bytes`);
  return new Uint8Array(readFileSync(largest));
};
