/**
 * A plan for a rehearsal: what held last time is tried first, passages alternate, breaks are kept, and the end is free. It is a proposal to be
 * changed by hand. That alternating passages is better than working one off is research (Carter & Grahn 2016: 3 minutes against 12,
 * clarinettists); every other number here is common practice or our choice.
 */
import type { Standing } from './nextStep.ts';

/** A place that may be rehearsed. */
export interface PlanPlace {
  /** Piece and place, as the journal knows them. */
  readonly piece: string;
  readonly place: string;
  readonly bars: string;
  /** Key of the step to begin with. */
  readonly step: string;
  /** Ids of the players it needs; empty: whoever is there. */
  readonly players: readonly string[];
  readonly weight: number;
  readonly standing: Standing['kind'];
  /** Day of the last take; empty where there is none. */
  readonly last: string;
}

export interface PlanAsked {
  /** Whole minutes, from 5. */
  readonly minutes: number;
  /** Ids of players; null: all are there. */
  readonly present: ReadonlySet<string> | null;
  /** Days to the concert; null: none is set. */
  readonly days: number | null;
}

export interface Planned {
  readonly kind: 'retest' | 'work' | 'break' | 'free';
  readonly minutes: number;
  /** Null for breaks and the free end. */
  readonly place: PlanPlace | null;
}

export interface RehearsalPlan {
  readonly items: readonly Planned[];
  /** Places whose players are not all there. */
  readonly absent: readonly PlanPlace[];
  /** Places for which there is no time, or that are too new so close to the concert. */
  readonly left: readonly PlanPlace[];
}

/** Minutes. A retest is one try and a word; work on a place before the next takes its turn; playing before a break is due; a break. */
export const planMinutes = { retest: 2, turn: 5, playing: 50, pause: 10, free: 5 } as const;

/** Days before the concert from which nothing new is begun, and from which half of the time is played through. Our choice. */
export const planDays = { nothingNew: 7, playThrough: 3 } as const;

/** Share of the playing time for retests at most, and for the free end: near the concert half. */
const shares = { retest: 0.25, free: 0.15, freeNear: 0.5 } as const;

/** Turns that a place should come to in a rehearsal: alternating needs two. */
const turns = 2;

const first = (a: PlanPlace, b: PlanPlace): number => (a.piece + a.place < b.piece + b.place ? -1 : 1);

/** Waiting longest first; what was never played last. */
const oldest = (a: PlanPlace, b: PlanPlace): number =>
  a.last === b.last ? first(a, b) : (a.last === '' ? '9' : a.last) < (b.last === '' ? '9' : b.last) ? -1 : 1;

/** Minutes of breaks within a rehearsal: after each fifty minutes of playing, if as much as a turn is left. */
const pauses = (minutes: number): number =>
  Math.max(
    0,
    Math.ceil((minutes - planMinutes.playing - planMinutes.turn) / (planMinutes.playing + planMinutes.pause)),
  );

/** Playing items with breaks in between: an item over the limit is cut in two, of which the second stands behind the break. */
const withBreaks = (items: readonly Planned[], count: number): readonly Planned[] => {
  if (count <= 0) return items;
  const all = items.reduce((sum, { minutes }) => sum + minutes, 0);
  const stretch = Math.ceil(all / (count + 1));
  const result: Planned[] = [];
  let [played, made] = [0, 0];
  for (const item of items) {
    let { minutes } = item;
    while (made < count && played + minutes > stretch) {
      const before = stretch - played;
      if (before > 0) result.push({ ...item, minutes: before });
      result.push({ kind: 'break', minutes: planMinutes.pause, place: null });
      made += 1;
      minutes -= before;
      played = 0;
    }
    if (minutes > 0) result.push({ ...item, minutes });
    played += minutes;
  }
  return result;
};

/** Turns at places, each as long as can be up to five minutes, so that together they fill the time and neighbours differ. */
const alternating = (places: readonly PlanPlace[], minutes: number): readonly Planned[] => {
  if (places.length === 0 || minutes <= 0) return [];
  const count = Math.max(1, Math.round(minutes / planMinutes.turn));
  const [short, longer] = [Math.floor(minutes / count), minutes % count];
  return Array.from({ length: count }, (_, i): Planned => ({
    kind: 'work',
    minutes: short + (i < longer ? 1 : 0),
    place: places[i % places.length] ?? null,
  }));
};

/**
 * Makes a plan whose minutes are exactly those asked for. Same places and question, same plan; the order in which places are given does not matter.
 */
export const planRehearsal = (
  places: readonly PlanPlace[],
  { minutes, present, days }: PlanAsked,
): RehearsalPlan => {
  const here = places.filter(({ players }) => present === null || players.every((id) => present.has(id)));
  const absent = places.filter((place) => !here.includes(place)).sort(first);
  const near = days !== null && days <= planDays.playThrough;
  // Where nothing was rehearsed yet, there is nothing else to work on, however near the concert is.
  const noNew =
    days !== null && days <= planDays.nothingNew && here.some(({ standing }) => standing !== 'new');
  const count = pauses(minutes);
  const playing = minutes - count * planMinutes.pause;
  const free = Math.min(
    playing,
    Math.max(planMinutes.free, Math.round(playing * (near ? shares.freeNear : shares.free))),
  );
  // Near the concert what held is shown once more; else what has to be shown for the first time comes before what was shown already.
  const due = [
    ...here.filter(({ standing }) => standing === 'to-retest').sort(oldest),
    ...here.filter(({ standing }) => standing === 'held').sort(oldest),
  ];
  const room = near ? playing - free : Math.floor(playing * shares.retest);
  const retested = due.slice(0, Math.max(0, Math.floor(Math.min(room, playing - free) / planMinutes.retest)));
  const retests = retested.map((place): Planned => ({ kind: 'retest', minutes: planMinutes.retest, place }));
  const rest = playing - free - retests.length * planMinutes.retest;
  const open = here
    .filter(({ standing }) => standing === 'open' || (standing === 'new' && !noNew))
    .sort(
      (a, b) =>
        Number(a.standing === 'new') - Number(b.standing === 'new') || b.weight - a.weight || first(a, b),
    );
  const most = Math.max(2, Math.floor(rest / planMinutes.turn / turns));
  const worked = rest < planMinutes.retest ? [] : open.slice(0, most);
  const work = alternating(worked, rest);
  // Without anything to work on, what is left is free.
  const end = free + (work.length === 0 ? rest : 0);
  const items = [
    ...retests,
    ...work,
    ...(end > 0 ? [{ kind: 'free', minutes: end, place: null } as const] : []),
  ];
  const taken = new Set(items.map(({ place }) => place));
  return {
    items: withBreaks(items, count),
    absent,
    left: here.filter((place) => !taken.has(place)).sort(first),
  };
};

/** A remark on a plan that was changed by hand. */
export type PlanRemark =
  'over-time' | 'under-time' | 'no-break' | 'same-twice' | 'retest-not-first' | 'no-free-end';

/** What a plan does not keep to; a remark, no more: the players decide. */
export const planRemarks = (items: readonly Planned[], minutes: number): readonly PlanRemark[] => {
  const all = items.reduce((sum, item) => sum + item.minutes, 0);
  let [longest, now] = [0, 0];
  for (const { kind, minutes: some } of items) {
    now = kind === 'break' ? 0 : now + some;
    longest = Math.max(longest, now);
  }
  // Over a break a turn may go on.
  const twice = items.some((item, i) => {
    const before = items[i - 1];
    return (
      item.place !== null &&
      before?.place?.place === item.place.place &&
      before.place.piece === item.place.piece
    );
  });
  const lastRetest = items.findLastIndex(({ kind }) => kind === 'retest');
  const firstWork = items.findIndex(({ kind }) => kind === 'work');
  return [
    ...(all > minutes ? (['over-time'] as const) : []),
    ...(all < minutes ? (['under-time'] as const) : []),
    ...(longest > planMinutes.playing + planMinutes.turn ? (['no-break'] as const) : []),
    ...(twice ? (['same-twice'] as const) : []),
    ...(firstWork >= 0 && lastRetest > firstWork ? (['retest-not-first'] as const) : []),
    ...(items.at(-1)?.kind === 'free' ? [] : (['no-free-end'] as const)),
  ];
};
