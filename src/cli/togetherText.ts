/** What a table of onsets tells, as a musician would say it. */
import type { Together } from '../desk/index.ts';
import { counted, joined, problemLines, wrapped } from './words.ts';

type Interval = Together['pairs'][number]['ci95']['meanMs'];
type Figure = { readonly value: number; readonly ci95: Interval };
type Spread = Pick<
  Together['pairs'][number],
  'n' | 'meanMs' | 'sdMs' | 'meanAbsMs' | 'sdWithoutNoiseMs' | 'ci95'
>;

const fixed = (value: number, digits: number): string => {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : text;
};

/** " (10.7 to 14.3)", or nothing. */
const within = (interval: Interval, digits = 1): string =>
  interval === null ? '' : ` (${fixed(interval[0], digits)} to ${fixed(interval[1], digits)})`;

const figure = ({ value, ci95 }: Figure, digits = 1): string =>
  `${fixed(value, digits)}${within(ci95, digits)}`;

/** Who comes after whom; the interval turned so that it speaks of the later one. */
const order = (first: string, second: string, meanMs: number, interval: Interval): string => {
  const later = meanMs >= 0;
  const turned: Interval = interval === null || later ? interval : [-interval[1], -interval[0]];
  const [who, whom] = later ? [first, second] : [second, first];
  const unsure = turned !== null && turned[0] <= 0;
  const text = `${who} comes ${fixed(Math.abs(meanMs), 1)} ms after ${whom}${within(turned)}`;
  return unsure ? `neither is ahead for certain: ${text}` : text;
};

const spreadText = ({ sdMs, meanAbsMs, sdWithoutNoiseMs, ci95 }: Spread): readonly string[] => [
  ...(sdMs === null ? [] : [`spread ${fixed(sdMs, 1)} ms${within(ci95.sdMs)}`]),
  ...(sdWithoutNoiseMs === null
    ? []
    : [`without the measuring noise ${fixed(sdWithoutNoiseMs, 1)} ms${within(ci95.sdWithoutNoiseMs)}`]),
  ...(meanAbsMs === null ? [] : [`${fixed(meanAbsMs, 1)} ms apart on average${within(ci95.meanAbsMs)}`]),
];

const pairLine = (first: string, second: string, seen: Spread): string => {
  const head = `${first} and ${second}, ${counted(seen.n, 'shared place')}`;
  if (seen.meanMs === null) return head;
  const told = [order(first, second, seen.meanMs, seen.ci95.meanMs), ...spreadText(seen)];
  return `${head}: ${told.join('; ')}`;
};

/** Correlations that speak for following: above this and surely above zero. */
const clear = 0.2;

/** A correlation that speaks for following; null for all others. */
const sure = (seen: Figure | null): Figure | null =>
  seen !== null && seen.value > clear && (seen.ci95?.[0] ?? 0) > 0 ? seen : null;

const followsLine = ({ parts: [first, second], following }: Together['pairs'][number]): readonly string[] => {
  const [a, b] = [sure(following.firstFollows), sure(following.secondFollows)];
  const line = (who: string, whom: string, seen: Figure): string =>
    `${who} follows ${whom}'s tempo by one note: correlation ${figure(seen, 2)}`;
  return [...(a === null ? [] : [line(first, second, a)]), ...(b === null ? [] : [line(second, first, b)])];
};

const correctionLine = ({ part, to, gains, n }: Together['corrections'][number]): string => {
  const told = gains.map(
    (gain, i) =>
      `${figure({ value: 100 * gain.value, ci95: gain.ci95 === null ? null : [100 * gain.ci95[0], 100 * gain.ci95[1]] }, 0)} % of the distance to ${to[i] ?? ''}`,
  );
  return `${part} makes good ${joined(told)} with the next note (${counted(n, 'interval')})`;
};

const driftText = ({ value, ci95 }: Figure): string => {
  const sure = ci95 !== null && (ci95[0] > 0 || ci95[1] < 0);
  const turned: Interval = ci95 === null || value >= 0 ? ci95 : [-ci95[1], -ci95[0]];
  const what = value >= 0 ? 'gains' : 'loses';
  const text = `${what} ${fixed(Math.abs(value), 1)} % a minute${within(turned)}`;
  return sure ? text : `no sure drift: ${text}`;
};

const tempoLine = (
  who: string,
  unit: string,
  seen: Pick<Together['ensemble'], 'tempo' | 'driftPercentPerMinute'>,
): readonly string[] =>
  seen.tempo === null || seen.driftPercentPerMinute === null
    ? []
    : [
        `${who}: ${figure(seen.tempo)} ${unit} a minute in the middle; ${driftText(seen.driftPercentPerMinute)}`,
      ];

const clockLine = ({ part, clockSdMs, motorSdMs }: Together['players'][number]): readonly string[] =>
  clockSdMs === null || motorSdMs === null
    ? []
    : [`${part}: inner clock ${figure(clockSdMs)} ms, hand ${figure(motorSdMs)} ms`];

const section = (title: string, lines: readonly string[]): readonly string[] =>
  lines.length === 0 ? [] : ['', title, ...lines.map((line) => `  ${wrapped(line, 4)}`)];

/** The whole text, a line each, without control of the terminal. */
export const togetherText = (seen: Together): readonly string[] => {
  const { players, pairs, click, corrections, ensemble, bars, barLines, noiseMs } = seen;
  const unit = seen.unit === 'rows' ? 'rows' : 'beats';
  const [one] = players;
  return [
    `${counted(players.length, 'player')}: ${players.map(({ part, n }) => `${part} (${counted(n, 'onset')})`).join(', ')}`,
    `In brackets: where the true value lies, 95 times out of 100${noiseMs === null ? '' : `; measuring noise ${noiseMs} ms an onset`}`,
    ...section(
      'Together',
      pairs.map((pair) => pairLine(...pair.parts, pair)),
    ),
    ...section(
      'Against the click',
      click.map((line) => pairLine(line.part, 'the click', line)),
    ),
    ...section('Who follows', [...pairs.flatMap(followsLine), ...corrections.map(correctionLine)]),
    ...section('Tempo', [
      ...(players.length < 2 && one !== undefined ? [] : tempoLine('All', unit, ensemble)),
      ...players.flatMap((player) => tempoLine(player.part, unit, player)),
    ]),
    ...section('Evenness, each read as if alone: standard deviations', players.flatMap(clockLine)),
    ...section(
      `Bar by bar: ${unit} a minute; how the bar line is reached against the tempo of the bar before`,
      bars.map(({ bar, tempo }) => {
        const late = barLines.find((arrival) => arrival.bar === bar)?.lateMs.value ?? null;
        const reached =
          late === null ? '' : `; ${fixed(Math.abs(late), 0)} ms ${late >= 0 ? 'late' : 'early'}`;
        return `${bar}: ${figure(tempo)}${reached}`;
      }),
    ),
    ...section('Good to know', problemLines(seen.problems)),
  ];
};
