/** What differs between two scores, told field by field; ids of notes, which each reader makes up, are left out. */
import type { Fraction } from '../../src/units/index.ts';
import type { Note, WrittenNote } from '../../src/score/notes.ts';
import type { Bar, Part, Score } from '../../src/score/model.ts';
import { F } from '../../src/units/index.ts';

const isFraction = (value: object): value is Fraction =>
  'n' in value && 'd' in value && typeof value.n === 'bigint' && typeof value.d === 'bigint';

/** Plain text of a value, fractions exact and keys in order: equal values have equal texts. */
const textOf = (value: unknown): string =>
  JSON.stringify(value, (_, inner: unknown) =>
    typeof inner !== 'object' || inner === null || Array.isArray(inner)
      ? inner
      : isFraction(inner)
        ? F.format(inner)
        : Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1))),
  );

/** Whether two plain values hold the same, fractions by their value. */
const alike = (a: unknown, b: unknown): boolean => {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b))
    return (
      Array.isArray(a) &&
      Array.isArray(b) &&
      a.length === b.length &&
      a.every((one, index) => alike(one, b[index]))
    );
  if (isFraction(a) && isFraction(b)) return F.equal(a, b);
  const other = new Map<string, unknown>(Object.entries(b));
  const own = Object.entries(a);
  return (
    own.length === other.size &&
    own.every(([name, value]) => other.has(name) && alike(value, other.get(name)))
  );
};

/** The fields in which two records differ. */
const fields = (a: object, b: object): string => {
  const [left, right] = [new Map(Object.entries(a)), new Map(Object.entries(b))];
  const names = [...new Set([...left.keys(), ...right.keys()])].sort();
  return names
    .filter((name) => textOf(left.get(name)) !== textOf(right.get(name)))
    .map((name) => `${name} ${textOf(left.get(name))} / ${textOf(right.get(name))}`)
    .join('; ');
};

/** Compares two lists entry by entry; a list that is too long is told once. */
const lists = (what: string, a: readonly object[], b: readonly object[]): string[] => {
  const differing: string[] = [];
  if (a.length !== b.length) differing.push(`${what}: ${a.length} / ${b.length} of them`);
  for (let index = 0; index < Math.min(a.length, b.length); index++) {
    const [one, other] = [a[index] ?? {}, b[index] ?? {}];
    if (alike(one, other)) continue;
    const told = fields(one, other);
    differing.push(`${what} ${index}: ${told}`);
  }
  return differing;
};

const withoutId = (note: WrittenNote): object => ({ ...note, id: '' });

/** The sounding note with its written notes told by their places in the part's list instead of by ids. */
const sounding = ({ written }: Part): ((note: Note) => object) => {
  const places = new Map(written.map(({ id }, index) => [id, index]));
  return ({ id, ...note }) => ({
    ...note,
    first: places.get(id) ?? -1,
    written: note.written.map((one) => places.get(one) ?? -1),
  });
};

const head = ({ id, name, abbreviation, sound, program, staves }: Part): object => ({
  id,
  name,
  abbreviation,
  sound,
  program,
  staves,
});

const parts = (a: Part, b: Part): string[] => {
  const of = (what: string) => `part ${a.id} ${what}`;
  return [
    ...lists(of('head'), [head(a)], [head(b)]),
    ...lists(of('clef'), a.clefs, b.clefs),
    ...lists(of('key'), a.keys, b.keys),
    ...lists(of('transposition'), a.transpositions, b.transpositions),
    ...lists(of('written'), a.written.map(withoutId), b.written.map(withoutId)),
    ...lists(of('note'), a.notes.map(sounding(a)), b.notes.map(sounding(b))),
    ...lists(of('direction'), a.directions, b.directions),
  ];
};

const usual = { segno: 'segno', dalSegno: 'segno', coda: 'coda', toCoda: 'coda' } as const;

/** A segno or coda without a name is the one that is usually called so. */
const named = (bar: Bar): Bar => ({
  ...bar,
  jumps: bar.jumps.map((jump) =>
    'name' in jump && jump.name === '' ? { ...jump, name: usual[jump.kind] } : jump,
  ),
});

/**
 * The differences between two scores in title, bars, marks, parts, written and sounding notes and directions, one
 * line each; empty where they are the same music. The source format is left out.
 */
export const sameMusic = (a: Score, b: Score): string[] => [
  ...(a.title === b.title ? [] : [`title: "${a.title}" / "${b.title}"`]),
  ...lists('bar', a.bars.map(named), b.bars.map(named)),
  ...lists('mark', a.marks, b.marks),
  ...(a.parts.length === b.parts.length ? [] : [`parts: ${a.parts.length} / ${b.parts.length} of them`]),
  ...a.parts.flatMap((one, index) => {
    const other = b.parts[index];
    return other === undefined ? [] : parts(one, other);
  }),
];
