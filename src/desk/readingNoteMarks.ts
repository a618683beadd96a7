/** The notes of a reading as pencil marks: all repetitions together, each on its written note. */
import type { WorkedDrill } from '../drill/workOut.ts';
import type { DisplacedNote, UnsureNote } from '../sheet/index.ts';
import { joined, ms, perceptionError, systematic } from './figure.ts';
import { pooled } from './findings/pooled.ts';
import { sure, type Sure } from './findings/weigh.ts';
import { heldAgainst } from './freeTimes.ts';
import { notesFromOthers } from './fromOthers.ts';
import type { Reading, ReadingNote } from './reading.ts';
import { numberIn, pageTexts } from './words/pages.ts';
import { shownNames, type TellingLanguage } from './words/index.ts';

type Read = Pick<Reading, 'parts' | 'notes' | 'written' | 'clock' | 'playing'>;

/** What is surely known of a note; `shared`: milliseconds, half of a 95 % interval, what is the same for all notes of its player. */
type Told = Sure & { readonly shared: number };

/** Milliseconds of each note from the others at its place; of one player alone who held to a click, from the click. */
const figuresOf = (
  reading: Read,
): { readonly kind: DisplacedNote['kind']; readonly by: ReadonlyMap<string, Told> } => {
  const { parts, notes, written, clock, playing } = reading;
  const known = (
    id: string,
    figure: Parameters<typeof sure>[0],
    shared: number,
  ): readonly (readonly [string, Told])[] => {
    const own = sure(figure);
    return own === null ? [] : [[id, { ...own, shared }]];
  };
  if (parts.length > 1)
    return {
      kind: 'apart',
      by: new Map(
        notesFromOthers(reading).flatMap(({ note, figure, shared }) => known(note.id, figure, shared)),
      ),
    };
  const alone = heldAgainst(notes, written).flatMap(
    ({ id, part, state, perceived, expected, perceivedUncertainty }) => {
      if (state !== 'heard' || perceived === null || playing === 'free' || !joined([part], clock)) return [];
      const [value, shared] = [ms * (perceived - expected), systematic([part], clock)];
      const half = 1.96 * ms * Math.hypot(perceivedUncertainty ?? 0, perceptionError(part, clock));
      return known(id, { value, low: value - half, high: value + half }, shared);
    },
  );
  return { kind: 'click', by: new Map(alone) };
};

/** Each written note that was to be played, with all that was heard of it. */
const byWritten = (
  notes: readonly ReadingNote[],
  noteOf: (id: string) => string | null,
): ReadonlyMap<string, { readonly note: string; readonly all: readonly ReadingNote[] }> => {
  const groups = new Map<string, { note: string; all: ReadingNote[] }>();
  for (const one of notes) {
    const note = noteOf(one.id);
    if (note === null) continue;
    const key = `${one.part}/${note}/${one.pass}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { note, all: [one] });
    else group.all.push(one);
  }
  return groups;
};

/**
 * One standard deviation in seconds below which a time is rough only because what was heard may not be this note (another player's at the same
 * pitch, a louder one, a second rise): by its width it would be sure (src/listen/mix/refineJudge.ts).
 */
const knownWell = 0.02;

/** Marks of all notes of which something is to be said. */
export const noteMarks = (
  worked: WorkedDrill,
  reading: Read,
  language: TellingLanguage,
): readonly (DisplacedNote | UnsureNote)[] => {
  const texts = pageTexts[language];
  const name = shownNames(reading);
  const source = new Map(worked.timeline.notes.map(({ id, note }) => [id, note]));
  const { kind, by } = figuresOf(reading);
  const free = new Set(reading.written.flatMap((one) => (one.free === undefined ? [] : [one.id])));
  const groups = [...byWritten(reading.notes, (id) => source.get(id) ?? null).values()];
  return groups.flatMap(({ note, all }, i): readonly (DisplacedNote | UnsureNote)[] => {
    const [first] = all;
    if (first === undefined) return [];
    const { part, pass, bar, beat } = first;
    const title = texts.place(name(part), bar, beat);
    const common = { id: `mark-note-${i + 1}`, part, note, pass, title };
    const figures = all.flatMap(({ id }) => by.get(id) ?? []);
    if (figures.length === 0) {
      // Nothing is asked of a note whose beginning is free.
      if (all.some(({ id, state }) => state === 'heard' || free.has(id))) return [];
      const missing = all.every(({ state }) => state === 'missing');
      const rough = all.flatMap(({ state, perceivedUncertainty }) =>
        state === 'rough' && perceivedUncertainty !== null ? [perceivedUncertainty] : [],
      );
      const least = Math.min(...rough);
      return [
        {
          ...common,
          kind: missing ? 'missing' : rough.length > 0 ? 'rough' : 'unsure',
          desc: missing
            ? texts.missing
            : rough.length > 0
              ? texts.rough(numberIn(1.96 * ms * least, 0, texts.point), least < knownWell)
              : texts.notSure,
        },
      ];
    }
    const shared = Math.min(...figures.map((one) => one.shared));
    const figure = pooled(figures, shared);
    if (figure === null) return [];
    const { value, low, high } = figure;
    const whom = kind === 'apart' ? texts.others : texts.click;
    const told = low > 0 || high < 0;
    const size = (of: number): string => numberIn(told ? Math.abs(of) : of, 0, texts.point);
    const ends =
      value < 0 && told ? { low: size(high), high: size(low) } : { low: size(low), high: size(high) };
    const over = figures.length > 1 ? `, ${texts.times(figures.length)}` : '';
    const desc = told
      ? `${size(value)} ms ${value > 0 ? texts.after : texts.before} ${whom}${over}, ${texts.between({ value: size(value), ...ends })}`
      : `${texts.together}: ${size(value)} ms${over}, ${texts.between({ value: size(value), ...ends })}`;
    return [{ ...common, kind, value, low, high, desc }];
  });
};
