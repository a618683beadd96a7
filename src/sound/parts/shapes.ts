/** What is written on the notes, for the sound: articulation, slurs, dynamics. */
import { type Beats, F, lookUp, remembered } from '../../units/index.ts';

/** What is needed of a written note; a score's written note has it all. */
export interface WrittenShape {
  readonly id: string;
  readonly kind: 'note' | 'rest' | 'grace';
  readonly onset: Beats;
  readonly staff: number;
  readonly voice: string;
  readonly marks: {
    readonly articulations: readonly string[];
    readonly slurs: readonly { readonly type: 'start' | 'stop' | 'continue'; readonly number: number }[];
    readonly dynamics: readonly string[];
  };
}

export interface WrittenDynamics {
  readonly at: Beats;
  /** "dynamics" counts; all else is passed over. */
  readonly kind: string;
  readonly value: string;
  /** Written by the players: it comes after what the score has on the same note. */
  readonly own?: boolean;
  /** The only time through in which it counts, from 1; left out: each time. */
  readonly time?: number;
}

/** A part as written; a score's part fits. */
export interface WrittenPart {
  readonly written: readonly WrittenShape[];
  readonly directions: readonly WrittenDynamics[];
}

export interface NoteShape {
  /** Share of its length that the note sounds. */
  readonly share: number;
  /** Bound to the next note by a slur. */
  readonly slurred: boolean;
  /** dB against mf. */
  readonly level: number;
}

/**
 * Levels in dB against mf. A third of what instruments do between pp and ff (some 30 dB; from memory), so that a soft
 * line is still heard beside real players. Common practice, no source.
 */
const levels: Readonly<Record<string, number>> = {
  pppp: -9,
  ppp: -8,
  pp: -6,
  p: -4,
  mp: -2,
  mf: 0,
  f: 2.5,
  ff: 4,
  fff: 5,
  ffff: 5.5,
};
/** Strong for one note, soft or as before after it. */
const accents: Readonly<Record<string, { readonly level: number; readonly after: string | null }>> = {
  fp: { level: 2.5, after: 'p' },
  pf: { level: 0, after: 'f' },
  sf: { level: 4, after: null },
  sfz: { level: 4, after: null },
  fz: { level: 4, after: null },
  sffz: { level: 5, after: null },
  rf: { level: 3, after: null },
  rfz: { level: 3, after: null },
  sfp: { level: 4, after: 'p' },
  sfpp: { level: 4, after: 'pp' },
};
/** Share of its length that a note sounds. Staccato: Bresin and Battel 2000, JNMR 29:211 (piano). The others: common practice, no source. */
const shares: Readonly<Record<string, number>> = {
  staccato: 0.4,
  staccatissimo: 0.3,
  spiccato: 0.35,
  'detached-legato': 0.75,
};
const stresses: Readonly<Record<string, number>> = { accent: 3, 'strong-accent': 4, stress: 2, unstress: -2 };
const mostLevel = 6;

/** Ids of the notes that a slur binds to the next one: from its first note up to the one before its last. */
const slurred = (written: readonly WrittenShape[]): ReadonlySet<string> => {
  const bound = new Set<string>();
  const lines = new Map<string, WrittenShape[]>();
  for (const item of written) {
    const key = `${item.staff}/${item.voice}`;
    const line = lines.get(key) ?? [];
    line.push(item);
    lines.set(key, line);
  }
  for (const line of lines.values()) {
    const open = new Map<number, number>();
    line.forEach(({ marks }, i) => {
      for (const { type, number } of marks.slurs) {
        const from = open.get(number);
        if (type === 'stop' && from !== undefined) {
          open.delete(number);
          const end = line[i]?.onset;
          // A slur that never ends binds nothing: it is a slip of the file.
          for (const { id, onset } of line.slice(from, i))
            if (end !== undefined && F.less(onset, end)) bound.add(id);
        }
      }
      for (const { type, number } of marks.slurs) if (type === 'start') open.set(number, i);
    });
  }
  return bound;
};

interface Sudden {
  readonly level: number;
  /** Of the note that it fell on; null until there is one. */
  readonly onset: Beats | null;
}

const stillSudden = ({ level, onset }: Sudden, now: Beats): Sudden | null =>
  onset === null || F.equal(onset, now) ? { level, onset: now } : null;

const shapesOf = (part: WrittenPart, through: number | null): readonly (readonly [string, NoteShape])[] => {
  const bound = slurred(part.written);
  const dynamics = part.directions
    .filter(({ kind, value }) => kind === 'dynamics' && (value in levels || value in accents))
    .filter(({ time }) => time === undefined || time === through)
    .sort((a, b) => F.compare(a.at, b.at));
  let next = 0;
  let level = 0;
  /** A sudden mark holds for the first note from it on, with all that begins together with that note. */
  let sudden: Sudden | null = null;
  const change = (value: string): void => {
    const mark = lookUp(accents, value);
    if (mark !== undefined) sudden = { level: mark.level, onset: null };
    level = lookUp(levels, mark === undefined ? value : (mark.after ?? '')) ?? level;
  };
  const changeUntil = (comes: (mark: WrittenDynamics) => boolean): void => {
    for (let mark = dynamics[next]; mark !== undefined && comes(mark); mark = dynamics[++next])
      change(mark.value);
  };
  const sounding = part.written
    .filter(({ kind }) => kind === 'note')
    .sort((a, b) => F.compare(a.onset, b.onset));
  return sounding.map(({ id, onset, marks }) => {
    changeUntil(({ at, own }) => (own === true ? F.less(at, onset) : F.atMost(at, onset)));
    for (const value of marks.dynamics) change(value);
    changeUntil(({ at }) => F.atMost(at, onset));
    if (sudden !== null) sudden = stillSudden(sudden, onset);
    const own = marks.articulations.reduce((sum, name) => sum + (lookUp(stresses, name) ?? 0), 0);
    const share = marks.articulations.reduce((least, name) => Math.min(least, lookUp(shares, name) ?? 1), 1);
    return [
      id,
      {
        share,
        slurred: bound.has(id) && share === 1,
        level: Math.min(mostLevel, (sudden?.level ?? level) + own),
      },
    ];
  });
};

const plainShapes = remembered((part: WrittenPart) => shapesOf(part, null));

/**
 * How the notes of a score are to sound, by id of the written note; `time`: in which time through, null where only what
 * counts each time is asked for. Hairpins are not followed.
 */
export const noteShapes = (
  parts: readonly WrittenPart[],
  time: number | null = null,
): ReadonlyMap<string, NoteShape> =>
  new Map(parts.flatMap((part) => (time === null ? plainShapes(part) : shapesOf(part, time))));
