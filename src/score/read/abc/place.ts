/** Lays the events of a voice's bar out in time and puts them into the draft of the part's bar. */
import { beats, F, type Fraction, type Place } from '../../../units/index.ts';
import { noMarks, type NoteMarks, type NoteValue, type WrittenNote } from '../../notes.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import { refuseTooFine } from '../drafts/values.ts';
import { beamsOf } from './beams.ts';
import type { Group, Head, Marks, VoiceBar } from './events.ts';
import { valueOf } from './values.ts';

/** Where a bar stands and who plays it. */
export interface Spot {
  readonly bar: number;
  readonly staff: number;
  /** Names of the voice itself and of its overlays. */
  readonly voices: (layer: number) => string;
  /** Length of a rest for the whole bar. */
  readonly wholeBar: Fraction;
  readonly nextId: () => string;
  readonly place: Place;
}

const soundingLength = (group: Group): Fraction => {
  const { actual, normal } = group.tuplet;
  return actual === normal ? group.length : F.mul(group.length, F.fraction(normal, actual));
};

/** How far a bar's notes and rests reach, rests for the whole bar left out; null where there are none. */
export const contentOf = ({ layers }: VoiceBar): Fraction | null => {
  let most: Fraction | null = null;
  for (const events of layers) {
    let sum: Fraction | null = null;
    for (const event of events)
      if (typeof event !== 'function' && event.kind !== 'grace' && !event.wholeBar)
        sum = F.add(sum ?? F.zero, soundingLength(event));
    if (sum !== null) most = F.max(most ?? F.zero, sum);
  }
  return most;
};

const marksOf = (
  own: Marks | null,
  shared: Marks | null,
  slurs: Head['slurs'],
  arpeggio: boolean,
): NoteMarks => {
  if (own === null && shared === null && slurs === null && !arpeggio) return noMarks;
  return {
    articulations: [...(shared?.articulations ?? []), ...(own?.articulations ?? [])],
    ornaments: [...(shared?.ornaments ?? []), ...(own?.ornaments ?? [])],
    technical: [...(shared?.technical ?? []), ...(own?.technical ?? [])],
    fermata: shared?.fermata === true || own?.fermata === true ? 'normal' : null,
    slurs: slurs ?? [],
    dynamics: [],
    arpeggio,
  };
};

/** What all heads of a group share. */
interface Shared {
  readonly onset: WrittenNote['onset'];
  readonly duration: WrittenNote['duration'];
  readonly value: NoteValue | null;
  readonly voice: string;
  readonly wholeBar: boolean;
  readonly beams: readonly string[];
}

const nothing: readonly never[] = [];

/** One written note: a head of a group, or null for the rest that it is. */
const writtenOf = (
  group: Group,
  head: Head | null,
  first: boolean,
  shared: Shared,
  spot: Spot,
): WrittenNote => {
  const { marks } = group;
  const arpeggio = marks?.arpeggio === true || head?.marks?.arpeggio === true;
  // Every field by name: a score has a million of these, and copies of half-made ones cost more than all else.
  return {
    id: spot.nextId(),
    kind: group.kind,
    bar: spot.bar,
    onset: shared.onset,
    duration: shared.duration,
    staff: spot.staff,
    voice: shared.voice,
    value: shared.value,
    tuplet: group.tuplet,
    tupletMarks: first ? (group.tupletMarks ?? nothing) : nothing,
    chord: !first,
    pitch: head?.pitch ?? null,
    display: head?.display ?? null,
    wholeBar: shared.wholeBar,
    tieStart: head?.tieStart ?? false,
    tieStop: head?.tieStop ?? false,
    slash: group.slash,
    cue: false,
    printed: !group.hidden,
    accidental: head?.accidental ?? '',
    stem: group.stem,
    notehead: '',
    beams: first ? shared.beams : nothing,
    marks: marksOf(head?.marks ?? null, first ? marks : null, head?.slurs ?? null, head !== null && arpeggio),
    lyrics: first ? (group.lyrics ?? nothing) : nothing,
  };
};

const placeLayer = (bar: VoiceBar, layer: number, out: MeasureDraft, spot: Spot): void => {
  const events = bar.layers[layer] ?? [];
  const groups = events.filter((event): event is Group => typeof event !== 'function');
  const values = new Map<Group, NoteValue | null>();
  for (const group of groups) values.set(group, group.wholeBar ? null : valueOf(group.length));
  const beams = beamsOf(groups, (group) => values.get(group) ?? null);
  const voice = spot.voices(layer);
  let cursor: Fraction = F.zero;
  for (const event of events) {
    const at = beats(cursor);
    if (typeof event === 'function') {
      event(at, out, spot);
      continue;
    }
    const grace = event.kind === 'grace';
    const whole = event.wholeBar && F.isZero(cursor);
    // A bar's rest behind notes fills what is left of the bar, if anything is.
    const left = event.wholeBar && !whole ? F.sub(spot.wholeBar, cursor) : spot.wholeBar;
    if (event.wholeBar && !F.isPositive(left)) continue;
    const duration = grace ? F.zero : event.wholeBar ? left : soundingLength(event);
    for (const put of event.puts ?? []) put(at, out, spot);
    const shared: Shared = {
      onset: at,
      duration: beats(duration),
      value: values.get(event) ?? null,
      voice,
      wholeBar: whole,
      beams: beams.get(event) ?? nothing,
    };
    if (event.kind === 'rest') out.notes.push(writtenOf(event, null, true, shared, spot));
    else
      event.heads.forEach((head, index) => {
        out.notes.push(writtenOf(event, head, index === 0, shared, spot));
      });
    cursor = F.add(cursor, duration);
    refuseTooFine(cursor, spot.place);
    if (whole) out.restExtent = F.max(out.restExtent, cursor);
    else out.extent = F.max(out.extent, cursor);
  }
};

/** Puts one voice's bar into the draft of its part. */
export const placeBar = (bar: VoiceBar, out: MeasureDraft, spot: Spot): void => {
  bar.layers.forEach((_, layer) => {
    placeLayer(bar, layer, out, spot);
  });
  out.repeats.push(...bar.repeats);
  out.endings.push(...bar.endings);
  out.styles.push(...bar.styles);
  if (bar.fermata) out.fermatas.push({ edge: 'right', shape: '' });
};
