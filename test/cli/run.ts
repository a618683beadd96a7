/** The command line run inside the test, with its streams caught. */
import { Readable } from 'node:stream';
import { main } from '../../src/cli/main.ts';
import { nodeReader, nodeSounds, nodeWords, nodeWriter } from '../../src/host/node/index.ts';

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs "levare" with these arguments; `input` is what standard input holds. */
export const levare = async (args: readonly string[], input = ''): Promise<Ran> => {
  let [out, err] = ['', ''];
  const code = await main(args, {
    stdout: { write: (text) => (out += text) },
    stderr: { isTTY: false, write: (text) => (err += text) },
    reader: nodeReader(Readable.from([Buffer.from(input)])),
    writer: nodeWriter,
    words: nodeWords,
    sounds: nodeSounds,
    // Pages take their time; they have tests of their own.
    sheets: null,
  });
  return { code, out, err };
};
