/** What a player asks of a drill, in words: as typed on a command line or into a field of a page. */
import type { Drill } from '../drill/model.ts';
import { F, fail, ok, refusable, Refusal, type Result } from '../units/index.ts';

/** A drill without its score. What is left out keeps its usual value, or that of the drill that is made again. */
export type DrillRequest = Partial<Omit<Drill, 'format' | 'score'>>;

/** The words of a request, by name; each optional. */
export const requestWords = [
  'bars',
  'pass',
  'parts',
  'keep',
  'click',
  'tacet',
  'count',
  'groups',
  'tempo',
  'times',
  'gap',
  'count-in',
  'upbeat',
  'holds',
  'octave',
] as const;
export type RequestWord = (typeof requestWords)[number];
export type RequestTexts = Partial<Readonly<Record<RequestWord, string>>>;

/** A whole number in a text. What range makes sense is for the drill to say. */
const whole = (text: string, what: string, example: string): number => {
  const value = /^\s*[+-]?\d{1,9}\s*$/.test(text) ? Number(text) : null;
  if (value === null) {
    const shown =
      F.parse(text) === null ? `"${text}" is not a number` : `${text.trim()} is not a whole number`;
    throw new Refusal('number-unknown', `${shown}: ${what} is written as ${example}.`);
  }
  return value;
};

const list = (text: string): readonly string[] => text.split(',').map((item) => item.trim());

const tacetOf = (text: string): Drill['tacet'] => {
  if (text.trim() === 'none') return null;
  const match = /^\s*(\d{1,9})\s*\/\s*(\d{1,9})\s*$/.exec(text);
  if (match === null) {
    throw new Refusal(
      'tacet-unknown',
      `"${text}" is not understood: say how many bars with the click and how many without, as 2/2, or none.`,
    );
  }
  return { with: Number(match[1]), without: Number(match[2]) };
};

const octavesOf = (text: string): Drill['octaves'] => {
  const entries = list(text).map((item): readonly [string, number] => {
    const match = /^([^=]+)=\s*([+-]?\d{1,2})$/.exec(item);
    if (match === null) {
      throw new Refusal(
        'octave-unknown',
        `"${item}" is not understood: say the part and how many octaves it sounds above what is written, as P1=+1.`,
      );
    }
    return [(match[1] ?? '').trim(), Number(match[2])];
  });
  return Object.fromEntries(entries);
};

const holdsOf = (text: string): Drill['holds'] => {
  const word = text.trim();
  if (word === 'count' || word === 'through') return word;
  throw new Refusal(
    'holds-unknown',
    `"${text}" is not understood: at fermatas say count (the click stops and counts in again) or through.`,
  );
};

const readers: Readonly<Record<RequestWord, (text: string) => DrillRequest>> = {
  bars: (text) => ({ bars: text.trim() }),
  pass: (text) => ({ pass: text.trim() === 'auto' ? null : whole(text, 'which time through', 'pass 2') }),
  parts: (text) => ({ parts: text.trim() === 'all' ? null : list(text) }),
  keep: (text) => ({ keep: text.trim() }),
  click: (text) => ({ click: text.trim() }),
  tacet: (text) => ({ tacet: tacetOf(text) }),
  count: (text) => ({ count: text.trim() === 'auto' ? null : text.trim() }),
  groups: (text) => ({ groups: text.trim() === 'auto' ? null : text.trim() }),
  tempo: (text) => ({ tempo: text.trim() === 'score' ? [] : list(text) }),
  times: (text) => ({ times: whole(text, 'the number of repetitions', 'times 4') }),
  gap: (text) => ({
    gap:
      text.trim() === 'auto' ? null : whole(text, 'the number of silent bars between repetitions', 'gap 1'),
  }),
  'count-in': (text) => ({ countIn: text.trim() }),
  upbeat: (text) => ({ upbeat: text.trim() }),
  holds: (text) => ({ holds: holdsOf(text) }),
  octave: (text) => ({ octaves: octavesOf(text) }),
};

/** Longest text that means anything here. */
const longest = 2000;

/**
 * Reads the words of a request. Whether they make sense on a score is found out when the drill is worked out. Errors:
 * `number-unknown`, `tacet-unknown`, `octave-unknown`, `holds-unknown`, `too-long`.
 */
export const readRequest = (texts: RequestTexts): Result<DrillRequest> =>
  refusable(() => {
    let request: DrillRequest = {};
    for (const word of requestWords) {
      const text = texts[word];
      if (text === undefined) continue;
      if (text.length > longest) {
        return fail(
          'too-long',
          `What is given for ${word} has ${text.length} characters; at most ${longest} are read.`,
        );
      }
      request = { ...request, ...readers[word](text) };
    }
    return ok(request);
  });

/** The drill as it is where nothing is asked for: all bars, every beat clicked, once, as the score says. */
export const usualDrill: Omit<Drill, 'format' | 'score'> = {
  bars: 'all',
  pass: null,
  parts: null,
  keep: 'all',
  click: 'every',
  tacet: null,
  count: null,
  groups: null,
  tempo: [],
  times: 1,
  gap: null,
  countIn: 'auto',
  upbeat: 'auto',
  holds: 'count',
  octaves: {},
};

/** Reads how the sound is to be written: a rate in Hz and a depth in bits. Error: `number-unknown`. */
export const readSound = (texts: {
  readonly rate?: string;
  readonly depth?: string;
}): Result<{ readonly rate?: number; readonly depth?: number }> =>
  refusable(() => {
    const { rate, depth } = texts;
    return ok({
      ...(rate === undefined ? {} : { rate: whole(rate, 'the sample rate in Hz', 'rate 48000') }),
      ...(depth === undefined ? {} : { depth: whole(depth, 'the depth in bits', 'depth 16, 24 or 32') }),
    });
  });
