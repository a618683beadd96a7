/** A take put into the journal of a piece, and what is said after it; growth of all places of a piece. */
import type { Drill } from '../../drill/model.ts';
import { fail, ok, type Result } from '../../units/index.ts';
import { toldPlaces, type PrintedPlace } from '../find.ts';
import { pieceHash } from '../makeDrill.ts';
import { readPiece } from '../readOnce.ts';
import type { JournalTake } from '../shelf/journalFormats.ts';
import { firstEnsemble, pieceId, recordKey } from '../shelf/records.ts';
import type { ShelfRecord } from '../shelf/formats.ts';
import type { TellingLanguage } from '../words/language.ts';
import { proposalText, stepWords } from '../words/steps.ts';
import { placeGrowth } from './growth.ts';
import { afterTake, journalOf, takesAt, type AfterTake, type Records } from './journal.ts';
import { mergeShelves } from './keep.ts';
import { barsKey, placeKey, stepKey } from './keys.ts';
import { breathBars, journalTake, type ReadForJournal } from './takeRecord.ts';

/** The place that a drill was made for: one whose steps have the drill's bars and step. The weightiest where there are several. */
export const placeOfDrill = (
  places: readonly PrintedPlace[],
  { bars, keep, click, countIn }: Drill,
): PrintedPlace | null =>
  places.find(({ steps }) =>
    steps.some((step) => step.bars === bars && stepKey(step) === stepKey({ keep, click, countIn })),
  ) ??
  places.find(({ steps }) => steps.some((step) => step.bars === bars)) ??
  null;

/** "leave" and the like as they may be typed; empty for none. */
const decisions = ['', 'stay', 'on', 'back', 'leave'] as const;

export interface TakeToAdd {
  readonly drill: Drill;
  readonly reading: ReadForJournal;
  /** "2026-11-28"; the takes of a day are one rehearsal. */
  readonly day: string;
  readonly decided: string;
}

export interface AddedTake {
  readonly records: Records;
  readonly take: JournalTake;
  /** Null where the drill belongs to no place of the piece. */
  readonly after: AfterTake | null;
  /** One sentence, and that the players decide. */
  readonly told: string;
}

/** Puts a take into the journal. Errors: the reader's, `score-changed`, `word-unknown`. */
export const addTake = (
  records: Records,
  bytes: Uint8Array,
  { drill, reading, day, decided }: TakeToAdd,
  language: TellingLanguage,
  ensemble: string = firstEnsemble,
): Result<AddedTake> => {
  const hash = pieceHash(bytes);
  if (drill.score.sha256 !== hash)
    return fail(
      'score-changed',
      'This drill was made on another score. Name the score that lies in its folder.',
    );
  const choice = decisions.find((one) => one === decided);
  if (choice === undefined)
    return fail(
      'word-unknown',
      `"${decided}" is not understood: what was decided is stay, on, back or leave.`,
    );
  const read = readPiece(bytes);
  if (!read.ok) return read;
  const told = toldPlaces(read.value, { bars: null, parts: null, kind: null });
  if (!told.ok) return told;
  const piece = pieceId(ensemble, hash);
  const home = records.get(`piece:${piece}`);
  const place = placeOfDrill(
    told.value.map(({ printed }) => printed),
    drill,
  );
  const rehearsal = `${ensemble}.${day}`;
  const earlier = [...records.values()].filter(
    (record) => record.kind === 'journal-take' && record.value.rehearsal === rehearsal,
  ).length;
  const nth = earlier + 1;
  const take = {
    ...journalTake(reading, {
      id: `${rehearsal}.${nth}.${hash.slice(0, 12)}`,
      piece,
      rehearsal,
      day,
      nth,
      place: place === null ? barsKey(drill.bars) : placeKey(place),
      step: stepKey(drill),
      players: home?.kind === 'piece' ? home.value.players : {},
      breaths: breathBars(read.value.score),
    }),
    decided: choice,
  };
  const journal = journalOf([...records.values(), { kind: 'journal-take', value: take }]);
  const after = place === null ? null : afterTake(takesAt(journal, piece, take.place), place.steps);
  const record: ShelfRecord = {
    kind: 'journal-take',
    value: { ...take, proposed: after?.proposed.proposal ?? '' },
  };
  const words = stepWords[language];
  return ok({
    records: mergeShelves(records, new Map([[recordKey(record), record]])),
    take: record.value,
    after,
    told: after === null ? words.noPlace : `${proposalText(after, language)} ${words.yours}`,
  });
};

/** Growth of all places of a piece, a line each, as they stand in the list of places. Errors: the reader's. */
export const growthIn = (
  records: Records,
  bytes: Uint8Array,
  language: TellingLanguage,
  ensemble: string = firstEnsemble,
): Result<readonly string[]> => {
  const piece = pieceId(ensemble, pieceHash(bytes));
  const journal = journalOf(records.values());
  const lines = [...(journal.takes.get(piece) ?? new Map<string, readonly JournalTake[]>())].flatMap(
    ([place, takes]) =>
      [...new Set(takes.map(({ step }) => step))].map(
        (step) =>
          `${place}, ${step}: ${placeGrowth(journal, { piece, place, step, title: '' }, language).told}`,
      ),
  );
  return ok(lines.length === 0 ? [stepWords[language].empty] : lines);
};
