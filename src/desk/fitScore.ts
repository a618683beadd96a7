/** A score as one ensemble has it on the stand: its title, its edition's bar numbers, how its instruments sound. */
import type { Part, Score } from '../score/model.ts';
import { withOctaves } from '../score/octaves.ts';
import { markScore } from './markScore.ts';
import type { MarkingText } from './shelf/records.ts';
import { beats, F, ok, problem, type Problem, type Result } from '../units/index.ts';

/** From written to sounding pitch: B flat clarinet -1 and -2. */
export interface Sounding {
  readonly diatonic: number;
  readonly chromatic: number;
}

export interface PieceSettings {
  /** Empty: as in the score. */
  readonly title: string;
  /** Added to the score's bar numbers. */
  readonly barShift: number;
  /** Octaves added to how a part sounds, -4 to 4, by part id. */
  readonly octaves: Readonly<Record<string, number>>;
  /** In place of the transposition that the score gives, by part id; null: as the score says. */
  readonly transpositions: Readonly<Record<string, Sounding | null>>;
  /** What the players wrote into their parts. */
  readonly markings: readonly MarkingText[];
}

/** A score as it stands in its file. */
export const asInScore: PieceSettings = {
  title: '',
  barShift: 0,
  octaves: {},
  transpositions: {},
  markings: [],
};

/** "12", "12a": what is counted of a bar number, and what is not. Others, such as "X1", are not counted. */
const counted = /^(\d{1,9})(.*)$/s;

const shiftNumber = (number: string, by: number): string => {
  const [, digits, rest = ''] = counted.exec(number) ?? [];
  return digits === undefined ? number : `${Number(digits) + by}${rest}`;
};

const shifted = (score: Score, by: number): { score: Score; problems: readonly Problem[] } => {
  if (by === 0) return { score, problems: [] };
  const lowest = score.bars.reduce((least, { number }) => {
    const digits = counted.exec(number)?.[1];
    return digits === undefined ? least : Math.min(least, Number(digits));
  }, Infinity);
  if (lowest + by < 0) {
    const message = `The edition's bar numbers would begin below 0 (${lowest + by}); they stay as they are in the score.`;
    return { score, problems: [problem('note', 'bar-shift-below-zero', message)] };
  }
  const bars = score.bars.map((bar) => ({ ...bar, number: shiftNumber(bar.number, by) }));
  return { score: { ...score, bars }, problems: [] };
};

const sounding = (part: Part, { diatonic, chromatic }: Sounding): Part => {
  const before = (at: Part['notes'][number]['onset']): number =>
    part.transpositions.findLast((one) => !F.less(at, one.at))?.chromatic ?? 0;
  return {
    ...part,
    transpositions: [{ at: beats(F.zero), diatonic, chromatic }],
    notes: part.notes.map((note) =>
      note.midi === null ? note : { ...note, midi: note.midi - before(note.onset) + chromatic },
    ),
  };
};

/**
 * The score with its settings. Parts that it does not have are passed over. Error: `octave-out-of-range`. Problem:
 * `bar-shift-below-zero`.
 */
export const fitScore = (score: Score, settings: PieceSettings): Result<Score> => {
  const { title, barShift, transpositions } = settings;
  const numbered = shifted(score, barShift);
  const parts = numbered.score.parts.map((part) => {
    const asked = Object.hasOwn(transpositions, part.id) ? transpositions[part.id] : null;
    return asked === null || asked === undefined ? part : sounding(part, asked);
  });
  const octaves = Object.fromEntries(
    Object.entries(settings.octaves).filter(([id]) => parts.some((part) => part.id === id)),
  );
  const fitted = withOctaves(
    { ...numbered.score, parts, title: title.trim() === '' ? score.title : title.trim() },
    octaves,
  );
  return fitted.ok ? ok(markScore(fitted.value, settings.markings), numbered.problems) : fitted;
};
