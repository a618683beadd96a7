/**
 * Where the phrase begins that leads into a bar. Our definition, after the grouping rules of Lerdahl & Jackendoff 1983
 * (GPR 2: a rest, or a longer note before shorter ones, marks a boundary; from memory):
 *
 * 1. In the bar played before, each voice of the selected parts is read back from the bar line as long as one note
 *    runs into the next without a gap; only voices with a note on the passage's first beat lead into it.
 * 2. The phrase begins at the first of these notes if silence, a breath mark, a fermata, or a double bar or repeat
 *    stands before it; or at one of the notes if the note before it lasts at least half the bar and at least twice as
 *    long as it.
 *    Silence does not count where another player hands an even line over: where one stops whose last note is as long as
 *    the first of these and ends where it begins, or is struck together with it (our definition of a seam).
 * 3. An upbeat is at most half the bar (two beats of three). What begins earlier begins in its own bar: no upbeat.
 * 4. A pickup bar that sounds is an upbeat as a whole.
 * 5. Of several voices the longest upbeat counts.
 */
import type { Bar, Part } from '../score/model.ts';
import type { WrittenNote } from '../score/notes.ts';
import { beats, F, note, type Beats } from '../units/index.ts';
import type { BarGrid } from './beats.ts';

/** Rule 3. */
const longest = (grid: BarGrid): Beats => {
  const half = F.div(grid.full, F.fraction(2));
  const third = grid.beats[1];
  const inThree = grid.beats.length === 3 && third !== undefined;
  return inThree ? beats(F.sub(grid.full, third.offset)) : beats(half);
};

const endOf = (piece: WrittenNote): Beats => beats(F.add(piece.onset, piece.duration));

const voiceOf = ({ staff, voice }: WrittenNote): string => `${staff} ${voice}`;

/** The notes and rests in `bar` of each voice that leads into the bar `into`, chords as one. */
const voices = (part: Part, bar: Bar, into: Bar): readonly (readonly WrittenNote[])[] => {
  const map = new Map<string, WrittenNote[]>();
  const leading = arriving(part, into);
  for (const piece of part.written) {
    if (piece.bar !== bar.index || piece.chord || piece.cue || piece.kind === 'grace') continue;
    const key = voiceOf(piece);
    if (!leading.has(key)) continue;
    map.set(key, [...(map.get(key) ?? []), piece]);
  }
  return [...map.values()];
};

/** The voices that have a note on the first beat of a bar, or one held over into it. */
const arriving = (part: Part, into: Bar): ReadonlySet<string> =>
  new Set(
    part.written
      .filter(
        (piece) => piece.bar === into.index && piece.kind === 'note' && F.equal(piece.onset, into.start),
      )
      .map(voiceOf),
  );

/** Notes that run into each other up to the bar line, in order. */
const runIntoBarLine = (voice: readonly WrittenNote[], barLine: Beats): readonly WrittenNote[] => {
  const run: WrittenNote[] = [];
  let next = barLine;
  for (const piece of voice.toReversed()) {
    if (piece.kind !== 'note' || !F.equal(endOf(piece), next)) break;
    run.unshift(piece);
    next = piece.onset;
  }
  return run;
};

const closes = ({ marks }: WrittenNote): boolean =>
  marks.fermata !== null || marks.articulations.some((mark) => mark === 'breath-mark' || mark === 'caesura');

/** Whether another part hands an even line over to the player who begins with `first`. */
const handedOver = (others: readonly Part[], first: WrittenNote): boolean =>
  others.some(({ notes }) =>
    notes.some(({ onset: begins, duration: length }) => {
      const end = F.add(begins, length);
      const meets = F.equal(begins, first.onset) || F.equal(end, first.onset);
      if (!meets || !F.equal(length, first.duration)) return false;
      return !notes.some(
        ({ onset, duration }) => F.atMost(onset, end) && F.less(end, F.add(onset, duration)),
      );
    }),
  );

/** The latest note of the run at which a phrase begins by rule 2. */
const beginning = (
  run: readonly WrittenNote[],
  bar: Bar,
  atEdge: boolean,
  others: readonly Part[],
): WrittenNote | null => {
  const half = F.div(bar.length, F.fraction(2));
  for (let i = run.length - 1; i > 0; i--) {
    const before = run[i - 1];
    const piece = run[i];
    if (before === undefined || piece === undefined) continue;
    const long =
      F.atMost(half, before.duration) &&
      F.atMost(F.mul(piece.duration, F.fraction(2)), before.duration) &&
      !piece.tieStop;
    if (long || closes(before)) return piece;
  }
  const [first] = run;
  if (first === undefined || first.tieStop) return null;
  const afterSilence = F.less(bar.start, first.onset) && !handedOver(others, first);
  return afterSilence || (F.equal(bar.start, first.onset) && atEdge) ? first : null;
};

/**
 * The length of the upbeat that `parts` play in `before`, the bar played right before the passage's first bar `into`;
 * zero where there is none. `atEdge`: a double bar, a repeat sign or the beginning of the piece stands before that bar.
 */
export const upbeatLength = (
  parts: readonly Part[],
  { before: bar, into, atEdge }: { readonly before: Bar; readonly into: Bar; readonly atEdge: boolean },
  grid: BarGrid,
): Beats => {
  const barLine = beats(F.add(bar.start, bar.length));
  const sounds = parts.some((part) => part.notes.some(({ bar: index }) => index === bar.index));
  if (bar.pickup) return sounds || parts.length === 0 ? bar.length : note(0);
  const limit = longest(grid);
  const lengths = parts
    .flatMap((part) => {
      const others = parts.filter((other) => other !== part);
      return voices(part, bar, into).map((voice) =>
        beginning(runIntoBarLine(voice, barLine), bar, atEdge, others),
      );
    })
    .map((piece) => (piece === null ? note(0) : beats(F.sub(barLine, piece.onset))))
    .filter((length) => F.atMost(length, limit));
  return lengths.reduce((a, b) => beats(F.max(a, b)), note(0));
};
