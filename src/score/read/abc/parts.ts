/** Which voices make a part, and on which of its staves they stand. Source: ABC 2.1, section 11.1. */
import { notKept } from '../drafts/log.ts';
import { readGrouping, type StaffGroup } from './grouping.ts';
import type { Tune } from './tune.ts';
import type { Voice } from './voice.ts';

export interface TunePart {
  readonly id: string;
  readonly name: string;
  readonly abbreviation: string;
  readonly program: number | null;
  /** The voices of each staff. */
  readonly staves: readonly (readonly Voice[])[];
}

const partOf = (staves: readonly (readonly Voice[])[]): TunePart | null => {
  const voices = staves.flat();
  const [first] = voices;
  if (first === undefined) return null;
  const names = [...new Set(voices.map(({ name }) => name).filter((name) => name !== ''))];
  return {
    id: first.id,
    // Voices that share a staff each have a name of their own: "Tenore I, Tenore II".
    name: names.join(', '),
    abbreviation: [
      ...new Set(voices.map(({ abbreviation }) => abbreviation).filter((one) => one !== '')),
    ].join(', '),
    program: voices.find(({ program }) => program !== null)?.program ?? null,
    staves,
  };
};

/** The id of the voice for music that names none. */
export const unnamed = 'P1';

/**
 * The parts of a tune in score order. Voices in round brackets share a staff and a part. Staves in one brace are one
 * part, as of a piano, unless two of them have different names, as two violins have. Every other voice is a part.
 */
export const partsOf = (tune: Tune): readonly TunePart[] => {
  const voices = new Map([...tune.voices].filter(([, voice]) => voice.bars.some(({ filled }) => filled)));
  const declared = tune.declared();
  // The voice of music that names none is there in case; if it stays empty, nobody named it.
  const named = [...tune.voices.keys()].filter((id) => id !== unnamed);
  const silent = new Set([...declared.slice(tune.shared.voices), ...named].filter((id) => !voices.has(id)));
  // What the file header says holds for tunes of other voices too.
  const own = tune.grouping !== tune.shared.grouping;
  for (const id of silent)
    tune.log.say(
      'repair',
      'part-without-music',
      `The file names a voice "${id}", but holds no music for it. It is left out.`,
    );
  const parts: TunePart[] = [];
  const taken = new Set<string>();
  const add = (staves: readonly (readonly Voice[])[]): void => {
    const part = partOf(staves.filter((staff) => staff.length > 0));
    if (part !== null) parts.push(part);
    for (const { id } of staves.flat()) taken.add(id);
  };
  const onStaff = ({ voices: ids }: StaffGroup): readonly Voice[] =>
    ids.flatMap((id) => {
      const voice = voices.get(id);
      if (voice === undefined && own && !silent.has(id))
        tune.log.say(
          'repair',
          'part-without-music',
          `%%score names a voice "${id}", but the file holds no music for it. It is left out.`,
        );
      return voice === undefined ? [] : [voice];
    });
  if (tune.grouping !== null) {
    const { blocks, sound, floating } = readGrouping(tune.grouping);
    if (!sound)
      tune.log.say(
        'repair',
        'bracket-unclosed',
        `The brackets of "%%score ${tune.grouping.slice(0, 100)}" do not match, or it names a voice twice; voices are grouped as far as it is understood.`,
      );
    if (floating.length > 0)
      notKept(
        tune.log,
        'floating',
        'That a voice moves between two staves; it stands on the upper one, and so this',
        {},
      );
    for (const { staves, braced } of blocks) {
      const music = staves.map(onStaff);
      const names = new Set(music.map((staff) => staff[0]?.name ?? '').filter((name) => name !== ''));
      if (braced && names.size < 2) add(music);
      else for (const staff of music) add([staff]);
    }
  }
  const order = [...new Set([...tune.declared(), ...voices.keys()])];
  for (const id of order) {
    const voice = voices.get(id);
    if (voice === undefined || taken.has(id)) continue;
    if (tune.grouping !== null && own)
      tune.log.say(
        'repair',
        'part-not-listed',
        `The file holds music for a voice "${id}" that its %%score does not name. It is read as a part of its own.`,
      );
    add([[voice]]);
  }
  return parts;
};
