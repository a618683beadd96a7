/**
 * The table of ways back of a long search, kept only as far as it is needed: all ways that are still followed have one
 * beginning in common, and what lies before that is settled. Nothing is lost by letting go of the rest.
 */

/** What stands in the table for a state: where it came from. -1 is the state before anything was played. */
export interface WaysBack {
  /** Room for the codes of a frame; frames come one after another, from 0 on. */
  readonly row: () => Uint8Array;
  /** To be called after each frame. `live` is asked only now and then for the states that are still followed. */
  readonly settle: (live: () => Iterable<number>) => void;
  /** From the state after the last frame: one code for each frame, of the state that the way is in. */
  readonly codes: (last: number) => Uint8Array;
}

/** Frames that lie in one piece. */
const piece = 256;

/**
 * `columns`: codes of a frame. `place`: where in a frame's row the code of a state lies. `from`: the state that a state
 * with this code came from.
 */
export const waysBack = (
  frames: number,
  columns: number,
  place: (state: number, frame: number) => number,
  from: (state: number, code: number, frame: number) => number,
): WaysBack => {
  const settled = new Uint8Array(frames);
  let pieces: Uint8Array[] = [];
  const spare: Uint8Array[] = [];
  /** Frames before this one are settled; the first of the pieces begins at `kept`. */
  let [open, kept, count] = [0, 0, 0];
  let next = piece;
  const codeAt = (state: number, frame: number): number => {
    const at = frame - kept;
    const row = (at % piece) * columns;
    return pieces[Math.floor(at / piece)]?.[row + place(state, frame)] ?? 0;
  };
  /** Writes down the way that leads to a state after a frame. */
  const follow = (end: number, frame: number): void => {
    let state = end;
    for (let t = frame; t >= open && state >= 0; t -= 1) {
      const code = codeAt(state, t);
      settled[t] = code;
      state = from(state, code, t);
    }
  };
  const letGo = (until: number): void => {
    open = until;
    while (open - kept >= piece) {
      const [first] = pieces;
      if (first !== undefined) spare.push(first);
      pieces = pieces.slice(1);
      kept += piece;
    }
  };
  const settle = (live: () => Iterable<number>): void => {
    if (count - open < next) return;
    let states = new Set(live());
    for (let t = count - 1; t >= open && states.size > 0; t -= 1) {
      const [only] = states;
      if (states.size === 1 && only !== undefined) {
        follow(only, t);
        letGo(t + 1);
        break;
      }
      const before = new Set<number>();
      for (const state of states) before.add(state < 0 ? state : from(state, codeAt(state, t), t));
      states = before;
    }
    // Where much stays open, as in a long silence, it is looked at again only when it has doubled.
    next = Math.max(piece, 2 * (count - open));
  };
  return {
    row: () => {
      const at = count - kept;
      count += 1;
      const p = Math.floor(at / piece);
      const own = pieces[p] ?? spare.pop() ?? new Uint8Array(piece * columns);
      if (pieces[p] === undefined) pieces.push(own);
      const start = (at % piece) * columns;
      return own.subarray(start, start + columns);
    },
    settle,
    codes: (last) => {
      follow(last, count - 1);
      return settled;
    },
  };
};
