/** What the players' hands do to the journal: takes told by ears, takes that were read, what was decided. */
import {
  afterTake,
  journalOf,
  journalTake,
  putRight,
  stepKey,
  takesAt,
  toldTake,
  type AfterTake,
  type JournalTake,
  type ListedPlace,
  type Piece,
  type ReadForJournal,
  type Rehearsal,
  type Take,
} from '../../desk/index.ts';
import { freshTag } from '../../host/browser/index.ts';
import type { Keeper } from '../shelf/keeping.ts';
import { dayOf, today } from './day.ts';
import type { Step } from './steps.ts';

export type Decision = Exclude<JournalTake['decided'], ''>;

/** A rehearsal is a day of an ensemble: the same on the devices of all. */
export const rehearsalId = (ensemble: string, day: string): string => `${ensemble}.${day}`;

export const emptyRehearsal = (ensemble: string, day: string): Rehearsal => ({
  format: 'levare.rehearsal/1',
  id: rehearsalId(ensemble, day),
  ensemble,
  day,
  minutes: 60,
  present: {},
  concert: '',
  plan: [],
  stamps: {},
});

const takesOfRehearsal = (keeper: Keeper, rehearsal: string): number =>
  [...keeper.now.state.records.values()].filter(
    (record) => record.kind === 'journal-take' && record.value.rehearsal === rehearsal,
  ).length;

/** Journal takes of a place, oldest first. */
export const takesHere = (keeper: Keeper, piece: Piece, place: ListedPlace): readonly JournalTake[] =>
  takesAt(journalOf(keeper.now.state.records.values()), piece.id, place.key);

const begun = (keeper: Keeper, { ensemble }: Piece, day: string): string => {
  const id = rehearsalId(ensemble, day);
  if (!keeper.now.state.records.has(`rehearsal:${id}`))
    keeper.add({ kind: 'rehearsal', value: emptyRehearsal(ensemble, day) });
  return id;
};

const put = (keeper: Keeper, take: JournalTake, piece: Piece, place: ListedPlace): void => {
  const after = afterTake([...takesHere(keeper, piece, place), take], place.steps);
  keeper.add({ kind: 'journal-take', value: { ...take, proposed: after?.proposed.proposal ?? '' } });
};

/** The players say of what they have just played that it held, or not yet. */
export const tell = (
  keeper: Keeper,
  piece: Piece,
  place: ListedPlace,
  step: Step,
  told: 'held' | 'not-yet',
): void => {
  const day = today();
  const rehearsal = begun(keeper, piece, day);
  const take = toldTake(
    told,
    { bars: step.bars, playing: step.click === 'none' ? 'free' : 'click', parts: place.parts },
    {
      id: `${rehearsal}.${freshTag()}`,
      piece: piece.id,
      rehearsal,
      day,
      nth: takesOfRehearsal(keeper, rehearsal) + 1,
      place: place.key,
      step: stepKey(step),
      players: piece.players,
    },
  );
  put(keeper, take, piece, place);
};

const readId = (ensemble: string, { begun: time, id }: Take): string =>
  `${rehearsalId(ensemble, time === '' ? today() : dayOf(new Date(time)))}.${id}`;

/** A take that was read, in the journal; null where it is not there. */
export const keptReading = (keeper: Keeper, piece: Piece, take: Take): JournalTake | null => {
  const record = keeper.now.state.records.get(`journal-take:${readId(piece.ensemble, take)}`);
  return record?.kind === 'journal-take' ? record.value : null;
};

/** Puts a take that was read into the journal, once; there it follows what the players say was not so: notes, or the whole take. */
export const keepReading = (
  keeper: Keeper,
  piece: Piece,
  place: ListedPlace,
  step: Step,
  take: Take,
  reading: ReadForJournal,
): void => {
  const id = readId(piece.ensemble, take);
  const before = keptReading(keeper, piece, take);
  const out = take.out?.['take'] === 'yes' ? 'yes' : '';
  // Left out before it was ever counted, or deleted for good.
  if (before === null && (out === 'yes' || keeper.now.state.records.has(`journal-take:${id}`))) return;
  const day = take.begun === '' ? today() : dayOf(new Date(take.begun));
  const rehearsal = before?.rehearsal ?? begun(keeper, piece, day);
  const made = journalTake(reading, {
    id,
    piece: piece.id,
    rehearsal,
    day,
    nth: before?.nth ?? takesOfRehearsal(keeper, rehearsal) + 1,
    place: place.key,
    step: stepKey(step),
    players: piece.players,
    breaths: new Set(place.breaths),
  });
  if (before === null) {
    put(keeper, made, piece, place);
    return;
  }
  const changes = putRight(before, made);
  if (changes === null && (before.out ?? '') === out) return;
  keeper.change(`journal-take:${id}`, { ...changes, ...((before.out ?? '') === out ? {} : { out }) });
  const after = afterLast(keeper, piece, place);
  // What was decided was decided on what was proposed then.
  if (after?.take.id === id && after.take.decided === '')
    keeper.change(`journal-take:${id}`, { proposed: after.after.proposed.proposal });
};

/** What the rule says after the last take of a place, with that take; null where there is none yet. */
export const afterLast = (
  keeper: Keeper,
  piece: Piece,
  place: ListedPlace,
): { readonly after: AfterTake; readonly take: JournalTake } | null => {
  const takes = takesHere(keeper, piece, place);
  const after = afterTake(takes, place.steps);
  const take = takes.findLast((one) => place.steps.some((step) => stepKey(step) === one.step));
  return after === null || take === undefined ? null : { after, take };
};

/** The ensemble decides. */
export const decide = (keeper: Keeper, take: JournalTake, decided: Decision): void =>
  keeper.change(`journal-take:${take.id}`, { decided });
