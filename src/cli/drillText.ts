/** A made drill in a few lines. */
import type { Made } from '../desk/index.ts';
import type { Problem } from '../units/index.ts';
import { counted, joined, lasting, problemLines, sizeText, tempoText, wrapped } from './words.ts';

const purposes: Readonly<Record<string, string>> = {
  'score.pdf': 'the pages for the stand, all parts',
  'click.wav': 'the clicks, to play along with',
  'parts.wav': 'the parts, sounded',
  'full.wav': 'count, clicks and parts together',
  'drill.mid': 'clicks, tempo and notes as MIDI',
  'drill.musicxml': 'the notes of the passage, to print or to open elsewhere',
  'drill.json': 'this drill; levare drill makes it again from here (say pitch, words and paper anew)',
  'timeline.json': 'every click and note with its time',
  'markings.json': 'your own markings, which stand in the pages',
};

const tempoLine = ({ tempi, tempoChanges }: Made): string => {
  const [first, ...later] = tempi.map(tempoText);
  const steps = later.map((text) => `then ${text.split('=')[1] ?? text}`);
  return `Tempo ${[first ?? '', ...steps].join(', ')}${tempoChanges ? ', changing within the passage' : ''}.`;
};

const timesText = (times: number): string =>
  times === 1 ? 'once' : times === 2 ? 'twice' : `${times} times`;

const passageLine = (made: Made): string => {
  const { asked, parts, upbeat, repetitions, bars, tempi } = made;
  const what = asked === 'all' ? 'all bars' : `${/[-@A-Za-z]/.test(asked) ? 'bars' : 'bar'} ${asked}`;
  const who = parts.length === 0 ? '' : ` for ${joined(parts)}`;
  const lead = upbeat === null ? '' : ` and an upbeat of ${upbeat}`;
  const full = upbeat === null ? bars.length : bars.length - 1;
  const often = timesText(repetitions / tempi.length);
  const each = tempi.length === 1 ? '' : ` at each of ${tempi.length} tempi`;
  return `${what.charAt(0).toUpperCase()}${what.slice(1)}${who}: ${counted(full, 'bar')}${lead}, ${often}${each}.`;
};

const clickLine = ({ clicks, countIn, duration, notes, kept }: Made): string => {
  const words = countIn.length === 0 ? 'No count-in' : `Count-in: ${countIn.join(', ')}`;
  const line = notes === kept ? '' : ` ${kept} of ${counted(notes, 'note')} stay, the others are rests.`;
  return `${words}. ${counted(clicks, 'click')}; ${lasting(duration)} in all.${line}`;
};

const purposeOf = (name: string): string =>
  purposes[name] ?? (/^part-.*\.pdf$/.test(name) ? 'the page of one player' : 'the score itself');

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
      ({ name }, i) => `  ${name.padEnd(width)}  ${(sizes[i] ?? '').padStart(sizeWidth)}  ${purposeOf(name)}`,
    ),
  ];
};

/** Whether what was found in reading the score touches this drill: it is no mere note, and not about other bars. */
const concerns = ({ severity, bar }: Problem, bars: ReadonlySet<string>): boolean =>
  severity !== 'note' && (bar === undefined || bar === '' || bars.has(bar));

/**
 * What is to be said beside a drill, for standard error. Of what was found in reading the score only that which touches
 * the passage; a last line counts the rest, which a look at the score and --json tell in full.
 */
export const problemText = (
  problems: readonly Problem[],
  fromScore: readonly Problem[],
  bars: readonly string[],
): readonly string[] => {
  const reading = new Set(fromScore);
  const played = new Set(bars);
  const said = problems.filter((problem) => !reading.has(problem) || concerns(problem, played));
  const lines = problemLines(said);
  const told = problemLines(problems).length;
  const rest = told - lines.length;
  if (rest <= 0) return lines;
  return [...lines, `${counted(rest, 'remark')} on the score not repeated here: see levare look`];
};
