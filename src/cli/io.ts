/** What the command line touches: two streams and the files. Tests hand in their own. */
import type { FolderPorts, ReadPort, SoundPort, WritePort } from '../desk/index.ts';
import {
  nodeEngraver,
  nodePdf,
  nodeReader,
  nodeSounds,
  nodeWords,
  nodeWriter,
  type TerminalLike,
} from '../host/node/index.ts';

export interface Io extends FolderPorts {
  readonly stdout: { readonly write: (text: string) => unknown };
  readonly stderr: TerminalLike;
  readonly reader: ReadPort;
  readonly writer: WritePort;
  readonly sounds: SoundPort;
}

/** A reader that has had enough ("| head") closes the pipe: no fault of ours, and nothing to say. */
const patient = (stream: NodeJS.WriteStream): NodeJS.WriteStream => {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') process.exitCode = 2;
  });
  return stream;
};

/** The real streams and files. Call it once. */
export const nodeIo = (): Io => ({
  stdout: patient(process.stdout),
  stderr: patient(process.stderr),
  reader: nodeReader(),
  writer: nodeWriter,
  words: nodeWords,
  sounds: nodeSounds,
  sheets: { engraver: nodeEngraver(), pdf: nodePdf },
});
