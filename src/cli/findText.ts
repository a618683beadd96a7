/** `levare find` in words: a list as a coach would pencil it, weightiest first, small things gathered at the end. */
import {
  valuesText,
  type FindPages,
  type FoundPlaces,
  type PrintedPlace,
  type WrittenFile,
} from '../desk/index.ts';
import { beats, F } from '../units/index.ts';
import { counted, problemLines, wrapped } from './words.ts';

/** Kinds of which a score has very many, each of little weight: told in one line each. */
const small: Readonly<Partial<Record<PrintedPlace['kind'], string>>> = {
  'tie-over-bar': 'One player alone holds over the bar line',
  'upbeat-start': 'A phrase starts with an upbeat of one player',
};

/** Most places that are told one by one unless it is said, and most bars in a line. */
const most = { places: 30, bars: 24, seams: 12 };

const where = ({ from, to }: PrintedPlace): string =>
  from.barIndex === to.barIndex
    ? from.beat === to.beat
      ? `bar ${from.bar}, beat ${from.beat}`
      : `bar ${from.bar}, beat ${from.beat} to ${to.beat}`
    : `bars ${from.bar}-${to.bar}, beat ${from.beat} to ${to.beat}`;

/** "shared line in eighths". */
const kindText = ({ kind, value }: PrintedPlace): string => {
  const length = value === null ? null : F.parse(value);
  return `${kind.replace(/-/g, ' ')}${length === null ? '' : ` in ${valuesText(beats(length))}`}`;
};

const seamsLine = ({ kind, seams }: PrintedPlace): readonly string[] => {
  if (seams.length === 0) return [];
  const told = seams.slice(0, most.seams).map(({ bar, beat, to }) => `${bar}:${beat} ${to}`);
  const rest = seams.length > most.seams ? `, and ${seams.length - most.seams} more` : '';
  return [`    ${kind === 'shared-line' ? 'takes over' : 'enters'}: ${told.join(', ')}${rest}`];
};

const stepsLine = ({ steps }: PrintedPlace): readonly string[] => {
  const clicks = steps.map(({ keep, click, countIn, branch }) => {
    const what = `${keep === 'all' ? '' : `${keep} `}${click === 'none' ? (countIn === 'none' ? 'no click' : 'count-in only') : click}`;
    return branch === 'side' ? `(${what})` : what;
  });
  return clicks.length === 0 ? [] : [`    steps: ${clicks.join(' · ')}`];
};

/** The lines to print; at most so many places one by one, 30 where it is left out. */
export const findText = (found: FoundPlaces, limit: number | null = null): readonly string[] => {
  const told = limit ?? most.places;
  const { places, problems } = found;
  const large = places.filter(({ kind }) => small[kind] === undefined);
  const lines = large
    .slice(0, told)
    .flatMap((place, i) => [
      `${String(i + 1).padStart(2)}. ${where(place)}: ${kindText(place)}, ${place.parts.join(' ')}`,
      `    ${wrapped(place.why, 4)}`,
      ...seamsLine(place),
      ...stepsLine(place),
    ]);
  const more =
    large.length > told
      ? [
          `And ${counted(large.length - told, 'place')} of less weight: --bars, --parts or --kind tells them, --json and --csv tell all.`,
        ]
      : [];
  const gathered = Object.entries(small).flatMap(([kind, text]) => {
    const bars = [...new Set(places.filter((place) => place.kind === kind).map(({ to }) => to.bar))];
    if (bars.length === 0) return [];
    const rest = bars.length > most.bars ? ` and ${bars.length - most.bars} more` : '';
    return [
      wrapped(
        `${text}: ${bars.length === 1 ? 'bar' : 'bars'} ${bars.slice(0, most.bars).join(', ')}${rest}`,
        4,
      ),
    ];
  });
  const none =
    places.length === 0
      ? ['No place found where parts depend on each other by the rules of docs/find.md.']
      : [];
  const order =
    large.length > 1
      ? ['In order of weight, by a rule of thumb (docs/find.md): reorder as you see fit.']
      : [];
  return [...none, ...order, ...lines, ...more, ...gathered, ...problemLines(problems)];
};

/** What was put into the folder, and what its pages show. */
export const pagesText = (
  folder: string,
  files: readonly WrittenFile[],
  { drawn, left }: FindPages,
): readonly string[] => {
  const pictures = files.filter(({ name }) => name.endsWith('.svg')).length;
  const of = left.length === 0 ? '' : ` of ${counted(drawn.length + left.length, 'place')}`;
  const shown = of === '' ? counted(drawn.length, 'place') : String(drawn.length);
  return [
    `In ${folder}: places.pdf and ${counted(pictures, 'picture')} of its pages, with ${shown}${of} pencilled in; numbers as in the list.`,
  ];
};
