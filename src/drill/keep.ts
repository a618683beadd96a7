/**
 * The line filter: which notes of a passage are kept, so that one line can be isolated and passed on. Notes go by
 * their sounding length, ties merged: "1/8+" eighths and longer, "1/16" sixteenths only, "1/8-" eighths and shorter.
 * Notes in tuplets are a class of their own, named by the value drawn: "1/8t" triplet eighths, "1/8t+" and longer.
 */
import type { Note } from '../score/notes.ts';
import { parseValue } from '../rhythm/value.ts';
import { F, fail, ok, type Beats, type Result } from '../units/index.ts';

export type Keep = readonly KeepClass[];

type KeepClass =
  | { readonly kind: 'all' }
  | {
      readonly kind: 'plain' | 'tuplet';
      readonly value: Beats;
      readonly and: 'only' | 'longer' | 'shorter';
    };

const parseClass = (text: string): KeepClass | null => {
  if (text === 'all') return { kind: 'all' };
  const match = /^([\d/.]+)(t?)([+-]?)$/.exec(text);
  const value = parseValue(match?.[1] ?? '');
  if (match === null || value === null) return null;
  const and = match[3] === '+' ? 'longer' : match[3] === '-' ? 'shorter' : 'only';
  return { kind: match[2] === 't' ? 'tuplet' : 'plain', value, and };
};

/** Reads "all" or classes joined by commas: "1/8+,1/8t". Fails with `keep-unknown`. */
export const parseKeep = (text: string): Result<Keep> => {
  const list = text.split(',').map((part) => parseClass(part.trim()));
  const classes = list.filter((found) => found !== null);
  return classes.length === list.length
    ? ok(classes)
    : fail(
        'keep-unknown',
        `"${text}" names no notes to keep. Say all, 1/8+ (eighths and longer), 1/16 (only sixteenths), 1/8- (eighths and shorter), 1/8t (triplet eighths), or several with commas.`,
      );
};

/** How long a tuplet note would be undivided: a triplet eighth sounds 1/12 and is drawn 1/8. */
export type DrawnLength = (note: Note) => Beats;

/** Whether the filter keeps a note. */
export const keeps = (keep: Keep, note: Note, drawn: DrawnLength): boolean =>
  keep.some((wanted) => {
    if (wanted.kind === 'all') return true;
    if ((wanted.kind === 'tuplet') !== note.tuplet) return false;
    const sign = F.compare(note.tuplet ? drawn(note) : note.duration, wanted.value);
    return sign === 0 || (wanted.and === 'longer' && sign > 0) || (wanted.and === 'shorter' && sign < 0);
  });

/** Whether the filter says anything about tuplets, so that leaving them out is what the player asked for. */
export const mindsTuplets = (keep: Keep): boolean => keep.some(({ kind }) => kind !== 'plain');
