/**
 * Spines and their paths: which column of a line belongs to which strand of music. Source: Humdrum User's Guide,
 * chapter 5, "Spine Paths": *+ adds, *- ends, *^ splits, *v joins neighbours, *x exchanges.
 */
import { Refusal, type Place } from '../../../units/index.ts';
import type { Log } from '../drafts/log.ts';

/** More columns at once, and more in the whole file, than any score. */
const mostSpines = 1000;
const mostTracks = 5000;

/** One spine from its exclusive interpretation to its end, with all that splits from it. */
export interface Track {
  /** In order of appearance, from 0. */
  readonly id: number;
  /** The exclusive interpretation without its asterisks; empty until it is given. */
  kind: string;
  /** How many headers stand before its own: a file may hold several movements. */
  readonly group: number;
}

/** One column at a time. `state` is what a reader keeps for it. */
export interface Leaf<S> {
  track: Track;
  readonly state: S;
}

/** How a reader's state follows the paths. */
export interface Carry<S> {
  readonly start: () => S;
  readonly split: (state: S) => S;
  readonly join: (states: readonly S[]) => S;
}

export interface Paths<S> {
  readonly leaves: () => readonly Leaf<S>[];
  readonly tracks: readonly Track[];
  readonly group: () => number;
  /** Takes one line of interpretations; true where the columns changed. */
  readonly take: (tokens: readonly string[], nextCount: number, line: number) => boolean;
}

const changes = /^\*([-+^v]|x|\^\d*)$/;
export const isPath = (token: string): boolean => changes.test(token) || token.startsWith('**');

const place = (line: number): Place => ({ line });

const tooMany = (line: number): never => {
  throw new Refusal(
    'file-too-large',
    `The file has more than ${mostSpines} columns at once, more than any score.`,
    place(line),
  );
};

export const createPaths = <S>(carry: Carry<S>, log: Log | null): Paths<S> => {
  const tracks: Track[] = [];
  let leaves: Leaf<S>[] = [];
  let group = -1;

  const broken = (words: string, line: number): void =>
    log?.say('repair', 'kern-path-broken', `${words}; the sign is passed over.`, place(line));

  const newTrack = (kind: string): Track => {
    if (tracks.length >= mostTracks)
      throw new Refusal(
        'file-too-large',
        `The file begins more than ${mostTracks} columns, more than any score.`,
      );
    const track = { id: tracks.length, kind, group: Math.max(0, group) };
    tracks.push(track);
    return track;
  };

  /** Joins a run of neighbours into one; into one for each spine where only that fits the next line. */
  const joined = (run: readonly Leaf<S>[], apart: boolean): Leaf<S>[] => {
    const heaps: Leaf<S>[][] = [];
    for (const leaf of run) {
      const last = heaps.at(-1);
      if (last === undefined || (apart && last[0]?.track !== leaf.track)) heaps.push([leaf]);
      else last.push(leaf);
    }
    return heaps.flatMap((heap): Leaf<S>[] => {
      const [first] = heap;
      return first === undefined
        ? []
        : [
            {
              track: first.track,
              state: heap.length === 1 ? first.state : carry.join(heap.map(({ state }) => state)),
            },
          ];
    });
  };

  const begin = (tokens: readonly string[], line: number): void => {
    if (tokens.length > mostSpines) tooMany(line);
    group += 1;
    leaves = tokens.map((token) => ({ track: newTrack(token.slice(2).trim()), state: carry.start() }));
  };

  /** Each column after this line. `apart`: joins that would bring spines of different origin together do not. */
  const next = (tokens: readonly string[], apart: boolean, tell: boolean, line: number): Leaf<S>[] => {
    const out: Leaf<S>[] = [];
    for (let index = 0; index < leaves.length; index += 1) {
      const leaf = leaves[index];
      const token = tokens[index] ?? '*';
      if (leaf === undefined || token === '*-') continue;
      if (token.startsWith('*^') && changes.test(token)) {
        out.push(leaf, { track: leaf.track, state: carry.split(leaf.state) });
      } else if (token === '*+') out.push(leaf, { track: { id: -1, kind: '', group }, state: carry.start() });
      else if (token === '*x') {
        const other = leaves[index + 1];
        if (tokens[index + 1] === '*x' && other !== undefined) {
          out.push(other, leaf);
          index += 1;
        } else {
          if (tell) broken('A column is to change places with its neighbour, which is not', line);
          out.push(leaf);
        }
      } else if (token === '*v') {
        let to = index;
        while (tokens[to + 1] === '*v' && to + 1 < leaves.length) to += 1;
        if (to === index && tell) broken('A column is to join its neighbour, which is not', line);
        out.push(...joined(leaves.slice(index, to + 1), apart));
        index = to;
      } else out.push(leaf);
      if (out.length > mostSpines) tooMany(line);
    }
    return out;
  };

  const take = (tokens: readonly string[], nextCount: number, line: number): boolean => {
    if (leaves.length === 0) {
      begin(tokens, line);
      return true;
    }
    if (!tokens.some(isPath)) return false;
    const all = next(tokens, false, true, line);
    const mixed = tokens.filter((token) => token === '*v').length > 2 && all.length !== nextCount;
    const apart = mixed ? next(tokens, true, false, line) : all;
    leaves = apart.length === nextCount ? apart : all;
    for (const leaf of leaves) {
      // Each added column gets its own track, once it is known that it stays.
      if (leaf.track.id < 0) leaf.track = newTrack('');
    }
    tokens.forEach((token, index) => {
      const leaf = leaves[index];
      if (!token.startsWith('**') || leaf === undefined || tokens.length !== leaves.length) return;
      const kind = token.slice(2).trim();
      if (leaf.track.kind === '') leaf.track.kind = kind;
      else if (leaf.track.kind !== kind) leaf.track = newTrack(kind);
    });
    return true;
  };

  return { leaves: () => leaves, tracks, group: () => Math.max(0, group), take };
};
