/**
 * Two states of a record into one, field by field: the field that was changed later stays. Later is what has the higher
 * counter; where two windows or devices reached the same count, the higher tag; and where even that is equal, the value
 * whose text is higher. So it does not matter in which order states meet, nor how often (a join of a total order by
 * fields: commutative, associative, idempotent).
 */
import { isPlain, type Plain, type ShelfRecord } from './formats.ts';
import { asRecord, recordVersion } from './records.ts';

/** Fields whose keys are merged each by itself. */
const byKey: Readonly<Record<ShelfRecord['kind'], readonly string[]>> = {
  ensemble: ['players'],
  piece: ['players', 'octaves', 'transpositions', 'sound'],
  'saved-drill': [],
  marking: [],
  rehearsal: ['present'],
  'journal-take': ['parts', 'pairs'],
  'journal-note': [],
  gone: [],
  take: ['sounds', 'said', 'out'],
  strange: [],
};

/** Fields that say which record it is. */
const fixed: ReadonlySet<string> = new Set(['format', 'id', 'stamps']);

type Stamp = readonly [number, string];

/** JSON with the names in order, so that the same data is the same text. */
export const canonical = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(canonical).join(',')}]`;
  if (!isPlain(value)) return JSON.stringify(value);
  const entries = Object.entries(value).filter(([, inner]) => inner !== undefined);
  return `{${entries
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, inner]) => `${JSON.stringify(name)}:${canonical(inner)}`)
    .join(',')}}`;
};

const isStamp = (value: unknown): value is Stamp =>
  Array.isArray(value) && typeof value[0] === 'number' && typeof value[1] === 'string';

const stampsOf = (record: Plain): Plain => (isPlain(record['stamps']) ? record['stamps'] : {});

const own = (record: Plain, name: string): unknown =>
  Object.hasOwn(record, name) ? record[name] : undefined;

interface Cell {
  readonly value: unknown;
  readonly stamp: Stamp | null;
}

const compare = (a: Cell, b: Cell): number => {
  if (a.value === undefined || b.value === undefined)
    return Number(a.value !== undefined) - Number(b.value !== undefined);
  const counts = (a.stamp?.[0] ?? -1) - (b.stamp?.[0] ?? -1);
  if (counts !== 0) return counts;
  const [tagA, tagB] = [a.stamp?.[1] ?? '', b.stamp?.[1] ?? ''];
  if (tagA !== tagB) return tagA < tagB ? -1 : 1;
  const [textA, textB] = [canonical(a.value), canonical(b.value)];
  return textA === textB ? 0 : textA < textB ? -1 : 1;
};

const names = (a: Plain, b: Plain): readonly string[] => [...new Set([...Object.keys(a), ...Object.keys(b)])];

const mergeFields = (a: Plain, b: Plain, keyed: readonly string[]): Plain => {
  const stamps: [string, Stamp][] = [];
  const later = (name: string, first: unknown, second: unknown): unknown => {
    const cell = (record: Plain, value: unknown): Cell => {
      const stamp = own(stampsOf(record), name);
      return { value, stamp: isStamp(stamp) ? stamp : null };
    };
    const [one, two] = [cell(a, first), cell(b, second)];
    const kept = compare(one, two) >= 0 ? one : two;
    if (kept.stamp !== null) stamps.push([name, kept.stamp]);
    return kept.value;
  };
  const fields = names(a, b)
    .filter((name) => !fixed.has(name))
    .map((name): [string, unknown] => {
      const [first, second] = [own(a, name), own(b, name)];
      if (!keyed.includes(name) || !isPlain(first) || !isPlain(second))
        return [name, later(name, first, second)];
      const inner = names(first, second).map((key): [string, unknown] => [
        key,
        later(`${name}/${key}`, own(first, key), own(second, key)),
      ]);
      return [name, Object.fromEntries(inner)];
    });
  return {
    format: a['format'],
    id: a['id'],
    ...Object.fromEntries(fields),
    stamps: Object.fromEntries(stamps.sort(([one], [two]) => (one < two ? -1 : 1))),
  };
};

const highest = (record: Plain): number =>
  Object.values(stampsOf(record)).reduce<number>(
    (most, stamp) => (isStamp(stamp) ? Math.max(most, stamp[0]) : most),
    -1,
  );

/** Of two records that cannot be taken apart the later version, then the one changed more, whole. */
const whole = (a: ShelfRecord, b: ShelfRecord): ShelfRecord => {
  const order =
    recordVersion(a) - recordVersion(b) ||
    highest(a.value) - highest(b.value) ||
    (canonical(a.value) < canonical(b.value) ? -1 : 1);
  return order >= 0 ? a : b;
};

/** Both have the same key. Gives `a` itself where `b` adds nothing. */
export const mergeRecords = (a: ShelfRecord, b: ShelfRecord): ShelfRecord => {
  if (a === b) return a;
  // Deleted is the last word: whatever meets it is gone, too.
  if (a.kind === 'gone' || b.kind === 'gone') {
    if (a.kind !== 'gone') return b;
    if (b.kind !== 'gone') return a;
    return canonical(a.value) >= canonical(b.value) ? a : b;
  }
  if (a.kind !== b.kind || a.kind === 'strange') return whole(a, b);
  const merged = mergeFields(a.value, b.value, byKey[a.kind]);
  return canonical(merged) === canonical(a.value) ? a : asRecord(merged);
};

/**
 * A record with other values in some fields, each stamped as changed now by the window `by`. In a field that is merged
 * key by key, only the keys that are named change.
 */
export const changeRecord = (record: ShelfRecord, change: Plain, by: string): ShelfRecord => {
  const count = highest(record.value) + 1;
  const stamps: Record<string, Stamp> = {};
  const before: Plain = record.value;
  const fields = Object.entries(change).map(([name, value]): [string, unknown] => {
    const old = own(before, name);
    if (!byKey[record.kind].includes(name) || !isPlain(value) || !isPlain(old)) {
      stamps[name] = [count, by];
      return [name, value];
    }
    for (const key of Object.keys(value)) stamps[`${name}/${key}`] = [count, by];
    return [name, { ...old, ...value }];
  });
  return asRecord({
    ...before,
    ...Object.fromEntries(fields),
    stamps: { ...stampsOf(before), ...stamps },
  });
};
