/** Signs that repeat a beat, half a bar or bars: what they stand for is copied, so that it sounds. */
import { beats, F, type Fraction, type Place } from '../../../units/index.ts';
import { metreLength } from '../../metre.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import { notKept } from '../drafts/log.ts';
import { attribute, type XmlElement } from '../xml.ts';
import { whole } from './values.ts';
import { fresh, keep, type Setting } from './events.ts';
import { spend, type StaffState, type World } from './state.ts';

/** The length of a full bar; a whole note where there is no metre. */
export const fullBarOf = ({ metre }: StaffState): Fraction =>
  (metre === null ? null : metreLength(metre)) ?? F.one;

/** One beat: the metre's unit, three of them in compound time. */
const beatOf = ({ metre }: StaffState): Fraction => {
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
 * the copied stretch, slurs and lyrics stay behind. The result is how far the copies reach.
 */
export const copyBack = (
  copying: Copying,
  source: number,
  from: Fraction,
  to: Fraction | null,
  at: Fraction,
): Fraction => {
  const { world, staff, layer, voice, bar, place } = copying;
  spend(world, staff.drawn.get(source)?.length ?? 0);
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
  // A copied note takes memory too.
  spend(world, 500 * notes.length);
  const last = notes.reduce((end, { note }) => F.max(end, F.add(note.onset, note.duration)), F.zero);
  const end = to ?? last;
  let reach = at;
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
    else reach = F.max(reach, F.add(copy.onset, copy.duration));
    keep(setting, copy, { accid: drawn.accid, performed: drawn.performed, octaveGiven: drawn.octaveGiven });
  }
  return reach;
};

/** Plays out one sign that repeats what is before it; the result is how far the layer reaches then. */
export const readRepeatSign = (element: XmlElement, cursor: Fraction, copying: Copying): Fraction => {
  const { staff, bar, world, layer, place } = copying;
  const full = fullBarOf(staff);
  notKept(
    world.log,
    'measure-style',
    'A short way of drawing bars (bar rests in one sign, slashes, repeat signs for bars)',
    place,
  );
  if (element.name === 'halfmRpt' || element.name === 'beatRpt') {
    const length = element.name === 'halfmRpt' ? F.mul(full, F.fraction(1, 2)) : beatOf(staff);
    const inside = F.atMost(length, cursor);
    const from = inside ? F.sub(cursor, length) : F.sub(full, length);
    copyBack(copying, inside ? bar : bar - 1, from, F.add(from, length), cursor);
    return F.add(cursor, length);
  }
  const given = element.name === 'multiRpt' ? (whole(attribute(element, 'num'), 1, 999) ?? 1) : 1;
  const count = element.name === 'mRpt2' ? 2 : given;
  const reach = copyBack(copying, bar - count, F.zero, null, F.zero);
  if (count > 1) staff.several.set(layer, { kind: 'copy', count, bar, left: count - 1 });
  return F.max(cursor, F.max(reach, full));
};
