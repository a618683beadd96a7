/** What the files of a reading are called: by the take's name or day, and its bars. */
import type { Take } from '../../desk/index.ts';

export const calledOf = ({ name, begun, asked }: Take): string =>
  `${name || begun.slice(0, 10)} ${asked['from'] ?? ''}-${asked['to'] ?? ''}`;
