/** The command line run inside the test with all that makes pages; what it wrote goes when the tests of the file are done. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Readable } from 'node:stream';
import { afterAll } from 'vitest';
import { main } from '../../src/cli/main.ts';
import {
  nodeEngraver,
  nodePdf,
  nodeReader,
  nodeSounds,
  nodeWords,
  nodeWriter,
} from '../../src/host/node/index.ts';

export interface LevarePages {
  /** Where folders can be made. */
  readonly folder: string;
  /** Runs "levare" with these arguments; what it says is caught. */
  readonly levare: (
    ...args: readonly string[]
  ) => Promise<{ readonly code: number; readonly out: string; readonly err: string }>;
}

/** One engraver and one folder for a file of tests: called once, outside its tests. */
export const levarePages = (): LevarePages => {
  const folder = mkdtempSync(path.join(tmpdir(), 'levare-pages-'));
  const engraver = nodeEngraver();
  afterAll(async () => {
    await engraver.close();
    rmSync(folder, { recursive: true, force: true });
  });
  const levare: LevarePages['levare'] = async (...args) => {
    let [out, err] = ['', ''];
    const code = await main(args, {
      stdout: { write: (text) => (out += text) },
      stderr: { isTTY: false, write: (text) => (err += text) },
      reader: nodeReader(Readable.from([])),
      writer: nodeWriter,
      words: nodeWords,
      sounds: nodeSounds,
      sheets: { engraver, pdf: nodePdf },
    });
    return { code, out, err };
  };
  return { folder, levare };
};
