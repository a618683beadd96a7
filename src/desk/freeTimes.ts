/**
 * Notes whose beginning is their player's own affair, so that nobody is held against them there: an appoggiatura takes the beat, and how much of it is
 * not written; of a rolled chord it is not written which note stands on the beat; a continuo is realised as it is played. Common practice, no source.
 */
import type { WorkedDrill } from '../drill/workOut.ts';
import { secondsAtPosition } from '../rhythm/tempo.ts';
import type { Part } from '../score/model.ts';
import type { WrittenNote } from '../score/notes.ts';
import { F, plus, problem, secondsNumber, type Problem } from '../units/index.ts';
import type { Reading, ReadingNote } from './reading.ts';

/** Why a note's beginning is free. */
export const freeTimes = ['grace', 'rolled', 'continuo'] as const;
export type FreeTime = (typeof freeTimes)[number];

/** What the part of a figured bass is called. */
const continuo = /continuo|\bb\. ?c\.|general-?bass|basse chiffrée|figured bass|thorough-?bass/i;

const stemOf = ({ onset, staff, voice }: WrittenNote): string => `${F.format(onset)}/${staff}/${voice}`;

const freeIn = ({ name, staves, written, notes }: Part): readonly (readonly [string, FreeTime])[] => {
  const sounding = written.filter(({ cue }) => !cue);
  const stems = (of: (note: WrittenNote) => boolean): ReadonlySet<string> =>
    new Set(sounding.filter(of).map(stemOf));
  const leant = stems(({ kind }) => kind === 'grace');
  const rolled = stems(({ kind, marks }) => kind === 'note' && marks.arpeggio);
  const byId = new Map(sounding.map((note) => [note.id, note]));
  const realised = continuo.test(name) ? staves - 1 : 0;
  return notes.flatMap(({ id, staff }): readonly (readonly [string, FreeTime])[] => {
    const own = byId.get(id);
    if (own === undefined) return [];
    // The bass itself, on the lowest staff, is written and read like any other line.
    if (staff <= realised) return [[id, 'continuo']];
    if (rolled.has(stemOf(own))) return [[id, 'rolled']];
    return leant.has(stemOf(own)) ? [[id, 'grace']] : [];
  });
};

/** Of the score's notes, by their ids, those that are free. */
export const freeNotes = (parts: readonly Part[]): ReadonlyMap<string, FreeTime> =>
  new Map(parts.flatMap(freeIn));

/** The notes as far as players may be held against each other by their beginnings: those that are free count as unsure. What was heard of them stands in the reading. */
export const heldAgainst = <T extends ReadingNote>(
  notes: readonly T[],
  written: Reading['written'],
): readonly (T | (T & { readonly state: 'unsure' }))[] => {
  const free = new Set(written.flatMap(({ id, free: why }) => (why === undefined ? [] : [id])));
  return free.size === 0
    ? notes
    : notes.map((note) => (free.has(note.id) ? { ...note, state: 'unsure' as const } : note));
};

/** Seconds before a note with an ornament or small notes in which these may begin. Our choice. */
const before = 0.4;

/**
 * Whether a note that is not in the score may be an ornament at this time of the drill: a repeat is ornamented as its player likes, trills begin and end freely, small
 * notes stand before their note, and a continuo has more notes than are written. Such a note is no added one.
 */
export const mayOrnament = (
  { parts, timeline: { bars, notes, tempo } }: WorkedDrill,
  partId: string,
): ((time: number) => boolean) => {
  const part = parts.find(({ id }) => id === partId);
  if (part === undefined) return () => false;
  if (continuo.test(part.name)) return () => true;
  const free = freeNotes([part]);
  const trilled = new Set(part.written.filter(({ marks }) => marks.ornaments.length > 0).map(({ id }) => id));
  const at = (position: (typeof bars)[number]['start']): number =>
    secondsNumber(secondsAtPosition(tempo, position));
  const spans = [
    ...bars
      .filter(({ kind, pass }) => kind === 'bar' && (pass ?? 1) > 1)
      .map(({ start, length }) => [at(start), at(plus(start, length))] as const),
    ...notes
      .filter((event) => event.part === partId && (free.has(event.note) || trilled.has(event.note)))
      .map(({ time, duration }) => {
        const from = secondsNumber(time);
        return [from - before, from + secondsNumber(duration)] as const;
      }),
  ];
  return (time) => spans.some(([from, to]) => time >= from && time < to);
};

/** Bars that are named one by one, at most. */
const mostBars = 12;

const barsOf = (notes: readonly ReadingNote[]): string => {
  const bars = [...new Set(notes.map(({ bar }) => bar))].filter((bar) => bar !== '');
  return [...bars.slice(0, mostBars), ...(bars.length > mostBars ? ['…'] : [])].join(', ');
};

/** What is not told for that reason, and where. */
export const freeSaid = ({
  notes,
  written,
  parts,
}: Pick<Reading, 'notes' | 'written' | 'parts'>): readonly Problem[] => {
  const why = new Map(written.map(({ id, free }) => [id, free]));
  const of = (kind: FreeTime): readonly ReadingNote[] => notes.filter(({ id }) => why.get(id) === kind);
  const [leant, rolled, realised] = [of('grace'), of('rolled'), of('continuo')];
  return [
    ...(leant.length === 0
      ? []
      : [
          problem(
            'note',
            'appoggiatura-free',
            `Notes with small notes before them (bars ${barsOf(leant)}) are held against nobody in time: an appoggiatura takes the beat, and how much of it is the player's own.`,
          ),
        ]),
    ...(rolled.length === 0
      ? []
      : [
          problem(
            'note',
            'rolled-chord-free',
            `Rolled chords (bars ${barsOf(rolled)}) are held against nobody in time: which of their notes stands on the beat is the player's own.`,
          ),
        ]),
    ...(realised.length === 0
      ? []
      : [
          problem(
            'note',
            'continuo-free',
            `What ${parts
              .filter(({ id }) => realised.some(({ part }) => part === id))
              .map(({ name }) => name)
              .join(
                ', ',
              )} plays above the bass is held against nobody: a continuo is realised as it is played.`,
          ),
        ]),
  ];
};
