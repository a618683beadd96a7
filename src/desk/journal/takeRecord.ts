/** From a reading to what the journal keeps of it, and back to what the rule for the steps needs. */
import { mean } from '../../together/moments.ts';
import { gapSpread } from '../../together/seams.ts';
import type { Score } from '../../score/model.ts';
import { bounds, meanArrival, tempoChange, type TakeFigure, type TakeFigures } from '../../plan/index.ts';
import type { ReadingFigures } from '../reading.ts';
import type { JournalTake } from '../shelf/journalFormats.ts';
import { canonical } from '../shelf/merge.ts';
import { pairKey, pairOf } from './keys.ts';

/** What of a reading the journal looks at. */
export type ReadForJournal = Pick<
  ReadingFigures,
  'bars' | 'click' | 'playing' | 'parts' | 'notes' | 'pairs' | 'barLines' | 'tempo' | 'seams'
> & {
  /** Bars in time; `gives`: the tempo is asked to give way in it. */
  readonly played: readonly {
    readonly rep: number;
    readonly barIndex: number;
    readonly pass: number;
    readonly start: number;
    readonly end: number;
    readonly gives?: boolean;
  }[];
};

/** Which take it was. */
export interface TakeContext {
  /** Letters, digits, dots and dashes; its own. */
  readonly id: string;
  /** Id of the piece. */
  readonly piece: string;
  readonly rehearsal: string;
  /** "2026-11-28". */
  readonly day: string;
  /** Its place among the rehearsal's takes, from 1. */
  readonly nth: number;
  readonly place: string;
  readonly step: string;
  /** Ids of players by part. */
  readonly players: Readonly<Record<string, string>>;
  /** Bars with a breath or caesura, by index: there time may stand still (`breathBars`). */
  readonly breaths: ReadonlySet<number>;
}

/** Bars in which some part breathes, by index in the score. */
export const breathBars = (score: Score): ReadonlySet<number> =>
  new Set(
    score.parts.flatMap(({ written }) =>
      written.flatMap(({ bar, marks }) =>
        marks.articulations.some((sign) => sign === 'breath-mark' || sign === 'caesura') ||
        marks.fermata !== null
          ? [bar]
          : [],
      ),
    ),
  );

const barKey = ({ rep, barIndex, pass }: { rep: number; barIndex: number; pass: number }): string =>
  `${rep}/${barIndex}/${pass}`;

const changeOf = (reading: ReadForJournal, breaths: ReadonlySet<number>): JournalTake['change'] => {
  if (reading.playing !== 'free') return null;
  const gives = new Set(
    reading.played.filter((bar) => bar.gives === true || breaths.has(bar.barIndex)).map(barKey),
  );
  const byBar = new Map<string, { readonly rep: number; readonly shares: number[] }>();
  for (const one of reading.tempo) {
    const key = barKey(one);
    if (gives.has(key)) continue;
    const bar = byBar.get(key) ?? { rep: one.rep, shares: [] };
    bar.shares.push(one.perMinute.value / one.asked);
    byBar.set(key, bar);
  }
  return tempoChange([...byBar.values()].map(({ rep, shares }) => ({ rep, share: mean(shares) ?? 1 })));
};

const arrivalOf = ({ playing, click, barLines, played }: ReadForJournal): JournalTake['arrival'] => {
  if (playing === 'free' || !(click.perBar > 0) || click.perBar > 1) return null;
  const byBar = new Map<string, number[]>();
  for (const line of barLines)
    if (line.lateAtClick !== null) {
      const key = barKey(line);
      byBar.set(key, [...(byBar.get(key) ?? []), line.lateAtClick.value]);
    }
  const late = meanArrival([...byBar.values()].map((several) => mean(several) ?? 0));
  const lengths = played.map(({ start, end }) => end - start);
  const bar = mean(lengths);
  return late === null || bar === null ? null : { late, spacing: (1000 * bar) / click.perBar };
};

/**
 * Two who divide a line between them hardly ever play at once: their togetherness is how the line is handed over. Null where they share places enough, or
 * hand over too rarely. Freed of the measuring noise, which a line carried on makes larger; the giver's own unevenness stays in it.
 */
const handedOver = (
  { seams, notes }: ReadForJournal,
  parts: readonly [string, string],
  shared: number,
): { n: number; sd: TakeFigure | null } | null => {
  if (shared >= bounds.fewest.value) return null;
  const late = seams.flatMap((seam) =>
    parts.includes(seam.from) && parts.includes(seam.to) && seam.late !== null && seam.n.from > 1
      ? [{ gap: seam.late.value, giverNotes: seam.n.from }]
      : [],
  );
  if (late.length < bounds.fewest.value) return null;
  const noise = mean(
    notes.flatMap(({ part, perceivedUncertainty }) =>
      perceivedUncertainty === null || !parts.includes(part) ? [] : [(1000 * perceivedUncertainty) ** 2],
    ),
  );
  const sd = gapSpread(late, noise ?? 0);
  return {
    n: late.length,
    sd: sd === null ? null : { value: sd.value, low: sd.ci95?.low ?? null, high: sd.ci95?.high ?? null },
  };
};

/** What the journal keeps of a reading. */
export const journalTake = (reading: ReadForJournal, context: TakeContext): JournalTake => {
  const { players, breaths, ...where } = context;
  return {
    format: 'levare.journal-take/2',
    ...where,
    bars: reading.bars,
    playing: reading.playing,
    told: '',
    parts: Object.fromEntries(
      reading.parts.map(({ id }) => {
        const own = reading.notes.filter(({ part }) => part === id);
        const heard = own.filter(({ state }) => state === 'heard').length;
        return [
          id,
          { player: Object.hasOwn(players, id) ? (players[id] ?? '') : '', heard, notes: own.length },
        ];
      }),
    ),
    pairs: Object.fromEntries(
      reading.pairs.map(({ parts, n, sdWithoutNoise }) => [
        pairKey(parts),
        handedOver(reading, parts, n) ?? { n, sd: sdWithoutNoise },
      ]),
    ),
    arrival: arrivalOf(reading),
    change: changeOf(reading, breaths),
    proposed: '',
    decided: '',
    stamps: {},
  };
};

/**
 * What changes in a take of the journal when its reading is put right afterwards; null: nothing. What a player had deleted stays deleted, who played
 * and what was decided stay as they were.
 */
export const putRight = (
  before: JournalTake,
  made: JournalTake,
): Partial<Pick<JournalTake, 'parts' | 'pairs' | 'arrival' | 'change'>> | null => {
  const { arrival, change } = made;
  const parts = Object.fromEntries(
    Object.entries(made.parts).flatMap(([id, now]) => {
      const was = Object.hasOwn(before.parts, id) ? before.parts[id] : undefined;
      const next = now === null || was === undefined || was === null ? now : { ...now, player: was.player };
      return was === null || canonical(was) === canonical(next) ? [] : [[id, next] as const];
    }),
  );
  const pairs = Object.fromEntries(
    Object.entries(made.pairs).filter(([key, now]) => {
      const was = Object.hasOwn(before.pairs, key) ? before.pairs[key] : undefined;
      return was !== null && canonical(was) !== canonical(now);
    }),
  );
  const changes = {
    ...(Object.keys(parts).length > 0 ? { parts } : {}),
    ...(Object.keys(pairs).length > 0 ? { pairs } : {}),
    ...(canonical(arrival) === canonical(before.arrival) ? {} : { arrival }),
    ...(canonical(change) === canonical(before.change) ? {} : { change }),
  };
  return Object.keys(changes).length === 0 ? null : changes;
};

/** A take of which nothing was recorded: the players say themselves whether it held. `parts`: ids of those who played. */
export const toldTake = (
  told: 'held' | 'not-yet',
  {
    bars,
    playing,
    parts,
  }: { readonly bars: string; readonly playing: JournalTake['playing']; readonly parts: readonly string[] },
  context: Omit<TakeContext, 'breaths'>,
): JournalTake => {
  const { players, ...where } = context;
  const played = (id: string): string => (Object.hasOwn(players, id) ? (players[id] ?? '') : '');
  return {
    format: 'levare.journal-take/2',
    ...where,
    bars,
    playing,
    told,
    parts: Object.fromEntries(parts.map((id) => [id, { player: played(id), heard: 0, notes: 0 }])),
    pairs: {},
    arrival: null,
    change: null,
    proposed: '',
    decided: '',
    stamps: {},
  };
};

/** What the rule for the steps needs of a take in the journal; what players had deleted is not there any more. */
export const figuresOfTake = ({ playing, told, parts, pairs, arrival, change }: JournalTake): TakeFigures => {
  const players = Object.values(parts).filter((part) => part !== null);
  return {
    playing,
    told: told === '' ? null : told,
    heard: players.reduce((sum, { heard }) => sum + heard, 0),
    notes: players.reduce((sum, { notes }) => sum + notes, 0),
    pairs: Object.entries(pairs).flatMap(([key, pair]) =>
      pair === null ? [] : [{ parts: pairOf(key), n: pair.n, sd: pair.sd }],
    ),
    arrival,
    change,
  };
};
