/** One sentence: what makes a place one, and what it asks of the players. */
import { F, type Beats } from '../units/index.ts';
import type { Place } from '../lines/index.ts';
import { apartText, listText, times, unitText, valuesText } from './words.ts';

type Names = Readonly<Record<string, string>>;

/** What players count in at a place, in whole notes. */
export interface Measure {
  readonly beat: Beats;
  /** Length of its bars; null where they differ. */
  readonly bar: Beats | null;
}

const intervalNames = ['unison', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'octave'];

/** Staff steps as an interval: 7 "an octave higher", -3 "a fourth lower", 0 "at the unison". */
const intervalText = (steps: number): string => {
  if (steps === 0) return 'at the unison';
  const size = Math.abs(steps);
  const within = size > 7 && size % 7 !== 0 ? size % 7 : size % 7 === 0 ? 7 : size;
  const octaves = Math.floor((size - within) / 7);
  const name = intervalNames[within] ?? '';
  const more = octaves === 0 ? '' : octaves === 1 ? ' and an octave' : ` and ${octaves} octaves`;
  return `${name === 'octave' ? 'an' : 'a'} ${name}${more} ${steps > 0 ? 'higher' : 'lower'}`;
};

const followed = ({ facts, seams, parts }: Place, names: Names, measure: Measure): string => {
  const who = (id: string | undefined): string => (id === undefined ? '' : (names[id] ?? id));
  const [first] = seams;
  const followers = seams.flatMap(({ to, also }) => [to, ...also]);
  const lag = facts.lag === null ? '' : `, ${apartText(facts.lag, measure.beat, measure.bar)} later`;
  const interval = facts.steps === null ? '' : ` ${intervalText(facts.steps)}`;
  const rest = [...new Set(followers)].filter((id) => id !== first?.to);
  const then = rest.length === 0 ? '' : `, then ${listText(rest.map(who))}`;
  return `${who(first?.from ?? parts[0])} is followed by ${who(first?.to)}${interval}${lag}${then}`;
};

/** "3/8 = 66" as "dotted quarter = 66"; what else is printed stays as it is. */
const markText = (text: string): string =>
  text.replace(/\b(\d+\/\d+|\d+) = /g, (whole, unit: string) => {
    const value = F.parse(unit);
    return value === null ? whole : `${unitText(value)} = `;
  });

/** Ends with a full stop. `names`: players by part id. */
export const whyOf = (place: Place, names: Names, measure: Measure): string => {
  const { kind, value, parts, seams, facts } = place;
  const players = listText(parts.map((id) => names[id] ?? id));
  switch (kind) {
    case 'shared-line':
      return `One line of ${value === null ? 'notes' : valuesText(value)}, divided between ${players} and handed over ${times(seams.length)}: it should sound as if one player had it.`;
    case 'canon':
      return `Canon: ${followed(place, names, measure)}, note for note; agree how the theme is shaped, and listen back to who had it before.`;
    case 'imitation':
      return `Imitation: ${followed(place, names, measure)}; same length, same weight, same character.`;
    case 'joint-entry':
      return `${players} enter together after ${facts.text === 'fermata' ? 'a fermata' : 'silence'}: somebody has to lead it in.`;
    case 'rhythmic-unison':
      return `${players} have the same rhythm and nothing hides a difference.`;
    case 'after-beats':
      return `After-beats in ${players}: they come late or rush unless they hear the beat.`;
    case 'weak-beats':
      return `${players} on the weak beats only, silent on the first: place them by the bass, not by each other.`;
    case 'syncopation':
      return `Syncopations in ${players}: the short notes after them rush.`;
    case 'cross-rhythm':
      return `Triplets against duplets in ${players}: each keeps to the beat that they share.`;
    case 'dots-against-triplets':
      return `Dotted notes against triplets in ${players}: do you assimilate them or not? Settle it before you play.`;
    case 'hemiola':
      return `Hemiola in ${players}: two bars of three felt as three of two.`;
    case 'metre-change':
      return `The metre changes, ${facts.text}: agree what stays the same.`;
    case 'tempo-change':
      return `The tempo changes here (${markText(facts.text)}): agree who shows it.`;
    case 'tie-over-bar':
      return `${players} alone holds over the bar line while the others strike it.`;
    case 'upbeat-start':
      return `${players} alone leads into the phrase with its upbeat: that is the cue for all.`;
    case 'long-note-then-run':
      return `${players} leaves a long note for a run: its first notes rush or come late.`;
    case 'last-notes':
      return `The last notes of ${players} together: agree on the length and on who ends it.`;
  }
};
