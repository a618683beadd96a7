/**
 * Where the tempo gives way gradually: from words such as "rit." or "accel." up to the first of
 *   - the next printed tempo mark, change of beat or tempo words of any kind;
 *   - the end of a dashed line that begins with the word (up to the tempo mark that follows it within the bar);
 *   - a double or final bar line, a fermata over a bar line, or the beginning or end of a repeat;
 *   - the end of the next note or rest under a fermata;
 *   - the end of the fourth bar, the bar of the word being the first.
 * A dashed line or a fourth bar that ends inside the last bar before one of the others ends there.
 * All of it is common practice, no source. Playback tempi that the page does not show end nothing.
 */
import type { Bar, Mark, Score } from '../score/model.ts';
import { F, beats, plus, remembered, type Beats } from '../units/index.ts';
import { readTempoWords } from './tempoWords.ts';

export interface GradualSpan {
  /** Written positions. */
  readonly from: Beats;
  readonly to: Beats;
  /** The words as printed. */
  readonly text: string;
  readonly change: 'slower' | 'faster';
  /** Index of the bar of the words. */
  readonly bar: number;
  /** The printed tempo at its end, unless "a tempo" or the like stands there too; null where there is none. */
  readonly goal: Extract<Mark, { kind: 'tempo' }> | null;
}

/** A change without an end is taken to last for so many bars. Common practice, no source. */
const longestGradual = 4;

export interface Words {
  readonly at: Beats;
  readonly bar: number;
  readonly text: string;
}

/** Tempo words of the score, and words of single parts that speak of the tempo; each position's text once. */
export const tempoWordsOf = (score: Score): readonly Words[] => {
  const all: Words[] = score.marks.filter((mark) => mark.kind === 'tempoWords');
  for (const { directions } of score.parts)
    for (const { kind, value, at, bar } of directions) {
      if (kind !== 'words') continue;
      const { change, back } = readTempoWords(value);
      if (change !== null || back !== null) all.push({ at, bar, text: value });
    }
  all.sort((a, b) => F.compare(a.at, b.at));
  const seen = new Set<string>();
  return all.filter(({ at, text }) => {
    const key = `${F.format(at)} ${text}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
};

/** The gradual changes of tempo of a score, by position. */
export const gradualSpans = remembered((score: Score): readonly GradualSpan[] => {
  const words = tempoWordsOf(score);
  const spans: GradualSpan[] = [];
  for (const { at, bar, text } of words) {
    const { change } = readTempoWords(text);
    if (change === null || spans.some(({ from }) => F.equal(from, at))) continue;
    const next = nextEvent(score, words, at);
    const hard = earliest([next?.at ?? null, sectionEnd(score.bars, at), fermataEnd(score, at)]);
    const dashed = dashesEnd(score, at);
    const given =
      dashed !== null && (next === null || !sameBarOrItsEnd(score.bars, dashed, next.at)) ? dashed : null;
    const soft = earliest([given, limitEnd(score.bars, at)]);
    if (hard === null || soft === null) continue;
    const to = F.less(soft, hard) && !inLastBar(score.bars, soft, hard) ? soft : hard;
    if (!F.less(at, to)) continue;
    spans.push({ from: at, to, text, change, bar, goal: goalAt(score, words, to) });
  }
  return spans;
});

/** The next printed tempo mark, change of beat or tempo words after a position. */
const nextEvent = (score: Score, words: readonly Words[], at: Beats): { at: Beats } | null => {
  const marks = score.marks.filter(
    (mark) => mark.kind === 'relation' || (mark.kind === 'tempo' && mark.printed),
  );
  let next: { at: Beats } | null = null;
  for (const event of [...marks, ...words])
    if (F.less(at, event.at) && (next === null || F.less(event.at, next.at))) next = event;
  return next;
};

const goalAt = (score: Score, words: readonly Words[], at: Beats): GradualSpan['goal'] => {
  if (words.some((word) => F.equal(word.at, at) && readTempoWords(word.text).back !== null)) return null;
  for (const mark of score.marks)
    if (mark.kind === 'tempo' && mark.printed && F.equal(mark.at, at)) return mark;
  return null;
};

const endOf = (bar: Bar): Beats => plus(bar.start, bar.length);

const earliest = (ends: readonly (Beats | null)[]): Beats | null =>
  ends
    .filter((end) => end !== null)
    .reduce<Beats | null>((a, b) => (a === null ? b : beats(F.min(a, b))), null);

/** The double or final bar line, the bar line under a fermata, or the edge of a repeat, at which a change that begins at `at` ends in any case. */
const sectionEnd = (bars: readonly Bar[], at: Beats): Beats | null => {
  const closing = bars.find(
    (bar, i) =>
      F.less(at, endOf(bar)) &&
      (i === bars.length - 1 ||
        bar.barline === 'double' ||
        bar.barline === 'final' ||
        bar.fermata ||
        bar.repeatEnd > 0 ||
        bars[i + 1]?.repeatStart === true),
  );
  return closing === undefined ? null : endOf(closing);
};

/** The end of the last bar that a change without an end is taken to last for. */
const limitEnd = (bars: readonly Bar[], at: Beats): Beats | null => {
  const first = bars.findIndex((bar) => F.less(at, endOf(bar)));
  const bar = bars[Math.min(first + longestGradual, bars.length) - 1];
  return first < 0 || bar === undefined ? null : endOf(bar);
};

/** Whether `place` lies in the bar that ends at `end`. */
const inLastBar = (bars: readonly Bar[], place: Beats, end: Beats): boolean => {
  const bar = bars.find((one) => F.less(place, endOf(one)));
  return bar !== undefined && F.equal(endOf(bar), end);
};

const fermataEnd = (score: Score, at: Beats): Beats | null => {
  let onset: Beats | null = null;
  let end: Beats | null = null;
  for (const { written } of score.parts)
    for (const note of written) {
      if (note.marks.fermata === null || F.less(note.onset, at)) continue;
      const stop = plus(note.onset, note.duration);
      if (
        onset === null ||
        F.less(note.onset, onset) ||
        (F.equal(note.onset, onset) && end !== null && F.less(end, stop))
      ) {
        onset = note.onset;
        end = stop;
      }
    }
  return end;
};

/** The end of a dashed line that begins with the word. */
const dashesEnd = (score: Score, at: Beats): Beats | null => {
  for (const { directions } of score.parts) {
    const begins = directions.find((d) => d.kind === 'dashes' && d.value === 'start' && F.equal(d.at, at));
    if (begins === undefined) continue;
    const ends = directions.find(
      (d) => d.kind === 'dashes' && d.value === 'stop' && d.number === begins.number && F.less(at, d.at),
    );
    if (ends !== undefined) return ends.at;
  }
  return null;
};

const sameBarOrItsEnd = (bars: readonly Bar[], a: Beats, b: Beats): boolean => {
  const bar = bars.find((one) => F.less(a, endOf(one)));
  return bar !== undefined && F.atMost(a, b) && F.atMost(b, endOf(bar));
};
