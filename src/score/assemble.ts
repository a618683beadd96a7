/**
 * From what is drawn to what sounds: every reader hands its written notes in here, so that ties, transposition and
 * order are treated alike in every format.
 */
import { beats, F, problem, type Beats, type Problem } from '../units/index.ts';
import type { Bar, Part, Transposition } from './model.ts';
import type { Note, WrittenNote } from './notes.ts';
import { midiOf, pitchText } from './pitch.ts';

/** A part before its sounding notes are known. */
export type PartDraft = Omit<Part, 'notes'>;

/** A sounding note that is still growing: its last written piece has a tie that is open. */
interface Chain {
  readonly pieces: WrittenNote[];
  end: Beats;
}

const byPlace = (a: WrittenNote, b: WrittenNote): number => {
  if (a.bar !== b.bar) return a.bar - b.bar;
  const onset = F.compare(a.onset, b.onset);
  if (onset !== 0) return onset;
  if (a.staff !== b.staff) return a.staff - b.staff;
  return a.voice < b.voice ? -1 : a.voice > b.voice ? 1 : 0;
};

/**
 * What two tied notes share: the place where they touch, and the pitch as sounded, so that an enharmonic tie holds; for
 * drums the place drawn.
 */
const tieKey = ({ pitch, display }: WrittenNote, touch: Beats): string => {
  const key = pitch === null ? `${display?.step ?? '-'}${display?.octave ?? 0}` : String(midiOf(pitch));
  return `${key} ${F.format(touch)}`;
};

/** Takes the chain that a note continues out of those that wait: in its own voice, else on its staff, else any. */
const takeChain = (waiting: Chain[], piece: WrittenNote): Chain | undefined => {
  const last = (chain: Chain): WrittenNote | undefined => chain.pieces.at(-1);
  const found =
    waiting.find((chain) => last(chain)?.voice === piece.voice) ??
    waiting.find((chain) => last(chain)?.staff === piece.staff) ??
    waiting[0];
  if (found !== undefined) waiting.splice(waiting.indexOf(found), 1);
  return found;
};

/** Semitones from written to sounding pitch at a position. */
const transpositionAt = (transpositions: readonly Transposition[], at: Beats): number =>
  transpositions.findLast((entry) => F.atMost(entry.at, at))?.chromatic ?? 0;

const describe = ({ pitch }: WrittenNote): string => (pitch === null ? 'a drum note' : pitchText(pitch));

/**
 * Sorts a part's written notes and works out what sounds: tied notes merge into one where the second begins as the
 * first ends at the same pitch (MusicXML 4.0, element tie: it "indicates sound"). Rests, cue notes and grace notes
 * do not sound. A tie that leads nowhere is a Problem; its note keeps its own length.
 */
export const assemblePart = (
  draft: PartDraft,
  bars: readonly Bar[],
): { readonly part: Part; readonly problems: readonly Problem[] } => {
  const written = draft.written.toSorted(byPlace);
  const problems: Problem[] = [];
  const chains: Chain[] = [];
  const open = new Map<string, Chain[]>();
  const report = (piece: WrittenNote, code: string, what: string) =>
    problems.push(
      problem('repair', code, `${what} on ${describe(piece)}: the note keeps its own length.`, {
        part: draft.id,
        bar: bars[piece.bar]?.number ?? '',
      }),
    );

  const sounding = written
    .filter((piece) => piece.kind === 'note' && !piece.cue && F.isPositive(piece.duration))
    .sort((a, b) => F.compare(a.onset, b.onset));
  for (const piece of sounding) {
    const end = beats(F.add(piece.onset, piece.duration));
    const waiting = piece.tieStop ? open.get(tieKey(piece, piece.onset)) : undefined;
    const continued = waiting === undefined ? undefined : takeChain(waiting, piece);
    if (piece.tieStop && continued === undefined)
      report(piece, 'tie-without-start', 'A tie ends but none began');
    const chain = continued ?? { pieces: [], end };
    if (continued === undefined) chains.push(chain);
    chain.pieces.push(piece);
    chain.end = end;
    if (!piece.tieStart) continue;
    const key = tieKey(piece, end);
    const others = open.get(key);
    if (others === undefined) open.set(key, [chain]);
    else others.push(chain);
  }
  for (const waiting of open.values()) {
    for (const { pieces } of waiting) {
      const last = pieces.at(-1);
      if (last !== undefined) report(last, 'tie-not-ended', 'A tie begins but no note follows it');
    }
  }

  const notes = chains.flatMap(({ pieces, end }): Note[] => {
    const [first] = pieces;
    if (first === undefined) return [];
    return [
      {
        id: first.id,
        part: draft.id,
        staff: first.staff,
        voice: first.voice,
        bar: first.bar,
        onset: first.onset,
        duration: beats(F.sub(end, first.onset)),
        pitch: first.pitch,
        midi: first.pitch && midiOf(first.pitch) + transpositionAt(draft.transpositions, first.onset),
        tuplet: pieces.some(({ tuplet }) => tuplet.actual !== tuplet.normal),
        written: pieces.map(({ id }) => id),
      },
    ];
  });
  notes.sort((a, b) => F.compare(a.onset, b.onset) || (a.midi ?? 0) - (b.midi ?? 0));
  return { part: { ...draft, written, notes }, problems };
};
