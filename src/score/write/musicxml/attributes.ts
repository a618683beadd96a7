import type { Metre } from '../../metre.ts';
import type { Clef, Key, Part, Transposition } from '../../model.ts';
import type { Context } from './context.ts';
import { plainNumber } from './numbers.ts';

/** What changes at one position of a part. */
export interface Changes {
  readonly keys: Key[];
  readonly clefs: Clef[];
  readonly transpositions: Transposition[];
}

export const noChanges = (): Changes => ({ keys: [], clefs: [], transpositions: [] });

/** What stands at a bar's start besides. */
export interface Opening {
  /** Null where it was said in an earlier bar. */
  readonly divisions: bigint | null;
  readonly metre: Metre | null;
  readonly staves: number | null;
}

const writeMetre = ({ out }: Context, { components, symbol }: Metre): void => {
  out.within('time', { symbol: symbol === 'numbers' ? undefined : symbol }, () => {
    if (components.length === 0) out.empty('senza-misura');
    for (const { numerators, unit } of components) {
      out.leaf('beats', numerators.join('+'));
      out.leaf('beat-type', unit);
    }
  });
};

const writeClef = ({ out }: Context, clef: Clef, staves: number): void => {
  out.within('clef', { number: staves > 1 || clef.staff > 1 ? clef.staff : undefined }, () => {
    out.leaf('sign', clef.sign);
    if (Number.isInteger(clef.line) && clef.line > 0) out.leaf('line', clef.line);
    if (clef.octave !== 0) out.leaf('clef-octave-change', Math.round(clef.octave));
  });
};

/** Staff steps and semitones of an octave. */
const octave = { steps: 7, semitones: 12 };

/** MusicXML 4.0, group transpose: octaves are told apart from the rest, and only where there are some. */
const writeTransposition = ({ out }: Context, { diatonic, chromatic }: Transposition): void => {
  const octaves = Math.trunc(chromatic / octave.semitones);
  out.within('transpose', {}, () => {
    out.leaf('diatonic', diatonic - octaves * octave.steps);
    out.leaf('chromatic', plainNumber(chromatic - octaves * octave.semitones));
    if (octaves !== 0) out.leaf('octave-change', octaves);
  });
};

/** Writes `attributes`, in the order of the schema; nothing where nothing changes. */
export const writeAttributes = (
  context: Context,
  part: Part,
  { keys, clefs, transpositions }: Changes,
  opening: Opening = { divisions: null, metre: null, staves: null },
): void => {
  const { out } = context;
  const { divisions, metre, staves } = opening;
  const count = keys.length + clefs.length + transpositions.length;
  if (count === 0 && divisions === null && metre === null && staves === null) return;
  out.open('attributes');
  if (divisions !== null) out.leaf('divisions', divisions);
  for (const key of keys)
    out.within('key', { number: key.staff ?? undefined }, () => {
      out.leaf('fifths', Math.round(key.fifths));
      const mode = context.clean(key.mode, 'The mode of a key', { part: part.id });
      if (mode !== '') out.leaf('mode', mode);
    });
  if (metre !== null) writeMetre(context, metre);
  if (staves !== null) out.leaf('staves', staves);
  for (const clef of clefs) writeClef(context, clef, part.staves);
  for (const transposition of transpositions) writeTransposition(context, transposition);
  out.close();
};
