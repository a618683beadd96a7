/** Places where parts depend on each other, with what to do about them: the printed format "levare.find/1". */
import { parseClick } from '../click/placement.ts';
import { strikes } from '../click/strikes.ts';
import { findPlaces, placeKinds, type Place, type PlaceKind, type Seam, type Spot } from '../lines/index.ts';
import { stepsFor, weightOf, whyOf, type Measure, type Setting, type Step } from '../plan/index.ts';
import { asWritten, barGrids, type BarGrid } from '../rhythm/beats.ts';
import { findBars } from '../rhythm/passage.ts';
import { writtenToPlayed } from '../rhythm/positions.ts';
import { paceAt, perMinute } from '../rhythm/tempo.ts';
import type { Part, Score } from '../score/model.ts';
import { beats, F, fail, ok, type Beats, type Problem, type Result } from '../units/index.ts';
import { eachOnce, readPiece, type ReadPiece } from './readOnce.ts';

export type PrintedSpot = Omit<Spot, 'at'>;
export type PrintedSeam = PrintedSpot & Pick<Seam, 'from' | 'to'>;

export interface PrintedPlace {
  readonly kind: PlaceKind;
  /** The note value of a shared line, a fraction of a whole note; null for other kinds. */
  readonly value: string | null;
  /** Part ids, in score order. */
  readonly parts: readonly string[];
  /** First note. */
  readonly from: PrintedSpot;
  /** Onset of the last note. */
  readonly to: PrintedSpot;
  /** Hand-overs of a line; entries of those who follow in imitation and canon. */
  readonly seams: readonly PrintedSeam[];
  /** For ordering only: our ranking of how much ensemble work is here. */
  readonly weight: number;
  readonly why: string;
  readonly steps: readonly Step[];
}

export interface FoundPlaces {
  readonly format: 'levare.find/1';
  /** Weightiest first; where two weigh the same, in score order. */
  readonly places: readonly PrintedPlace[];
  readonly problems: readonly Problem[];
}

/** What is asked, as typed; null: all. */
export interface FindTexts {
  /** "12-15", "A-C": places that lie wholly in these bars. */
  readonly bars: string | null;
  /** Ids or names with commas: places in which at least one of them takes part. */
  readonly parts: string | null;
  /** Kinds with commas. */
  readonly kind: string | null;
}

const list = (text: string): readonly string[] => text.split(',').map((item) => item.trim());

/** Ids of parts by their ids or names; null: all. Error: `part-unknown`. */
export const chosenParts = (score: Score, text: string | null): Result<ReadonlySet<string> | null> => {
  if (text === null || text.trim() === 'all') return ok(null);
  const chosen = new Set<string>();
  for (const name of list(text)) {
    const same = (other: string): boolean => other.toLowerCase() === name.toLowerCase();
    const found = score.parts.find(({ id }) => same(id)) ?? score.parts.find((part) => same(part.name));
    if (found === undefined) {
      const known = score.parts.map((part) => `${part.id} (${part.name})`).join(', ');
      const message = known === '' ? 'this score has bars only.' : `the parts are ${known}.`;
      return fail('part-unknown', `There is no part "${name}": ${message}`);
    }
    chosen.add(found.id);
  }
  return ok(chosen);
};

const chosenKinds = (text: string | null): Result<ReadonlySet<string> | null> => {
  if (text === null || text.trim() === 'all') return ok(null);
  const wanted = list(text).map((kind) => kind.toLowerCase().replace(/ /g, '-'));
  const known: ReadonlySet<string> = new Set(placeKinds);
  const wrong = wanted.find((kind) => !known.has(kind));
  if (wrong !== undefined)
    return fail('kind-unknown', `There is no kind of place "${wrong}". There are ${placeKinds.join(', ')}.`);
  return ok(new Set(wanted));
};

/** The bars of a place as a drill names them: by their numbers where those lead back to the same bars, else by index. */
const barsText = (score: Score, from: number, to: number): string => {
  const [first, last] = [score.bars[from]?.number ?? '', score.bars[to]?.number ?? ''];
  const text = from === to ? first : `${first}-${last}`;
  if (/^[0-9]{1,9}$/.test(first) && /^[0-9]{1,9}$/.test(last)) {
    const found = findBars(score, text);
    if (found.ok && found.value.first === from && found.value.last === to) return text;
  }
  return from === to ? `@${from}` : `@${from}-@${to}`;
};

/** How far a passage may reach so that it is played in one go: not over an ending from which the music goes back. */
const reach = (score: Score, from: number, to: number): number => {
  for (let i = from; i < to; i++) {
    const bar = score.bars[i];
    if (bar !== undefined && bar.ending !== null && bar.repeatEnd > 0) return i;
  }
  return to;
};

const placements = ['every', 'half', 'weak', 'after', 'bar', '2bars'];

const meaningful = (grids: readonly BarGrid[]): ReadonlySet<string> =>
  new Set(
    placements.filter((text) => {
      const rule = parseClick(text);
      return rule.ok && grids.every((grid) => strikes(rule.value.placement, grid, 0) !== null);
    }),
  );

const inside = (part: Part, { from, to }: Place): Part['notes'] =>
  part.notes.filter(({ onset }) => F.atMost(from.at, onset) && F.atMost(onset, to.at));

const shortestOf = (parts: readonly Part[], place: Place, beat: Beats): Beats => {
  let least: F.Fraction = beat;
  for (const part of parts) {
    const notes = inside(part, place);
    notes.forEach(({ onset }, i) => {
      const gap = F.sub(onset, notes[i - 1]?.onset ?? onset);
      if (F.isPositive(gap)) least = F.min(least, gap);
    });
  }
  return beats(least);
};

/** Filters that keep something: the notes of the line, then what is longer. */
const keepsOf = (parts: readonly Part[], place: Place): readonly string[] => {
  const { value } = place;
  if (value === null) return [];
  const triple = value.d % 3n === 0n;
  const drawn = triple ? F.mul(value, F.fraction(3, 2)) : value;
  const notes = parts.flatMap((part) => inside(part, place));
  const own = notes.filter(({ duration, tuplet }) => F.equal(duration, value) && tuplet === triple);
  const longer = notes.filter(
    ({ duration, tuplet }) => !tuplet && F.atMost(F.mul(drawn, F.fraction(2)), duration),
  );
  return [
    ...(own.length >= 2 ? [`${F.format(drawn)}${triple ? 't' : ''}`] : []),
    ...(longer.length >= 2 ? [`${F.format(F.mul(drawn, F.fraction(2)))}+`] : []),
  ];
};

const settingOf = (
  { score, order, tempo }: ReadPiece,
  grids: readonly BarGrid[],
  place: Place,
  names: Setting['names'],
): Setting => {
  const from = place.from.barIndex;
  // A joint entry or a change is led up to: the bar before belongs to its drill.
  const leads =
    place.kind === 'joint-entry' || place.kind === 'metre-change' || place.kind === 'tempo-change';
  const before = leads && from > 0 && reach(score, from - 1, from) === from ? from - 1 : from;
  const to = reach(score, before, place.to.barIndex);
  const bars = grids.slice(before, to + 1);
  const grid = grids[from];
  const beat = grid?.tempoUnit ?? beats(F.fraction(1, 4));
  const played = [place.from.at, place.to.at].map((at) => writtenToPlayed(order, at, 1));
  const [start = null, end = null] = played;
  const pace = paceAt(tempo, start ?? beats(F.zero));
  const inPlace = tempo.sections.filter(
    (section) =>
      start !== null &&
      end !== null &&
      F.atMost(section.start, end) &&
      (section.end === null || F.less(start, section.end)),
  );
  const steady = inPlace.every((section) => F.equal(section.from, pace) && F.equal(section.to, pace));
  const parts = score.parts.filter(({ id }) => place.parts.includes(id));
  return {
    place,
    bars: barsText(score, before, to),
    barCount: to - before + 1,
    names,
    beat,
    bar: grid?.full ?? beats(F.one),
    perMinute: perMinute(pace, beat),
    oneTempo: steady && start !== null && before === from,
    shortest: shortestOf(parts, place, beat),
    keeps: keepsOf(parts, place),
    clicks: meaningful(bars),
  };
};

const printedSpot = ({ bar, barIndex, beat }: Spot): PrintedSpot => ({ bar, barIndex, beat });

/** Two players of one name are told apart by their ids. */
const namesOf = ({ parts }: Score): Setting['names'] =>
  Object.fromEntries(
    parts.map(({ id, name }) => {
      const shared = parts.some((other) => other.id !== id && other.name === name);
      return [id, name === '' ? id : shared ? `${name} (${id})` : name];
    }),
  );

/** Beats and bars as they are counted from the first note of a place to its first seam. */
const measureOf = (grids: readonly BarGrid[], { from, to, seams }: Place): Measure => {
  const grid = grids[from.barIndex];
  const bars = grids.slice(from.barIndex, (seams[0]?.barIndex ?? to.barIndex) + 1);
  const same = grid !== undefined && bars.every(({ full }) => F.equal(full, grid.full));
  return { beat: grid?.tempoUnit ?? beats(F.fraction(1, 4)), bar: same ? grid.full : null };
};

const within = (score: Score, text: string | null): Result<(place: Place) => boolean> => {
  if (text === null || text.trim().toLowerCase() === 'all') return ok(() => true);
  const span = findBars(score, text);
  if (!span.ok) return span;
  const { first, last } = span.value;
  return ok(({ from, to }) => from.barIndex >= first && to.barIndex <= last, span.problems);
};

/** A place as it was found, and as it is told. */
export interface ToldPlace {
  readonly place: Place;
  readonly printed: PrintedPlace;
}

/** The places of a score as found and as told, in the order of `FoundPlaces`. Errors: `bar-unknown`, `bars-reversed`, `part-unknown`, `kind-unknown`. */
export const toldPlaces = (read: ReadPiece, asked: FindTexts): Result<readonly ToldPlace[]> => {
  const { score } = read;
  const bars = within(score, asked.bars);
  if (!bars.ok) return bars;
  const parts = chosenParts(score, asked.parts);
  if (!parts.ok) return parts;
  const kinds = chosenKinds(asked.kind);
  if (!kinds.ok) return kinds;
  const found = findPlaces(score);
  const names = namesOf(score);
  const grids = barGrids(score, asWritten);
  const places = found.places
    .filter(bars.value)
    .filter(({ kind }) => kinds.value?.has(kind) ?? true)
    .filter((place) => parts.value === null || place.parts.some((id) => parts.value?.has(id)))
    .map((place): ToldPlace => {
      const { kind, value } = place;
      const printed = {
        kind,
        value: value === null ? null : F.format(value),
        parts: place.parts,
        from: printedSpot(place.from),
        to: printedSpot(place.to),
        seams: place.seams.map((seam) => ({ from: seam.from, to: seam.to, ...printedSpot(seam) })),
        weight: weightOf(place),
        why: whyOf(place, names, measureOf(grids, place)),
        steps: stepsFor(settingOf(read, grids, place, names)),
      };
      return { place, printed };
    });
  // Sorting keeps the order of the score among those that weigh the same.
  const ranked = places.toSorted((a, b) => b.printed.weight - a.printed.weight);
  return ok(ranked, eachOnce([...read.problems, ...bars.problems, ...found.problems]));
};

/** The places of a score that has been read. Errors: `bar-unknown`, `bars-reversed`, `part-unknown`, `kind-unknown`. */
export const placesIn = (read: ReadPiece, asked: FindTexts): Result<FoundPlaces> => {
  const told = toldPlaces(read, asked);
  if (!told.ok) return told;
  const places = told.value.map(({ printed }) => printed);
  return ok({ format: 'levare.find/1', places, problems: told.problems });
};

/** The places of a score in any known format. Errors: the readers' and those of `placesIn`. */
export const find = (bytes: Uint8Array, asked: FindTexts): Result<FoundPlaces> => {
  const read = readPiece(bytes);
  return read.ok ? placesIn(read.value, asked) : read;
};

const cell = (text: string): string => (/[",\n\r]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text);

/** One line for each place, RFC 4180, in the order of `places`: for spreadsheets. */
export const findCsv = ({ places }: FoundPlaces): string => {
  const head = 'kind,value,parts,bar,barIndex,beat,toBar,toBarIndex,toBeat,seams,weight,why';
  const rows = places.map(({ kind, value, parts, from, to, seams, weight, why }) =>
    [
      kind,
      value ?? '',
      parts.join(' '),
      from.bar,
      String(from.barIndex),
      from.beat,
      to.bar,
      String(to.barIndex),
      to.beat,
      seams.map((seam) => `${seam.bar}:${seam.beat} ${seam.from}>${seam.to}`).join('; '),
      String(weight),
      why,
    ]
      .map(cell)
      .join(','),
  );
  return `${[head, ...rows].join('\r\n')}\r\n`;
};
