/** What was heard, as a page for those who played: no figure without what it is sure to, and nobody blamed. */
import type { Figure, Reading } from '../desk/index.ts';
import { timeText } from '../units/index.ts';
import { counted, joined, wrapped } from './words.ts';

/** A figure whose interval is known. */
interface Sure {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

const sure = (figure: Figure | null): Sure | null =>
  figure === null || figure.low === null || figure.high === null
    ? null
    : { value: figure.value, low: figure.low, high: figure.high };

/** Whether zero, or what else counts as nothing, lies outside. */
const tells = ({ low, high }: Sure, nothing = 0): boolean => low > nothing || high < nothing;

/** "8 ± 3", of the size alone; never "± 0". */
const size = ({ value, low, high }: Sure, digits = 0): string => {
  const least = 10 ** -digits;
  return `${Math.abs(value).toFixed(digits)} ± ${Math.max(least, (high - low) / 2).toFixed(digits)}`;
};

const scaled = ({ value, low, high }: Sure, by: number): Sure => ({
  value: value * by,
  low: low * by,
  high: high * by,
});

/** A figure that cannot be below zero: where zero is not excluded, only how large it may be. */
const positive = (figure: Sure): string =>
  figure.low > 0 ? size(figure) : `at most ${Math.max(1, Math.ceil(figure.high))}`;

const names = (reading: Reading): ((id: string) => string) => {
  const shown = new Map(
    reading.parts.map(({ id, name }) => {
      const shared = reading.parts.some((other) => other.id !== id && other.name === name);
      return [id, name === '' ? id : shared ? `${name} (${id})` : name];
    }),
  );
  return (id) => shown.get(id) ?? id;
};

type Page = (reading: Reading, name: (id: string) => string) => readonly string[];

/** Places that are named one by one, at most. */
const mostPlaces = 3;

const placeOf = ({ bar, rep }: { readonly bar: string; readonly rep: number }, reading: Reading): string =>
  `${bar === '' ? 'the upbeat' : `bar ${bar}`}${reading.notes.some((note) => note.rep > 1) ? ` (${timeText(rep)})` : ''}`;

const heardLines: Page = (reading, name) => [
  ...reading.parts.map(({ id, file }) => {
    const own = reading.notes.filter(({ part }) => part === id);
    const of = (state: string) => own.filter((note) => note.state === state);
    const [rough, unsure, missing] = [of('rough'), of('unsure'), of('missing')];
    const bars = [...new Set([...unsure, ...missing].map(({ bar }) => bar))].filter((bar) => bar !== '');
    const where =
      bars.length > 0 && bars.length <= 2 * mostPlaces
        ? ` (bar${bars.length > 1 ? 's' : ''} ${bars.join(', ')})`
        : '';
    const rest = [
      ...(rough.length > 0 ? [`${rough.length} only roughly`] : []),
      ...(unsure.length > 0 ? [`of ${unsure.length} the beginning is unsure`] : []),
      ...(missing.length > 0 ? [`${missing.length} not found`] : []),
    ];
    return `${name(id)}, ${file.replace(/^.*[\\/]/, '')}: ${of('heard').length} of ${counted(own.length, 'note')} surely heard${rest.length > 0 ? `; ${joined(rest)}${where}` : ''}.`;
  }),
  ...(reading.notes.some(({ state }) => state === 'rough')
    ? ['Nothing below rests on what was heard only roughly, is unsure or was not found.']
    : []),
];

/** Pairs beyond which each has one short line. */
const mostPairs = 3;

/** Who is ahead of whom in few words. */
const shortPair = (first: string, second: string, mean: Sure | null, spread: Sure): string => {
  const [before, after] = mean === null || mean.value < 0 ? [first, second] : [second, first];
  const ahead =
    mean === null
      ? ''
      : tells(mean)
        ? `${before} ahead by ${size(mean)} ms; `
        : `neither ahead for certain (${size(mean)} ms); `;
  return `${before} and ${after}: ${ahead}differing by ${positive(spread)} ms.`;
};

/** Milliseconds on each side from which on a mean says nothing that players could use. Our choice: far more than they are ever apart. */
const useless = 100;

const pairLines: Page = (reading, name) =>
  reading.pairs.map(({ parts: [first, second], n, mean, sdWithoutNoise }) => {
    const [a, b] = [name(first), name(second)];
    const spread = sure(sdWithoutNoise);
    const known = sure(mean);
    if (spread === null || (known !== null && known.high - known.low > 2 * useless))
      return `${a} and ${b}: too few places where both were surely heard (${n}).`;
    if (reading.pairs.length > mostPairs) return shortPair(a, b, known, spread);
    const differ = `from place to place they differ by ${positive(spread)} ms (${counted(n, 'place')})`;
    if (known === null)
      return `${a} and ${b}: ${differ}. Who is ahead on the whole cannot be told without a click in both.`;
    if (!tells(known)) return `${a} and ${b}: neither is ahead for certain (${size(known)} ms); ${differ}.`;
    const [before, after] = known.value < 0 ? [a, b] : [b, a];
    return `${before} is ${size(known)} ms ahead of ${after}; ${differ}.`;
  });

const correctionLines: Page = (reading, name) =>
  reading.corrections.flatMap(({ part, to, gains }) => {
    const told = gains.flatMap((gain, i) => {
      const known = sure(gain);
      return known === null || known.low <= 0
        ? []
        : [`${size(known, 2)} of the distance to ${name(to[i] ?? '')}`];
    });
    return told.length === 0 ? [] : [`${name(part)} makes good ${joined(told)} with the next note.`];
  });

/** Of so many quarters a minute in the drill so many are played: a tempo that is asked for may change. */
const tempoLines: Page = (reading, name) => {
  const whole = reading.drift.filter(({ part }) => part === null);
  const asked = Math.round(reading.tempo[0]?.asked ?? 60);
  const inQuarters = (percent: Sure): Sure => scaled(percent, asked / 100);
  const told = (whole.length > 0 ? whole : reading.drift).map(({ part, pace, percentPerMinute }) => {
    const [tempo, grows] = [sure(pace), sure(percentPerMinute)];
    const who = part === null ? 'All together' : name(part);
    if (tempo === null || grows === null) return `${who}: too few notes to tell the tempo.`;
    const by = size(inQuarters(grows), 1);
    const drift = tells(grows)
      ? `${grows.value > 0 ? 'moving on' : 'broadening'} by ${by} with each minute`
      : `no drift for certain (${by} with each minute)`;
    return `${who}: ${size(inQuarters(tempo), 1)} quarters a minute where ${asked} are asked for; ${drift}.`;
  });
  const single = reading.drift.flatMap(({ part, percentPerMinute }) => {
    const grows = sure(percentPerMinute);
    if (part === null || whole.length === 0 || grows === null || !tells(grows)) return [];
    return [
      `${name(part)}: ${grows.value > 0 ? 'moving on' : 'broadening'} by ${size(inQuarters(grows), 1)} quarters a minute with each minute.`,
    ];
  });
  return [...told, ...single];
};

/** Milliseconds from which on a bar line or a seam is named. Our choice: less is hardly heard. */
const worthTelling = 20;

const barLineLines: Page = (reading, name) => {
  if (reading.click.perBar > 1) return [];
  const byClick =
    reading.click.perBar > 0 && reading.barLines.some(({ lateAtClick }) => lateAtClick !== null);
  const known = reading.barLines.flatMap((line) => {
    const late = sure(byClick ? line.lateAtClick : line.late);
    return late === null ? [] : [{ ...line, late }];
  });
  if (known.length === 0) return ['Too few notes around the bar lines to tell how they are reached.'];
  const against = byClick ? 'the click' : 'where their own bar before leads';
  const told = reading.parts.flatMap(({ id }) => {
    const off = known
      .filter(({ part, late }) => part === id && tells(late) && Math.abs(late.value) >= worthTelling)
      .sort((a, b) => Math.abs(b.late.value) - Math.abs(a.late.value))
      .slice(0, mostPlaces)
      .map(
        (line) =>
          `${placeOf(line, reading)} ${size(line.late)} ms ${line.late.value > 0 ? 'after' : 'before'}`,
      );
    return off.length === 0 ? [] : [`${name(id)} against ${against}: ${off.join('; ')}.`];
  });
  return told.length > 0
    ? told
    : [`No bar line is clearly off by ${worthTelling} ms or more (${counted(known.length, 'bar line')}).`];
};

/** Milliseconds from which on an entry is named. Our choice: less is hardly heard. */
const worthEntry = 30;

const entryLines: Page = (reading, name) => {
  const known = reading.entries.flatMap((entry) => {
    const apart = sure(entry.apart);
    return apart === null ? [] : [{ ...entry, apart }];
  });
  const off = known
    .filter(({ apart }) => tells(apart) && Math.abs(apart.value) >= worthEntry)
    .sort((a, b) => Math.abs(b.apart.value) - Math.abs(a.apart.value))
    .slice(0, mostPlaces)
    .map(({ parts: [a, b], cue, apart, ...where }) => {
      const cued = cue === undefined ? '' : `, cued by ${name(cue)}`;
      const text = `${placeOf(where, reading)}, beat ${where.beat}: ${name(a)} and ${name(b)} come in ${size(apart)} ms apart${cued}.`;
      return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
    });
  if (off.length > 0 || known.length === 0) return off;
  return [
    `No two come in clearly apart by ${worthEntry} ms or more (${known.length} ${known.length === 1 ? 'entry' : 'entries'} of two).`,
  ];
};

const seamLines: Page = (reading, name) => {
  const known = reading.seams.flatMap((seam) => {
    const late = sure(seam.late);
    return late === null ? [] : [{ ...seam, late }];
  });
  const off = known
    .filter(({ late }) => tells(late) && Math.abs(late.value) >= worthTelling)
    .sort((a, b) => Math.abs(b.late.value) - Math.abs(a.late.value))
    .slice(0, mostPlaces)
    .map((seam) => {
      const length = sure(seam.length);
      const notes =
        length === null || !tells(length)
          ? ''
          : `, with ${length.value > 0 ? 'longer' : 'shorter'} notes (by ${size(length, 2)} of the time to the next)`;
      return `${placeOf(seam, reading)}, beat ${seam.beat}: ${name(seam.to)} takes over from ${name(seam.from)} ${size(seam.late)} ms ${seam.late.value > 0 ? 'after' : 'before'} the line leads there${notes}.`;
    })
    .map((text) => `${text.charAt(0).toUpperCase()}${text.slice(1)}`);
  if (off.length > 0) return off;
  if (known.length > 0)
    return [`No seam is clearly off by ${worthTelling} ms or more (${counted(known.length, 'seam')}).`];
  return reading.seams.length > 0
    ? [`Too few sure notes around the ${counted(reading.seams.length, 'seam')} to tell how they go.`]
    : [];
};

const styleLines: Page = (reading, name) => {
  // One alone is held against nobody; several only where both have notes written alike.
  const alone = reading.articulation.flatMap(({ part, ratio }) => {
    const known = sure(ratio);
    return known === null || reading.parts.length > 1 ? [] : [`${name(part)} ${size(known, 2)}`];
  });
  const between = reading.articulationBetween.flatMap(({ parts: [a, b], difference, n }) => {
    const known = sure(difference);
    if (known === null) return [];
    const by = size(known, 2);
    const notes = `${counted(Math.min(...n), 'note')} written alike`;
    return [
      tells(known)
        ? `${name(known.value > 0 ? a : b)} holds notes longer than ${name(known.value > 0 ? b : a)}, by ${by} of the time to the next (${notes}).`
        : `${name(a)} and ${name(b)} hold notes for the same time as far as can be told (${by}; ${notes}).`,
    ];
  });
  const even = reading.evenness.flatMap(({ part, value, longShort }) => {
    const known = sure(longShort);
    return known === null ? [] : [`${name(part)} ${size(known, 2)} to 1 (${value})`];
  });
  const unlike = reading.evennessBetween.flatMap(({ parts: [a, b], value, ratio }) => {
    const known = sure(ratio);
    return known === null || !tells(known, 1)
      ? []
      : [
          `${name(known.value > 1 ? a : b)} plays pairs of ${value} more unequally, the first longer, than ${name(known.value > 1 ? b : a)} (by a factor of ${size(known.value > 1 ? known : { value: 1 / known.value, low: 1 / known.high, high: 1 / known.low }, 2)}).`,
        ];
  });
  return [
    ...(alone.length === 0 ? [] : [`Notes sound, of the time to the next one: ${joined(alone)}.`]),
    ...between,
    ...(even.length === 0 ? [] : [`Of two equal notes, the first to the second: ${joined(even)}.`]),
    ...unlike,
  ];
};

const remarkLines: Page = (reading) =>
  reading.assumed
    .filter(({ code }) => code !== 'beat-model' && code !== 'levels-apart')
    .map(({ message }) => message);

const pages: readonly (readonly [string, Page])[] = [
  ['Heard', heardLines],
  ['Together', (reading, name) => [...pairLines(reading, name), ...correctionLines(reading, name)]],
  ['Tempo', tempoLines],
  ['Bar lines', barLineLines],
  ['Entries', entryLines],
  ['Seams', seamLines],
  ['Length and evenness', styleLines],
  ['Good to know', remarkLines],
];

/** No more lines than this, whatever was found. */
const most = 30;
const cutOff = '  There is more: --json prints all of it.';
const closing = '±: the true value lies within it 19 times out of 20.';

/** So many of the first sentences as have room. */
const fitting = (sentences: readonly (readonly string[])[], room: number): readonly string[] => {
  const lines: string[] = [];
  for (const sentence of sentences) {
    if (lines.length + sentence.length > room) break;
    lines.push(...sentence);
  }
  return lines;
};

/** Lines of text, none wider than a terminal. */
export const hearText = (reading: Reading): readonly string[] => {
  const name = names(reading);
  const title = reading.title === '' ? 'The take' : reading.title;
  // A head stands with its first sentence, and a sentence as a whole or not at all.
  const body = pages.flatMap(([head, page]) =>
    page(reading, name).map((line, i) => [
      ...(i === 0 ? [head] : []),
      ...wrapped(line, 2, 94)
        .split('\n')
        .map((text) => `  ${text.trimEnd()}`),
    ]),
  );
  const room = most - 2;
  const shown = body.flat().length <= room ? body.flat() : [...fitting(body, room - 1), cutOff];
  return [`${title}, bars ${reading.bars}`, ...shown, closing];
};
