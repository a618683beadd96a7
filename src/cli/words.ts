/** Small things in words, the same wherever they are printed. */
import { valueText, type LookTempo } from '../desk/index.ts';
import { beats, F, type Problem } from '../units/index.ts';

/** Texts from files must not steer the terminal: control characters become blanks. */
export const tame = (text: string): string => text.replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ');

/** "1 bar", "3 bars". */
export const counted = (count: number, one: string, several = `${one}s`): string =>
  `${count} ${count === 1 ? one : several}`;

/** "A", "A and B", "A, B and C". */
export const joined = (items: readonly string[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1) ?? ''}`;

/** "8.5 s", "2 min 5 s", "1 h 0 min 12 s". */
export const lasting = (seconds: number): string => {
  if (seconds < 59.95) return `${Number(seconds.toFixed(1))} s`;
  const whole = Math.round(seconds);
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor((whole % 3600) / 60);
  return `${hours > 0 ? `${hours} h ` : ''}${minutes} min ${whole % 60} s`;
};

/** "1/4.=60", as it is typed. */
export const tempoText = ({ unit, perMinute }: Pick<LookTempo, 'unit' | 'perMinute'>): string => {
  const value = F.parse(unit);
  return `${value === null ? unit : valueText(beats(value))}=${Number(perMinute.toFixed(2))}`;
};

/** "880 bytes", "61 kB", "3.4 MB". */
export const sizeText = (bytes: number): string => {
  if (bytes < 1000) return `${bytes} bytes`;
  if (bytes < 999_500) return `${Math.round(bytes / 1000)} kB`;
  return bytes < 999_500_000 ? `${(bytes / 1e6).toFixed(1)} MB` : `${(bytes / 1e9).toFixed(2)} GB`;
};

/** Words, broken into lines of at most `width` characters, later lines set in by `indent`. */
export const wrapped = (text: string, indent: number, width = 96): string => {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const room = width - (lines.length === 0 ? 0 : indent);
    if (line !== '' && line.length + 1 + word.length > room) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].join(`\n${' '.repeat(indent)}`);
};

/** Where a problem lies, with a colon, or nothing; a bar that the message itself names is not said twice. */
export const placeText = ({ line, column, bar, part, message }: Problem): string => {
  const places = [
    ...(line === undefined ? [] : [`line ${line}`]),
    ...(column === undefined ? [] : [`column ${column}`]),
    ...(bar === undefined || bar === '' || message.includes(`bar ${bar}`) ? [] : [`bar ${bar}`]),
    ...(part === undefined ? [] : [part]),
  ];
  return places.length === 0 ? '' : `${places.join(', ')}: `;
};

const severities: Readonly<Record<Problem['severity'], string>> = {
  error: 'wrong',
  repair: 'mended',
  assumption: 'assumed',
  note: 'note',
};

/** Most bars that are named one by one. */
const mostNamed = 8;

/** What a file holds and a score does not is told in one line, each thing once with the parts that have it. */
const notKeptLine = (problems: readonly Problem[]): readonly string[] => {
  const things = new Map<string, Set<string>>();
  for (const { message, part } of problems) {
    const thing = message
      .replace(/^The /, '')
      .replace(/ is not kept \(.*$/, '')
      .replace(/^[A-Z]/, (letter) => letter.toLowerCase());
    const parts = things.get(thing) ?? new Set();
    if (part !== undefined) parts.add(part);
    things.set(thing, parts);
  }
  const told = [...things].map(([thing, parts]) =>
    parts.size === 0 ? thing : `${thing} (${[...parts].join(', ')})`,
  );
  return told.length === 0 ? [] : [`note: in the file but not kept: ${told.join('; ')}`];
};

/**
 * One line for each thing that is to be said. What is said of several bars is said once, and the bars are named.
 */
export const problemLines = (problems: readonly Problem[]): readonly string[] => {
  const groups = new Map<string, Problem[]>();
  for (const problem of problems) {
    const { code, severity, message, part, line } = problem;
    if (code === 'not-kept') continue;
    const key = JSON.stringify([severity, message, part, line]);
    groups.set(key, [...(groups.get(key) ?? []), problem]);
  }
  const lines = [...groups.values()].flatMap((group): string[] => {
    const [first] = group;
    if (first === undefined) return [];
    const bars = [...new Set(group.flatMap(({ bar }) => (bar === undefined || bar === '' ? [] : [bar])))];
    const rest = bars.length > mostNamed ? ` and ${bars.length - mostNamed} more` : '';
    const place =
      bars.length > 1
        ? `bars ${bars.slice(0, mostNamed).join(', ')}${rest}${first.part === undefined ? '' : `, ${first.part}`}: `
        : placeText(first);
    return [`${severities[first.severity]}: ${place}${first.message}`];
  });
  return [...lines, ...notKeptLine(problems.filter(({ code }) => code === 'not-kept'))];
};
