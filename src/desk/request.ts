/** What a player asks of a drill, in words: as typed on a command line or into a field of a page. */
import type { Drill } from '../drill/model.ts';
import { usualSheet, type SheetOptions } from '../sheet/index.ts';
import { F, fail, ok, refusable, Refusal, type Result } from '../units/index.ts';
import type { SoundOptions } from './soundFiles.ts';
import { tellingLanguages, type TellingLanguage } from './words/language.ts';
import { sheetWords } from './words/sheet.ts';

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

/** The words that say how a drill sounds and looks, by name; each optional. */
export const makingWords = [
  'rate',
  'depth',
  'pitch',
  'words',
  'language',
  'without',
  'place',
  'paper',
  'others',
] as const;
export type MakingWord = (typeof makingWords)[number];
export type MakingTexts = Partial<Readonly<Record<MakingWord, string>>>;

/** How a drill is written down: its sound, the language of its spoken count, and its pages in theirs. */
export interface Making {
  readonly sound: SoundOptions;
  /** ISO 639-1; null: counts are clicked. */
  readonly language: string | null;
  /** Null: no pages. */
  readonly sheet: SheetOptions | null;
}

/** One of a few words. */
const oneOf = <T extends string>(text: string, choices: readonly T[], what: string): T => {
  const found = choices.find((choice) => choice === text.trim().toLowerCase());
  if (found === undefined) {
    throw new Refusal('word-unknown', `"${text}" is not understood: ${what} is ${choices.join(' or ')}.`);
  }
  return found;
};

/** A pitch such as 415 or 442.5. */
const hertz = (text: string): number => {
  const value = F.parse(text);
  if (value === null) {
    throw new Refusal('number-unknown', `"${text}" is not a number: the pitch of A is written as pitch 415.`);
  }
  return F.toNumber(value);
};

const soundOf = ({ rate, depth, pitch, without, place }: MakingTexts): SoundOptions => ({
  ...(rate === undefined ? {} : { rate: whole(rate, 'the sample rate in Hz', 'rate 48000') }),
  ...(depth === undefined ? {} : { depth: whole(depth, 'the depth in bits', 'depth 16, 24 or 32') }),
  ...(pitch === undefined ? {} : { pitch: hertz(pitch) }),
  ...(without === undefined ? {} : { without: list(without) }),
  ...(place === undefined ? {} : { place: oneOf(place, ['centre', 'left'], 'the place of the click') }),
});

const languageOf = (text = 'en'): TellingLanguage => oneOf(text, tellingLanguages, 'the language');

const sheetOf = ({
  paper: size = usualSheet.paper,
  others = usualSheet.others,
  language,
}: MakingTexts): SheetOptions | null => {
  const paper = oneOf(size, ['a4', 'letter', 'none'], 'the paper');
  const filtered = oneOf(others, ['rests', 'grey'], 'what becomes of the other notes');
  const words = sheetWords[languageOf(language)];
  return paper === 'none' ? null : { ...usualSheet, paper, others: filtered, words };
};

/** Reads how a drill is to be written down. Errors: `number-unknown`, `word-unknown`; what they mean is found out later. */
export const readMaking = (texts: MakingTexts): Result<Making> =>
  refusable(() => {
    const language = (texts.words ?? languageOf(texts.language)).trim().toLowerCase();
    return ok({
      sound: soundOf(texts),
      language: language === 'none' ? null : language,
      sheet: sheetOf(texts),
    });
  });
