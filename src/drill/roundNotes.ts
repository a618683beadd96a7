/** The notes of one round: the score's sounding notes on the round's axis. */
import { beatText, type BarGrid } from '../rhythm/beats.ts';
import type { Part } from '../score/model.ts';
import type { Note } from '../score/notes.ts';
import { beats, F, type Beats } from '../units/index.ts';
import type { NoteEvent } from './model.ts';
import type { Round, Stretch } from './round.ts';

/** A note before its repetition and time are known. */
export type RoundNote = Omit<NoteEvent, 'id' | 'time' | 'duration' | 'rep'>;

/** Stretches that follow each other in the writing too, so that a note may sound through. */
type Flow = readonly Stretch[];

const writtenStart = ({ bar, offset }: Stretch): Beats => beats(F.add(bar.start, offset));
const writtenEnd = (stretch: Stretch): Beats => beats(F.add(writtenStart(stretch), stretch.length));

const flows = (round: Round): readonly Flow[] => {
  const result: Stretch[][] = [];
  for (const stretch of round.bars) {
    if (stretch.kind !== 'bar') continue;
    const last = result.at(-1);
    const before = last?.at(-1);
    if (last !== undefined && before !== undefined && F.equal(writtenEnd(before), writtenStart(stretch))) {
      last.push(stretch);
    } else result.push([stretch]);
  }
  return result;
};

/** Index of the first stretch of a flow whose written end is accepted; stretches are in written order. */
const firstEnding = (flow: Flow, accepts: (until: Beats) => boolean): number => {
  let [low, high] = [0, flow.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    const stretch = flow[middle];
    if (stretch !== undefined && accepts(writtenEnd(stretch))) high = middle;
    else low = middle + 1;
  }
  return low;
};

/** Where on the round's axis a written place lies. `end`: it closes a note, so it belongs to the stretch it ends. */
const placeIn = (
  flow: Flow,
  written: Beats,
  end: boolean,
): { readonly stretch: Stretch; readonly at: Beats } | null => {
  const found = firstEnding(flow, (until) => (end ? F.atMost(written, until) : F.less(written, until)));
  const stretch = flow[found];
  if (stretch === undefined) return null;
  return { stretch, at: beats(F.add(stretch.start, F.sub(written, writtenStart(stretch)))) };
};

const eventIn = (
  flow: Flow,
  { from, to }: { readonly from: Beats; readonly to: Beats },
  found: Note,
  entering: boolean,
  grids: readonly BarGrid[],
  kept: (found: Note) => boolean,
): readonly RoundNote[] => {
  if (!F.less(found.onset, to)) return [];
  const ends = beats(F.add(found.onset, found.duration));
  if (F.atMost(ends, from)) return [];
  // A note held over from before sounds on where the passage begins, but not after a jump, where nobody plays it.
  if (F.less(found.onset, from) && !entering) return [];
  const begin = placeIn(flow, beats(F.max(found.onset, from)), false);
  const close = placeIn(flow, beats(F.min(ends, to)), true);
  const grid = begin === null ? undefined : grids[begin.stretch.bar.index];
  if (begin === null || close === null || grid === undefined) return [];
  const offset = beats(F.sub(F.max(found.onset, from), begin.stretch.bar.start));
  return [
    {
      note: found.id,
      part: found.part,
      at: begin.at,
      length: beats(F.sub(close.at, begin.at)),
      bar: begin.stretch.bar.number,
      barIndex: begin.stretch.bar.index,
      beat: beatText(grid, offset),
      pass: begin.stretch.visit.pass,
      midi: found.midi,
      kept: kept(found),
    },
  ];
};

/**
 * The sounding notes of `parts` in a round, by position. A note held into the passage is cut to what lies in it; a
 * note held through a fermata's recount lasts through it.
 */
export const roundNotes = (
  round: Round,
  parts: readonly Part[],
  grids: readonly BarGrid[],
  kept: (found: Note) => boolean,
): readonly RoundNote[] =>
  flows(round)
    .flatMap((flow, i) => {
      const [first] = flow;
      const last = flow.at(-1);
      if (first === undefined || last === undefined) return [];
      const span = { from: writtenStart(first), to: writtenEnd(last) };
      return parts.flatMap((part) =>
        part.notes.flatMap((found) => eventIn(flow, span, found, i === 0, grids, kept)),
      );
    })
    .sort((a, b) => F.compare(a.at, b.at));
