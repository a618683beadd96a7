/**
 * Where clicks fall: a rule over the metre, so that it survives metre changes (design section 7). This file reads the
 * rule as a player writes it; strikes.ts says where it falls in a bar.
 */
import { parseValue } from '../rhythm/value.ts';
import { F, fail, ok, type Beats, type Fraction, type Result } from '../units/index.ts';

export type Placement =
  | { readonly kind: 'every' | 'half' | 'weak' | 'after' | 'none' }
  /** The first beat of every n-th bar, from the first full bar of the passage. */
  | { readonly kind: 'bars'; readonly each: number }
  /** Evenly in this value from each bar's start. */
  | { readonly kind: 'value'; readonly value: Beats }
  /** Beats as players count them, with the part of the beat gone by. */
  | { readonly kind: 'beats'; readonly list: readonly CountedBeat[] };

export interface CountedBeat {
  readonly beat: number;
  /** 0 <= part < 1; "and": where `after` has its click, the second half or the last third. */
  readonly part: Fraction | 'and';
}

/** Bars that are clicked otherwise than the rest: "12:1 3", "12-15:none". */
export interface BarsApart {
  /** As a drill names bars: printed numbers, "@12" by index. */
  readonly bars: string;
  readonly placement: Placement;
}

export interface ClickRule {
  readonly placement: Placement;
  /** Where bars are named more than once, the later one holds; it holds over a hemiola too. */
  readonly apart: readonly BarsApart[];
  /** Bars over which a hemiola is clicked instead: printed numbers, first and last. */
  readonly hemiola: { readonly from: string; readonly to: string } | null;
}

const help =
  'Say every, half, weak, after, bar, 2bars (4bars ...), a note value such as 1/8, hemiola:14-15, none, or beats as "2 4" or "1 2&"; a comma, then "12:1 3", for bars apart.';

const unknown = (text: string): Result<never> =>
  fail('placement-unknown', `"${text}" is no click placement. ${help}`);

const plain = new Set(['every', 'half', 'weak', 'after', 'none'] as const);
type Plain = typeof plain extends Set<infer T> ? T : never;
const isPlain = (text: string): text is Plain => (plain as Set<string>).has(text);

/** "2", "2&" (its "and"), "2+1/3". */
const parseBeat = (text: string): CountedBeat | null => {
  const match = /^(\d{1,2})(&|\+\d{1,3}\/\d{1,3})?$/.exec(text);
  const beat = Number(match?.[1]);
  if (match === null || beat < 1) return null;
  const after = match[2];
  if (after === '&') return { beat, part: 'and' };
  const part = after === undefined ? F.zero : F.parse(after.slice(1));
  return part !== null && F.less(part, F.one) ? { beat, part } : null;
};

const parsePlacement = (text: string): Placement | null => {
  if (isPlain(text)) return { kind: text };
  if (text === 'bar') return { kind: 'bars', each: 1 };
  const bars = /^(\d{1,2}) ?bars?$/.exec(text);
  if (bars !== null) return Number(bars[1]) > 0 ? { kind: 'bars', each: Number(bars[1]) } : null;
  if (text.includes('/') && !/[\s&+]/.test(text)) {
    const value = parseValue(text);
    return value !== null && F.atMost(F.fraction(1, 64), value) ? { kind: 'value', value } : null;
  }
  const list = [...new Set(text.split(/\s+/))].map(parseBeat);
  const beats = list.filter((beat) => beat !== null);
  return beats.length === list.length ? { kind: 'beats', list: beats } : null;
};

/** "12:1 3", "A-C:none": the bars, and how they are clicked. No placement holds a colon, so the last one parts them. */
const parseApart = (text: string): BarsApart | null => {
  const match = /^(.+):([^:]*)$/.exec(text);
  const bars = match?.[1]?.trim() ?? '';
  const placement = parsePlacement((match?.[2] ?? '').trim());
  return bars === '' || bars === 'hemiola' || placement === null ? null : { bars, placement };
};

const hemiolaPattern = /^hemiola:\s*([^\s-]+)(?:\s*-\s*([^\s-]+))?$/;

/**
 * Reads a placement: "every", "half", "weak", "after", "bar", "4bars", "1/8", "2 4", "1 2&", "none". After it, or alone
 * (with every beat elsewhere), parted by commas: one "hemiola:14-15", and any number of bars that are clicked otherwise,
 * "12:1 3", "20-24:none". Grammar: `[placement] {"," (hemiola | bars ":" placement)}`. Error: `placement-unknown`.
 */
export const parseClick = (text: string): Result<ClickRule> => {
  const clauses = text.split(',').map((clause) => clause.trim());
  const base = parsePlacement(clauses[0] ?? '');
  let hemiola: ClickRule['hemiola'] = null;
  const apart: BarsApart[] = [];
  for (const clause of base === null ? clauses : clauses.slice(1)) {
    const [, from, to] = hemiolaPattern.exec(clause) ?? [];
    if (from !== undefined && hemiola === null) {
      hemiola = { from, to: to ?? from };
      continue;
    }
    const bars = from === undefined ? parseApart(clause) : null;
    if (bars === null) return unknown(text);
    apart.push(bars);
  }
  return ok({ placement: base ?? { kind: 'every' }, apart, hemiola });
};

/** In words, for messages and for the page. */
export const placementText = (placement: Placement): string => {
  switch (placement.kind) {
    case 'bars':
      return placement.each === 1 ? 'bar' : `${placement.each}bars`;
    case 'value':
      return F.format(placement.value);
    case 'beats':
      return placement.list.map(beatWord).join(' ');
    case 'every':
    case 'half':
    case 'weak':
    case 'after':
    case 'none':
      return placement.kind;
  }
};

const beatWord = ({ beat, part }: CountedBeat): string =>
  part === 'and' ? `${beat}&` : F.isZero(part) ? String(beat) : `${beat}+${F.format(part)}`;

/** A rule as it is read by `parseClick`. */
export const clickText = ({ placement, hemiola, apart }: ClickRule): string =>
  [
    placementText(placement),
    ...(hemiola === null
      ? []
      : [`hemiola:${hemiola.from}${hemiola.to === hemiola.from ? '' : `-${hemiola.to}`}`]),
    ...apart.map(({ bars, placement: own }) => `${bars}:${placementText(own)}`),
  ].join(',');
