/** Progress on a terminal: one line that is written over, and gone at the end. */
import type { Progress } from '../../desk/index.ts';

/** Standard error, or what stands for it. */
export interface TerminalLike {
  readonly isTTY?: boolean | undefined;
  readonly write: (text: string) => unknown;
}

export interface TerminalProgress {
  readonly tell: Progress;
  /** Wipes the line. */
  readonly done: () => void;
}

/** Short work is not worth a line: milliseconds. */
const patience = 300;

const wipe = '\r\u001b[2K';

/** Tells progress on a terminal, and nothing in a pipe. `now` in milliseconds. */
export const terminalProgress = (
  terminal: TerminalLike,
  now: () => number = () => performance.now(),
): TerminalProgress => {
  if (terminal.isTTY !== true) return { tell: () => undefined, done: () => undefined };
  const begun = now();
  let shown = '';
  return {
    tell: (name, done, size) => {
      const share = size === null || size === 0 ? '' : ` ${Math.min(100, Math.floor((100 * done) / size))} %`;
      const line = `writing ${name}${share}`;
      if (line === shown || now() - begun < patience) return;
      shown = line;
      terminal.write(`${wipe}${line}`);
    },
    done: () => {
      if (shown !== '') terminal.write(wipe);
    },
  };
};
