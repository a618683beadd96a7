/**
 * Accidentals of files that write them as the page shows them and say nothing of how the notes sound: the key signature, and the
 * accidentals before in the bar, on the same line, hold (common practice of common notation, no source). A tied note
 * keeps what it is tied to.
 */
import { F } from '../../../units/index.ts';
import { alterOf } from './pitches.ts';
import type { Drawn, StaffState } from './state.ts';

const inTime = (a: Drawn, b: Drawn): number =>
  F.compare(a.note.onset, b.note.onset) ||
  (a.note.kind === 'grace' ? 0 : 1) - (b.note.kind === 'grace' ? 0 : 1) ||
  a.order - b.order;

/** Sets the alterations of one staff in one bar; the number of notes that are altered without a sign of their own. */
export const applyImplied = (staff: StaffState, bar: number, keptByTies: Map<string, number>): number => {
  const inBar = new Map<string, number>();
  let altered = 0;
  for (const { note, accid, performed } of (staff.drawn.get(bar) ?? []).toSorted(inTime)) {
    if (note.pitch === null) continue;
    const line = `${note.pitch.step}${note.pitch.octave}`;
    const tied = `${staff.n} ${line}`;
    const own = alterOf(accid);
    if (own !== null) inBar.set(line, own);
    if (own === null && !performed) {
      const before = note.tieStop ? keptByTies.get(tied) : undefined;
      const alter = before ?? inBar.get(line) ?? staff.keys.get(bar)?.alters.get(note.pitch.step) ?? 0;
      if (alter !== 0) altered += 1;
      note.pitch = { ...note.pitch, alter };
    }
    if (note.tieStart) keptByTies.set(tied, note.pitch.alter);
    else keptByTies.delete(tied);
  }
  return altered;
};
