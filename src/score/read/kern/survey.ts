/**
 * A first walk over the interpretations alone: which spines there are, who plays from them, and which words and dynamics
 * belong to which notes.
 *
 * Parts. Spines of notes with the same *part number are one part. Without numbers, spines on the same *staff that are not
 * given different instruments are one part (Humdrum User's Guide, example 2.3: "two musical parts share each of the two
 * staves"), and so are neighbours that name the same keyboard instrument; every other spine is a part of its own. Staves of
 * the same keyboard instrument that one brace holds together are one part whatever their numbers.
 *
 * Order. By *part numbers; else by *staff numbers; else the rightmost spine is the uppermost part ("the upper part has been
 * encoded in the right-most column": same guide, example 2.2).
 */
import { Refusal } from '../../../units/index.ts';
import { instrumentOf, isKeyboard } from './instruments.ts';
import { columnsOf, isHeader, isKern } from './lines.ts';
import { createPaths, isPath, type Leaf, type Track } from './paths.ts';
import type { PartPlan, Plan, Seat } from './types.ts';

/** Numbers of staves that one brace holds together: "!!!system-decoration: {s1,s2}" (later practice, from memory). */
type Braces = readonly ReadonlySet<number>[];

const bracesOf = (lines: readonly string[]): Braces =>
  lines
    .filter((line) => line.startsWith('!!!system-decoration:'))
    .slice(0, 100)
    .flatMap((line) => line.slice(0, 2000).match(/\{[^{}]*\}/g) ?? [])
    .map((brace) => new Set(Array.from(brace.matchAll(/s(\d{1,4})/g), ([, staff]) => Number(staff))));

/** What the file says of one spine. */
interface Facts {
  readonly track: Track;
  staff: number | null;
  part: number | null;
  code: string;
  name: string;
  abbreviation: string;
  transposition: string;
}

interface Bucket {
  readonly members: Facts[];
}

const nothing = { start: () => null, split: () => null, join: () => null };

/** How many columns the next line has that has columns. */
export const countAfter = (lines: readonly string[], index: number): number => {
  for (let next = index + 1; next < lines.length; next += 1) {
    const line = lines[next] ?? '';
    if (line.startsWith('!!') || line.trim() === '') continue;
    return line.split('\t').filter((token) => token !== '').length;
  }
  return 0;
};

export const isTextKind = (kind: string): boolean => /^(text|silbe|lyrics?|vtext|verse)\b/.test(kind);
export const isDynamicsKind = (kind: string): boolean => kind === 'dynam' || kind === 'dyn';

const note = (facts: Facts, token: string): void => {
  const staff = /^\*staff(\d{1,4})/.exec(token)?.[1];
  const part = /^\*part(\d{1,4})/.exec(token)?.[1];
  if (staff !== undefined) facts.staff ??= Number(staff);
  else if (part !== undefined) facts.part ??= Number(part);
  else if (token.startsWith('*I"')) facts.name ||= token.slice(3).trim();
  else if (token.startsWith("*I'")) facts.abbreviation ||= token.slice(3).trim();
  else if (token.startsWith('*ITr')) facts.transposition ||= token.slice(4);
  else if (/^\*I[a-z]/.test(token)) facts.code ||= token.slice(2).trim();
};

const called = ({ name, code }: Facts): string => (name === '' ? code : name);

const belongs = (facts: Facts, bucket: Bucket, neighbour: boolean, braces: Braces): boolean =>
  bucket.members.some((one) => {
    const keyboard = facts.code !== '' && facts.code === one.code && isKeyboard(facts.code);
    const braced = braces.some((brace) => brace.has(facts.staff ?? -1) && brace.has(one.staff ?? -1));
    if (keyboard && braced && called(facts) === called(one)) return true;
    if (facts.part !== null || one.part !== null) return facts.part === one.part;
    const same = called(facts) === '' || called(one) === '' || called(facts) === called(one);
    if (facts.staff !== null && facts.staff === one.staff) return same;
    return neighbour && keyboard;
  });

/** The spines of one movement, left to right, as parts in score order. */
const bucketsOf = (spines: readonly Facts[], braces: Braces): readonly Bucket[] => {
  const buckets: Bucket[] = [];
  for (const facts of spines) {
    const last = buckets.at(-1);
    const found = buckets.find((bucket) => belongs(facts, bucket, bucket === last, braces));
    if (found === undefined) buckets.push({ members: [facts] });
    else found.members.push(facts);
  }
  const least = (bucket: Bucket, of: (facts: Facts) => number | null): number =>
    Math.min(...bucket.members.map((facts) => of(facts) ?? Infinity));
  const all = (of: (facts: Facts) => number | null): boolean => spines.every((facts) => of(facts) !== null);
  const upwards = buckets.toReversed();
  if (all(({ part }) => part))
    return upwards.sort((a, b) => least(a, ({ part }) => part) - least(b, ({ part }) => part));
  if (all(({ staff }) => staff))
    return upwards.sort((a, b) => least(a, ({ staff }) => staff) - least(b, ({ staff }) => staff));
  return upwards;
};

/** Staff and rank of each member; without staff numbers each spine has a staff of its own, the rightmost on top. */
const staffOf = ({ members }: Bucket): ReadonlyMap<number, { staff: number; rank: number }> => {
  const upwards = members.toReversed();
  const numbers = [...new Set(members.flatMap(({ staff }) => (staff === null ? [] : [staff])))].sort(
    (a, b) => a - b,
  );
  const result = new Map<number, { staff: number; rank: number }>();
  const used = new Map<number, number>();
  let next = numbers.length;
  for (const { track, staff } of upwards) {
    if (staff === null) next += 1;
    const own = staff === null ? next : numbers.indexOf(staff) + 1;
    const rank = used.get(own) ?? 0;
    used.set(own, rank + 1);
    result.set(track.id, { staff: own, rank });
  }
  return result;
};

/** The clarinet's code stands for those in B flat and in A; its transposition tells which. */
const clarinets: Readonly<Record<string, string>> = {
  d1c2: 'wind.reed.clarinet.bflat',
  d2c3: 'wind.reed.clarinet.a',
};

const headOf = ({ members }: Bucket, id: string): PartPlan['head'] => {
  const first = (of: (facts: Facts) => string): string => members.map(of).find((text) => text !== '') ?? '';
  const code = first((facts) => facts.code);
  const known = instrumentOf(code);
  const name = first((facts) => facts.name);
  const clarinet = code === 'clars' ? clarinets[first(({ transposition }) => transposition)] : undefined;
  return {
    id,
    name: name === '' ? (known?.name ?? code) : name,
    abbreviation: first((facts) => facts.abbreviation),
    sound: clarinet ?? known?.sound ?? '',
    program: known?.program ?? null,
  };
};

/** Finds the part that a later movement's spines go on with: as many as before, in their order; else by name. */
const matchOf = (bucket: Bucket, index: number, own: readonly Bucket[], parts: readonly Bucket[]): number => {
  if (own.length === parts.length) return index;
  const names = new Set(bucket.members.map(called));
  return parts.findIndex((part) =>
    part.members.some((facts) => called(facts) !== '' && names.has(called(facts))),
  );
};

const planOf = (groups: readonly (readonly Facts[])[], beside: Plan['beside'], braces: Braces): Plan => {
  const parts: Bucket[] = [];
  const seats = new Map<number, Seat>();
  const staves: number[] = [];
  for (const spines of groups) {
    const own = bucketsOf(spines, braces);
    const before = parts.length;
    const taken = new Set<number>();
    own.forEach((bucket, index) => {
      const found = before === 0 ? -1 : matchOf(bucket, index, own, parts.slice(0, before));
      const part = found < 0 || taken.has(found) ? parts.push(bucket) - 1 : found;
      taken.add(part);
      for (const [id, { staff, rank }] of staffOf(bucket)) {
        seats.set(id, { part, staff, rank });
        staves[part] = Math.max(staves[part] ?? 1, staff);
      }
    });
  }
  return {
    parts: parts.map((bucket, index) => ({
      head: headOf(bucket, `P${index + 1}`),
      staves: staves[index] ?? 1,
    })),
    seats,
    beside,
  };
};

/** Which spine of notes a spine beside it belongs to: one on its staff, else its neighbour to the left, else to the right. */
const nearest = (leaves: readonly Leaf<null>[], index: number): Track | null => {
  const kern = (leaf: Leaf<null>): boolean => isKern(leaf.track.kind);
  return (leaves.slice(0, index).findLast(kern) ?? leaves.slice(index).find(kern))?.track ?? null;
};

/**
 * The tokens of a line of interpretations. Where columns begin, end, split or join, their number has to fit, since all that
 * follows would be read in wrong columns; only a line that ends every column may be too short.
 */
export const pathTokens = (tokens: readonly string[], count: number, line: number): readonly string[] => {
  if (count === 0 || tokens.length === count || !tokens.some(isPath)) return tokens;
  if (tokens.every((token) => token === '*-')) return Array.from({ length: count }, () => '*-');
  throw new Refusal(
    'kern-columns-lost',
    `Line ${line} changes the columns of the file, but has ${tokens.length} of them where there are ${count}; what follows can not be told apart. A tab may be missing.`,
    { line },
  );
};

/** Walks over the file once. Errors, as a Refusal: `file-too-large`, `kern-columns-lost`. */
export const surveyOf = (lines: readonly string[]): Plan => {
  const paths = createPaths(nothing, null);
  const facts = new Map<number, Facts>();
  const groups: Facts[][] = [];
  const neighbours = new Map<number, Track>();
  let met = 0;

  const meet = (): void => {
    const leaves = paths.leaves();
    const group = (groups[paths.group()] ??= []);
    leaves.forEach(({ track }, index) => {
      if (!facts.has(track.id)) {
        const own = {
          track,
          staff: null,
          part: null,
          code: '',
          name: '',
          abbreviation: '',
          transposition: '',
        };
        const left = leaves[index - 1];
        const after = left === undefined ? undefined : facts.get(left.track.id);
        facts.set(track.id, own);
        group.splice(after === undefined ? 0 : group.indexOf(after) + 1, 0, own);
      }
      if (isKern(track.kind) || track.kind === '' || neighbours.has(track.id)) return;
      const near = nearest(leaves, index);
      if (near !== null) neighbours.set(track.id, near);
    });
  };

  lines.forEach((line, index) => {
    if (!line.startsWith('*')) return;
    const count = paths.leaves().length;
    if (count === 0 && !isHeader(line)) return;
    const tokens = pathTokens(columnsOf(line, count), count, index + 1);
    if (count === 0 || tokens.some(isPath)) {
      const before = met;
      paths.take(tokens, countAfter(lines, index), index + 1);
      met = paths.tracks.length;
      // A column that was added learns its kind later.
      if (met > before || tokens.some((token) => token.startsWith('**'))) meet();
      return;
    }
    paths.leaves().forEach(({ track }, column) => {
      const own = facts.get(track.id);
      if (own !== undefined) note(own, tokens[column] ?? '');
    });
  });

  const beside = new Map<number, { kern: number; verse: number }>();
  const verses = new Map<number, number>();
  for (const spines of groups) {
    for (const { track, staff } of spines) {
      if (isKern(track.kind)) continue;
      const near = neighbours.get(track.id);
      const onStaff = (one: Facts): boolean =>
        isKern(one.track.kind) && staff !== null && one.staff === staff;
      const nearFits = near !== undefined && facts.get(near.id)?.staff === staff;
      const kern = nearFits ? near : (spines.findLast(onStaff)?.track ?? near);
      if (kern === undefined) continue;
      const verse = isTextKind(track.kind) ? (verses.get(kern.id) ?? 0) + 1 : 0;
      if (verse > 0) verses.set(kern.id, verse);
      beside.set(track.id, { kern: kern.id, verse });
    }
  }
  const notes = groups.map((spines) => spines.filter(({ track }) => isKern(track.kind)));
  return planOf(
    notes.filter((spines) => spines.length > 0),
    beside,
    bracesOf(lines),
  );
};
