/**
 * Where metre or tempo change: a metre signature other than the one before within a movement; a printed tempo mark, a change of beat, or tempo
 * words after the movement has begun. What is printed is what counts; a tempo for playback only is none, nor is a figure without words within
 * a tenth of the tempo before it: files write a rit. or its playback so, step by step (our definition).
 */
import { tempoWordsOf } from '../rhythm/gradual.ts';
import { metreText } from '../score/metre.ts';
import { F, type Beats } from '../units/index.ts';
import { noFacts, type Place } from './model.ts';
import type { Music } from './music.ts';
import { spotIn } from './spot.ts';

const begins = (music: Music, bar: number): boolean => bar === 0 || music.heads.has(bar);

const placeAt = (
  music: Music,
  kind: 'metre-change' | 'tempo-change',
  bar: number,
  at: Beats,
  text: string,
): Place => {
  const spot = spotIn(music, bar, at);
  const parts = music.players.map(({ part }) => part.id);
  return { kind, value: null, parts, from: spot, to: spot, seams: [], facts: { ...noFacts, text } };
};

export const metreChanges = (music: Music): readonly Place[] =>
  music.score.bars.flatMap(({ index, start, metre }) => {
    const before = music.score.bars[index - 1];
    if (before === undefined || begins(music, index) || metreText(before.metre) === metreText(metre))
      return [];
    return [
      placeAt(music, 'metre-change', index, start, `${metreText(before.metre)} to ${metreText(metre)}`),
    ];
  });

/** A figure that differs by less, without words beside it, is a step of playback. */
const leastStep = 0.1;

/** The figures of a score that count, each with its place. */
const figuresOf = ({ score }: Music): readonly { at: Beats; bar: number; text: string }[] => {
  let before: number | null = null;
  return score.marks.flatMap((mark) => {
    if (mark.kind === 'relation') return [{ at: mark.at, bar: mark.bar, text: 'a new beat' }];
    if (mark.kind !== 'tempo') return [];
    const figure = F.toNumber(mark.perMinute);
    const pace = figure * F.toNumber(mark.unit);
    const step = before === null ? 1 : Math.abs(pace - before) / before;
    before = pace;
    if (!mark.printed || step < leastStep) return [];
    return [{ at: mark.at, bar: mark.bar, text: `${F.format(mark.unit)} = ${Number(figure.toFixed(2))}` }];
  });
};

export const tempoChanges = (music: Music): readonly Place[] => {
  const told = [...figuresOf(music), ...tempoWordsOf(music.score)].sort((a, b) => F.compare(a.at, b.at));
  const places: Place[] = [];
  const last = music.score.bars.at(-1);
  for (const { at, bar: written, text } of told) {
    // A mark on the bar line at the end of its bar stands at the beginning of the next; at the very end it changes nothing.
    const next = music.score.bars[written + 1];
    const bar = next !== undefined && F.atMost(next.start, at) ? written + 1 : written;
    if (last !== undefined && F.atMost(F.add(last.start, last.length), at)) continue;
    const start = music.score.bars[bar]?.start;
    if (start === undefined || (begins(music, bar) && F.equal(at, start))) continue;
    const before = places.at(-1);
    if (before !== undefined && F.equal(before.from.at, at)) {
      const facts = { ...before.facts, text: `${before.facts.text}, ${text}` };
      places[places.length - 1] = { ...before, facts };
    } else places.push(placeAt(music, 'tempo-change', bar, at, text));
  }
  return places;
};
