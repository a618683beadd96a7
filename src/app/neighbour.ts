/** Where an arrow key leads from a bar or a beat: along its row, or to the row above or below. */

type Row = readonly HTMLElement[];

const placesIn = (root: Element, kind: string): Row => [...root.querySelectorAll<HTMLElement>(kind)];

/** The notes of a system, staff by staff. */
const staves = (line: Element): readonly Row[] => {
  const rows = new Map<string, HTMLElement[]>();
  for (const note of placesIn(line, '.note-place')) {
    const staff = note.dataset['staff'] ?? '';
    rows.set(staff, [...(rows.get(staff) ?? []), note]);
  }
  return [...rows.values()];
};

/** The rows of the page from the top: of each system its beats, then its bars, or its notes staff by staff. */
const rowsOf = (music: Element): readonly Row[] =>
  placesIn(music, '.line')
    .flatMap((line) => [placesIn(line, '.beat'), placesIn(line, '.bar'), ...staves(line)])
    .filter(({ length }) => length > 0);

const middle = (one: Element): number => {
  const { left, width } = one.getBoundingClientRect();
  return left + width / 2;
};

const nearest = (row: Row, x: number): HTMLElement | null => {
  const [first, ...rest] = row;
  if (first === undefined) return null;
  return rest.reduce(
    (best, one) => (Math.abs(middle(one) - x) < Math.abs(middle(best) - x) ? one : best),
    first,
  );
};

const along: Readonly<Record<string, number>> = { ArrowLeft: -1, ArrowRight: 1 };
const across: Readonly<Record<string, number>> = { ArrowUp: -1, ArrowDown: 1 };

/** Null where the key leads nowhere. Home and End lead to the ends of the music. */
export const neighbour = (music: Element, from: EventTarget | null, key: string): HTMLElement | null => {
  if (!(from instanceof HTMLElement)) return null;
  const kind = from.classList.contains('note-place')
    ? `.note-place[data-staff="${from.dataset['staff'] ?? ''}"]`
    : from.classList.contains('beat')
      ? '.beat'
      : '.bar';
  const all = placesIn(music, kind);
  if (key === 'Home') return all[0] ?? null;
  if (key === 'End') return all.at(-1) ?? null;
  const by = along[key];
  if (by !== undefined) return all[all.indexOf(from) + by] ?? null;
  const rows = rowsOf(music);
  const to = across[key];
  const row = rows.findIndex((one) => one.includes(from));
  return to === undefined || row < 0 ? null : nearest(rows[row + to] ?? [], middle(from));
};
