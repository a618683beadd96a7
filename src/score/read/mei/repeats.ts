/** Signs that repeat a beat, half a bar or bars: what they stand for is copied, so that it sounds. */
import { beats, F, type Fraction, type Place } from '../../../units/index.ts';
import { metreLength } from '../../metre.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import { fresh, keep, type Setting } from './events.ts';
import type { StaffState, World } from './state.ts';

/** The length of a full bar; a whole note where there is no metre. */
export const fullBarOf = ({ metre }: StaffState): Fraction =>
  (metre === null ? null : metreLength(metre)) ?? F.one;

/** One beat: the metre's unit, three of them in compound time. */
export const beatOf = ({ metre }: StaffState): Fraction => {
  const component = metre?.components[0];
  if (component === undefined) return F.fraction(1, 4);
  const [first = 4] = component.numerators;
  const compound = component.numerators.length === 1 && component.unit >= 8 && first > 3 && first % 3 === 0;
  return F.fraction(compound ? 3 : 1, component.unit);
};

export interface Copying {
  readonly world: World;
  readonly staff: StaffState;
  readonly layer: string;
  readonly voice: string;
  readonly bar: number;
  readonly place: Place;
  readonly draft: MeasureDraft;
}

/**
 * Copies what the layer has in `source` from `from` up to `to` (null: all) to the position `at` of this bar. Ties into and out of
 * the copied stretch, slurs and lyrics stay behind.
 */
export const copyBack = (
  copying: Copying,
  source: number,
  from: Fraction,
  to: Fraction | null,
  at: Fraction,
): void => {
  const { world, staff, layer, voice, bar, place } = copying;
  // A copy of the list, since copies are added to it where the source is this very bar.
  const notes = [...(staff.drawn.get(source) ?? [])].filter(
    ({ note, layer: own }) =>
      own === layer && F.atMost(from, note.onset) && (to === null || F.less(note.onset, to)),
  );
  if (notes.length === 0)
    world.log.say(
      'repair',
      'repeat-nothing',
      'A sign repeats what stands before it, but nothing does; it is left out.',
      place,
    );
  const last = notes.reduce((end, { note }) => F.max(end, F.add(note.onset, note.duration)), F.zero);
  const end = to ?? last;
  for (const drawn of notes) {
    const { note } = drawn;
    const setting: Setting = {
      world,
      staff,
      bar,
      layer,
      voice,
      at: F.add(at, F.sub(note.onset, from)),
      ratio: note.tuplet,
      grace: null,
      cue: note.cue,
      place,
    };
    const noteEnd = F.add(note.onset, note.duration);
    const copy = fresh(setting, F.sub(F.min(noteEnd, end), note.onset));
    const { id, onset, duration } = copy;
    Object.assign(copy, note, { id, onset, duration, bar, lyrics: [], tupletMarks: [...note.tupletMarks] });
    copy.marks = {
      ...note.marks,
      articulations: [...note.marks.articulations],
      ornaments: [...note.marks.ornaments],
      technical: [...note.marks.technical],
      slurs: [],
    };
    if (F.atMost(note.onset, from)) copy.tieStop = false;
    if (F.atMost(end, noteEnd)) copy.tieStart = false;
    if (F.less(end, noteEnd)) copy.value = null;
    copy.onset = beats(copy.onset);
    if (copy.wholeBar) world.barRests.push({ note: copy, draft: copying.draft, bar, full: fullBarOf(staff) });
    keep(setting, copy, { accid: drawn.accid, performed: drawn.performed, octaveGiven: drawn.octaveGiven });
  }
};
