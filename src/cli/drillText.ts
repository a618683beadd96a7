/** A made drill in a few lines. */
import type { Made } from '../desk/index.ts';
import { counted, joined, lasting, problemLines, sizeText, tempoText, wrapped } from './words.ts';

const purposes: Readonly<Record<string, string>> = {
  'click.wav': 'the clicks, to play along with',
  'drill.mid': 'clicks, tempo and notes as MIDI',
  'drill.musicxml': 'the notes on paper, for any notation program',
  'drill.json': 'this drill; levare drill makes it again from here',
  'timeline.json': 'every click and note with its time',
};

const tempoLine = ({ tempi, tempoChanges }: Made): string => {
  const [first, ...later] = tempi.map(tempoText);
  const steps = later.map((text) => `then ${text.split('=')[1] ?? text}`);
  return `Tempo ${[first ?? '', ...steps].join(', ')}${tempoChanges ? ', changing within the passage' : ''}.`;
};

const passageLine = (made: Made): string => {
  const { asked, parts, upbeat, repetitions, bars } = made;
  const what = asked === 'all' ? 'all bars' : `${/[-@A-Za-z]/.test(asked) ? 'bars' : 'bar'} ${asked}`;
  const who = parts.length === 0 ? '' : ` for ${joined(parts)}`;
  const lead = upbeat === null ? '' : ` and an upbeat of ${upbeat}`;
  const full = upbeat === null ? bars.length : bars.length - 1;
  const often = repetitions === 1 ? 'once' : repetitions === 2 ? 'twice' : `${repetitions} times`;
  return `${what.charAt(0).toUpperCase()}${what.slice(1)}${who}: ${counted(full, 'bar')}${lead}, ${often}.`;
};

const clickLine = ({ clicks, countIn, duration, notes, kept }: Made): string => {
  const words = countIn.length === 0 ? 'No count-in' : `Count-in: ${countIn.join(' ')}`;
  const line = notes === kept ? '' : ` ${kept} of ${counted(notes, 'note')} stay, the others are rests.`;
  return `${words}. ${counted(clicks, 'click')}; ${lasting(duration)} in all.${line}`;
};

/** What stands on standard output once the files are there. */
export const madeText = (made: Made): readonly string[] => {
  const width = made.files.reduce((most, { name }) => Math.max(most, name.length), 0);
  const sizes = made.files.map(({ bytes }) => sizeText(bytes));
  const sizeWidth = sizes.reduce((most, size) => Math.max(most, size.length), 0);
  return [
    made.title === '' ? 'Without a title' : made.title,
    wrapped(passageLine(made), 0),
    wrapped(tempoLine(made), 0),
    wrapped(clickLine(made), 0),
    '',
    `In ${made.folder}:`,
    ...made.files.map(
      ({ name }, i) =>
        `  ${name.padEnd(width)}  ${(sizes[i] ?? '').padStart(sizeWidth)}  ${purposes[name] ?? 'the score itself'}`,
    ),
  ];
};

/** Most lines of problems beside a drill. */
const mostLines = 12;

/** Problems beside a drill, for standard error; the rest is in a look at the score. */
export const problemText = (
  problems: readonly Parameters<typeof problemLines>[0][number][],
): readonly string[] => {
  const lines = problemLines(problems);
  const rest = lines.length - mostLines;
  return rest <= 1
    ? lines
    : [...lines.slice(0, mostLines), `... and ${rest} more of the kind: --json lists them all`];
};
