/** What was heard, in words. */
import type { Figure, Reading } from '../desk/index.ts';

const whole = (value: number): string => String(Math.round(value));

/** "8 ± 3 ms"; without an interval "about 8 ms". */
const withRange = ({ value, low, high }: Figure): string =>
  low === null || high === null
    ? `about ${whole(Math.abs(value))} ms`
    : `${whole(Math.abs(value))} ± ${whole(Math.max(1, (high - low) / 2))} ms`;

const nameOf = (reading: Reading, id: string): string => {
  const part = reading.parts.find((one) => one.id === id);
  return part === undefined || part.name === '' ? id : part.name;
};

const pairLines = (reading: Reading): string[] =>
  reading.pairs.map(({ parts: [first, second], places, mean, sd }) => {
    const [a, b] = [nameOf(reading, first), nameOf(reading, second)];
    if (places < 2 || sd === null) return `${a} and ${b}: too few places where both were surely heard.`;
    const spread = `they differ from place to place by ${withRange(sd)}`;
    if (mean === null)
      return `${a} and ${b}: ${spread} (${places} places). Who is ahead on the whole cannot be told.`;
    const { low, high } = mean;
    if (low === null || high === null || (low <= 0 && high >= 0))
      return `${a} and ${b}: neither is clearly ahead (${withRange(mean)}); ${spread} (${places} places).`;
    const [ahead, behind] = mean.value < 0 ? [a, b] : [b, a];
    return `${ahead} is ${withRange(mean)} ahead of ${behind}; ${spread} (${places} places).`;
  });

const driftLines = (reading: Reading): string[] =>
  reading.drift.flatMap(({ part, percentPerMinute: { value, low, high } }) => {
    if (low === null || high === null || (low <= 0 && high >= 0)) return [];
    const way = value > 0 ? 'pushes on' : 'slows down';
    return [
      `${nameOf(reading, part)} ${way}: ${Math.abs(value).toFixed(1)} % a minute (between ${Math.min(Math.abs(low), Math.abs(high)).toFixed(1)} and ${Math.max(Math.abs(low), Math.abs(high)).toFixed(1)}).`,
    ];
  });

/** Bar lines more than this many standard deviations away, and this many milliseconds, are told. */
const clearly = 2;
const worthTelling = 20;

const barLineLines = (reading: Reading): string[] =>
  reading.parts.flatMap(({ id }) => {
    const far = reading.barLines
      .flatMap((line) => (line.part === id && line.late !== null ? [{ ...line, late: line.late }] : []))
      .filter(({ late, uncertainty }) => Math.abs(late) > Math.max(worthTelling, clearly * uncertainty))
      .sort((a, b) => Math.abs(b.late) - Math.abs(a.late))
      .slice(0, 3)
      .map(
        ({ bar, rep, late, uncertainty }) =>
          `bar ${bar}${rep > 1 ? ` (time ${rep})` : ''} ${whole(Math.abs(late))} ± ${whole(Math.max(1, 1.96 * uncertainty))} ms ${late > 0 ? 'after' : 'before'}`,
      );
    return far.length === 0 ? [] : [`${nameOf(reading, id)} against the bar line: ${far.join('; ')}.`];
  });

const seamLines = (reading: Reading): string[] =>
  [...reading.seams]
    .filter(({ late, uncertainty }) => Math.abs(late) > Math.max(worthTelling, clearly * uncertainty))
    .sort((a, b) => Math.abs(b.late) - Math.abs(a.late))
    .slice(0, 3)
    .map(
      ({ from, to, bar, beat, late, uncertainty }) =>
        `Bar ${bar}, beat ${beat}: ${nameOf(reading, to)} takes over from ${nameOf(reading, from)} ${whole(Math.abs(late))} ± ${whole(Math.max(1, 1.96 * uncertainty))} ms ${late > 0 ? 'late' : 'early'}.`,
    );

const articulationLine = (reading: Reading): string[] => {
  const ways = reading.articulation.map(
    ({ part, ratio }) => `${nameOf(reading, part)} ${whole(100 * ratio.value)} %`,
  );
  return ways.length === 0 ? [] : [`Of the time to the next note, notes sound: ${ways.join(', ')}.`];
};

const evennessLine = (reading: Reading): string[] => {
  const ways = reading.evenness.map(
    ({ part, value, longShort }) => `${nameOf(reading, part)} ${longShort.value.toFixed(2)} : 1 (${value})`,
  );
  return ways.length === 0
    ? []
    : [`Of two equal notes the first lasts, against the second: ${ways.join(', ')}.`];
};

const countLine = (reading: Reading, id: string): string => {
  const own = reading.notes.filter(({ part }) => part === id);
  const count = (state: string): number => own.filter((note) => note.state === state).length;
  const added = reading.added.filter(({ part }) => part === id).length;
  const part = reading.parts.find((one) => one.id === id);
  const rest = [
    ...(count('unsure') > 0 ? [`${count('unsure')} unsure`] : []),
    ...(count('missing') > 0 ? [`${count('missing')} not heard`] : []),
    ...(added > 0 ? [`${added} that are not in the part`] : []),
  ];
  return `${nameOf(reading, id)}: ${count('heard')} of ${own.length} notes heard${rest.length > 0 ? ` (${rest.join(', ')})` : ''}; A = ${(part?.reference ?? 440).toFixed(0)} Hz.`;
};

/** No more lines than this, whatever was found. */
const most = 30;

/** Lines of text. */
export const hearText = (reading: Reading): readonly string[] => {
  const title = reading.title === '' ? 'The take' : reading.title;
  const said = reading.assumed
    .filter(({ code }) => code !== 'beat-model')
    .map(({ message }) => `Note: ${message}`);
  const head = [
    `${title}, bars ${reading.bars}`,
    ...reading.parts.map(({ id }) => countLine(reading, id)),
    ...pairLines(reading),
  ];
  const body = [
    ...driftLines(reading),
    ...seamLines(reading),
    ...barLineLines(reading),
    ...articulationLine(reading),
    ...evennessLine(reading),
  ];
  const end = 'Figures after ± are 95 % intervals: the true value lies within them 19 times out of 20.';
  const all = [...head, ...body, ...said].slice(0, most - 1);
  return [...all, end];
};
