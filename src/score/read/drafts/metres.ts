/** Which metre each bar has: all parts share it, so the parts' time signatures are brought together here. */
import { F, type Fraction } from '../../../units/index.ts';
import { metre as plainMetre, metreText, type Metre } from '../../metre.ts';
import type { MeasureDraft, MetreDraft } from './draft.ts';
import type { Log } from './log.ts';

/** The parts' drafts of one bar, in score order; null where a part has none. */
export type Row = readonly (MeasureDraft | null)[];

/** How far the row's content reaches, whole-bar rests included. */
const reachOf = (row: Row): Fraction =>
  row.reduce(
    (most, draft) => (draft === null ? most : F.max(most, F.max(draft.extent, draft.restExtent))),
    F.zero,
  );

/** A length as a metre of quarters, or of shorter values where quarters do not go; null for lengths beyond notation. */
const metreOfLength = (length: Fraction): Metre | null => {
  const unit = Math.max(4, Number(length.d));
  if (!F.isPositive(length) || unit > 64 || (unit & (unit - 1)) !== 0) return null;
  const numerator = Number(length.n) * (unit / Number(length.d));
  // Thirds of a whole note are no row of quarters.
  if (!Number.isInteger(numerator)) return null;
  return numerator > 99 ? null : plainMetre(numerator, unit);
};

/**
 * The commonest bar length as a metre: what a file without time signature most likely is in. Of two that are equally
 * common the longer, since upbeats are short. 4/4 where there is none.
 */
const likelyMetre = (rows: readonly Row[]): Metre => {
  const counts = new Map<string, { metre: Metre; count: number; length: Fraction }>();
  for (const row of rows) {
    const length = reachOf(row);
    const metre = metreOfLength(length);
    if (metre === null) continue;
    const entry = counts.get(metreText(metre)) ?? { metre, count: 0, length };
    counts.set(metreText(metre), entry);
    entry.count += 1;
  }
  const [best] = [...counts.values()].sort((a, b) => b.count - a.count || F.compare(b.length, a.length));
  return best?.metre ?? plainMetre(4, 4);
};

const numberOf = (row: Row): string => row.find((draft) => draft !== null)?.number ?? '';

const lastAtStart = (draft: MeasureDraft): MetreDraft | undefined =>
  draft.metres.findLast(({ at }) => !F.isPositive(at));

/**
 * The metre of each bar. The first part that states one decides; a change inside a bar holds from the next bar on;
 * where nothing is stated the commonest bar length is taken. Each of these is a problem.
 */
export const metresOf = (rows: readonly Row[], partIds: readonly string[], log: Log): readonly Metre[] => {
  let current: Metre | null = null;
  const stated: (Metre | null)[] = [];
  for (const row of rows) {
    let chosen: Metre | null = null;
    let later: Metre | null = null;
    for (const [part, draft] of row.entries()) {
      if (draft === null || draft.metres.length === 0) continue;
      const place = { part: partIds[part] ?? '', bar: draft.number };
      const own = lastAtStart(draft)?.metre;
      if (own !== undefined && chosen !== null && metreText(own) !== metreText(chosen))
        log.say(
          'repair',
          'metre-differs',
          `This part is in ${metreText(own)} while another is in ${metreText(chosen)}; bars are counted in ${metreText(chosen)}.`,
          place,
        );
      chosen ??= own ?? null;
      const inside = draft.metres.findLast(({ at }) => F.isPositive(at));
      if (inside === undefined) continue;
      if (later === null)
        log.say(
          'repair',
          'metre-mid-bar',
          `The metre changes to ${metreText(inside.metre)} inside a bar; it is counted from the next bar on.`,
          place,
        );
      later ??= inside.metre;
    }
    const here: Metre | null = chosen ?? current;
    stated.push(here);
    current = later ?? here;
  }
  const unstated = stated.findIndex((metre) => metre !== null);
  const without = unstated < 0 ? rows : rows.slice(0, unstated);
  if (without.length === 0) return stated.flatMap((metre) => (metre === null ? [] : [metre]));
  const likely = likelyMetre(without);
  log.say(
    'assumption',
    'metre-assumed',
    `The file gives no time signature at its beginning; by the length of its bars it is read as ${metreText(likely)}.`,
    { bar: numberOf(rows[0] ?? []) },
  );
  return stated.map((metre) => metre ?? likely);
};
