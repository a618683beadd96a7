/** Beams and slurs as they run from note to note. Source: Humdrum reference, **kern: L, J, K, k; "(", ")" and "&". */
import type { WrittenNote } from '../../notes.ts';
import { notKept } from '../drafts/log.ts';
import type { Desk, PartState, Strand } from './types.ts';
import type { KernNote } from './token.ts';

/** MusicXML knows eight beams, one above the other. */
const mostBeams = 8;
const most = (count: number): number => Math.min(count, mostBeams);

/** The beams of one note, outermost first, and how many stay open after it. */
const beamsAt = (open: number, { open: begun, close, left, right }: KernNote['beams']) => {
  const ended = Math.min(open, close);
  const after = most(open - ended + begun);
  const beams = [
    ...Array.from({ length: open }, (_, level) => (level < open - ended ? 'continue' : 'end')),
    ...Array.from({ length: most(open + begun) - open }, () => 'begin'),
    ...Array.from({ length: most(left) }, () => 'backward hook'),
    ...Array.from({ length: most(right) }, () => 'forward hook'),
  ];
  return { beams: beams.slice(0, mostBeams), after };
};

/** Takes a note's signs into account. Grace notes have beams of their own; rests have them only where they bear signs. */
export const takeBeams = (strand: Strand, token: KernNote): readonly string[] => {
  const grace = token.grace !== 'none';
  const { beams, after } = beamsAt(grace ? strand.graceBeams : strand.beams, token.beams);
  if (grace) strand.graceBeams = after;
  else strand.beams = after;
  const { open, close, left, right } = token.beams;
  return token.rest > 0 && open + close + left + right === 0 ? [] : beams;
};

type Slur = WrittenNote['marks']['slurs'][number];

/** How many slurs may be open at once in a part. */
const mostSlurs = 99;

/**
 * Numbers the slurs of a note: each end belongs to the last beginning with as many elision signs, in its own voice first,
 * then in its spine, and at last to the one that began last in its voice.
 */
export const takeSlurs = (
  desk: Desk,
  part: number,
  state: PartState,
  token: KernNote,
  track: number,
  voice: string,
): readonly Slur[] => {
  const { slurs } = state;
  const result: Slur[] = [];
  for (const elisions of token.slurStops) {
    const fits = (alike: boolean, own: boolean): number =>
      slurs.findLastIndex(
        (slur) =>
          (!alike || slur.elisions === elisions) && slur.track === track && (!own || slur.voice === voice),
      );
    // Files in use forget the elision sign at one of the two ends: then the slur that began last is meant.
    const index = [fits(true, true), fits(true, false), fits(false, true)].find((one) => one >= 0) ?? -1;
    const slur = slurs[index];
    if (slur === undefined)
      desk.log.tally(
        'repair',
        'slur-unpaired',
        'stop',
        (many) =>
          `A slur ends that did not begin on an earlier note of its column (${many}); it is left out.`,
        desk.place(part),
      );
    else {
      slurs.splice(index, 1);
      result.push({ type: 'stop', number: slur.number });
    }
  }
  for (const elisions of token.slurStarts) {
    const used = new Set(slurs.map(({ number }) => number));
    let number = 1;
    while (used.has(number)) number += 1;
    if (number > mostSlurs) {
      notKept(desk.log, 'slur/many', 'A slur among more than 99 at once', desk.place(part));
      continue;
    }
    slurs.push({ number, elisions, track, voice });
    result.push({ type: 'start', number });
  }
  return result;
};
