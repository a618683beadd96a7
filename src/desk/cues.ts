/** Who gives the cue for an entry, as the players' own markings name it ("who leads", "a cue"). */
import type { Direction, Part } from '../score/model.ts';
import { F, type Beats } from '../units/index.ts';

interface Cue {
  readonly at: Beats;
  readonly bar: number;
  readonly kind: NonNullable<Direction['role']>;
  /** Part id. */
  readonly by: string;
}

/** Whether a text names a part: "Flute", "Flute leads", "fl." */
const names = (text: string, { id, name, abbreviation }: Part): boolean => {
  const said = text.trim().toLowerCase();
  return [name, abbreviation, id]
    .map((one) => one.trim().toLowerCase())
    .some((one) => one !== '' && (said === one || said.startsWith(`${one} `)));
};

/** By its text, else by the part that it is written in; null where it names nobody. */
const namedBy = ({ value, shared }: Direction, own: Part, parts: readonly Part[]): string | null =>
  parts.find((part) => names(value, part))?.id ?? (shared === true ? null : own.id);

const cuesOf = (parts: readonly Part[]): readonly Cue[] =>
  parts.flatMap((part) =>
    part.directions.flatMap((direction): readonly Cue[] => {
      const { role, at, bar } = direction;
      const by = role === undefined ? null : namedBy(direction, part, parts);
      return role === undefined || by === null ? [] : [{ at, bar, kind: role, by }];
    }),
  );

/** The part that cues an entry at a written position in a bar; null where none is named. A marking holds for what begins at it and up to the end of the next bar; who leads comes before a cue, the nearer before the further. */
export const cueIn = (parts: readonly Part[]): ((bar: number, at: Beats) => string | null) => {
  const cues = cuesOf(parts);
  return (bar, at) => {
    const here = cues
      .filter((cue) => F.atMost(cue.at, at) && cue.bar >= bar - 1)
      .sort((a, b) => Number(b.kind === 'leads') - Number(a.kind === 'leads') || F.compare(b.at, a.at));
    return here[0]?.by ?? null;
  };
};
