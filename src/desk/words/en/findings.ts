/** Findings of a reading, in English. */
import { timeText } from '../../../units/index.ts';
import type { FindingWords, Place, Told } from '../facts.ts';

const barText = (bar: string): string => (bar === '' ? 'the upbeat' : `bar ${bar}`);

const passText = ({ rep, times }: Place): string =>
  times > 1 ? `, over ${times} times` : rep === null ? '' : `, ${timeText(rep)}`;

const capital = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}`;

const at = ({ place }: Told): string =>
  capital(`${barText(place.bar)}, beat ${place.beat}${passText(place)}`);

const over = ({ place }: Told): string =>
  place.toBar === null || place.toBar === place.bar
    ? capital(`${barText(place.bar)}${passText(place)}`)
    : `${place.bar === '' ? 'From the upbeat to bar' : `Bars ${place.bar} to`} ${place.toBar}${passText(place)}`;

const amount = ({ amount: { value, low, high } }: Told, unit = ''): string =>
  `${value}${unit === '' ? '' : ` ${unit}`} (${low} to ${high})`;

const ms = (told: Told): string => amount(told, 'ms');
const pace = (told: Told): string => amount(told, 'quarters a minute');
const ofTime = (told: Told): string => `${amount(told)} of the time to the next note`;
const slope = (told: Told, unit: string): string => amount(told, `${unit} for each quarter`);

const values: Readonly<Record<string, string>> = {
  '1/8': 'eighths',
  '1/12': 'triplet eighths',
  '1/16': 'sixteenths',
  '1/24': 'triplet sixteenths',
  '1/32': 'thirty-seconds',
};
const pairs = ({ value }: Told): string => `pairs of ${values[value] ?? `notes of ${value}`}`;

const together = 'is not to be told from together';

export const english: FindingWords = {
  point: '.',
  told: {
    spread: (told) =>
      `${at(told)}: here two of you are furthest apart. From place to place you differ by ${ms(told)}, over ${told.n} places.`,
    lead: (told) =>
      `${told.names[0]} leads ${told.names[1]} by ${ms(told)} on the whole. It is clearest here: ${barText(told.place.bar)}, beat ${told.place.beat}${passText(told.place)}.`,
    'first-entry': (told) => `${at(told)}: the first entry is ${ms(told)} apart.`,
    entry: (told) => `${at(told)}: you come in ${ms(told)} apart.`,
    'cued-entry': (told) =>
      `${at(told)}, cued by ${told.names[0]}: the entry comes ${ms(told)} ${told.up ? 'after' : 'before'} that player’s own.`,
    drift: (told) =>
      `${over(told)}: the tempo ${told.up ? 'moves on' : 'broadens'} by ${pace(told)} over the take.`,
    'bar-tempo': (told) =>
      `${over(told)}: the tempo ${told.up ? 'moves on' : 'broadens'}, by up to ${pace(told)} against the rest of the take.`,
    'bar-line': (told) =>
      `${at(told)}: the bar line comes ${ms(told)} ${told.up ? 'after' : 'before'} the click.`,
    'seam-time': (told) =>
      `${at(told)}: the line is taken over ${ms(told)} ${told.up ? 'after' : 'before'} it leads there.`,
    'seam-level': (told) =>
      `${at(told)}: where the line is taken over it steps ${told.up ? 'up' : 'down'} by ${amount(told, 'dB')}, each side held against its own other notes.`,
    'seam-length': (told) =>
      `${at(told)}: where the line is taken over its notes become ${told.up ? 'longer' : 'shorter'}, by ${ofTime(told)}.`,
    'seam-level-slope': (told) =>
      `${at(told)}: where the line is taken over it turns ${told.up ? 'towards louder' : 'towards softer'}, by ${slope(told, 'dB')}.`,
    'seam-tempo-slope': (told) =>
      `${at(told)}: where the line is taken over it turns to ${told.up ? 'moving on' : 'holding back'}, by ${slope(told, 'quarters a minute')}.`,
    'after-syncopation': (told) =>
      `${at(told)}: the short notes after the syncopation arrive ${ms(told)} ${told.up ? 'after' : 'before'} the line leads there.`,
    length: (told) =>
      `${over(told)}: two of the lines hold their notes differently long, by ${ofTime(told)}.`,
    evenness: (told) =>
      `${over(told)}: two of the lines play ${pairs(told)} differently, long to short by a factor of ${amount(told)}. That is a question of style.`,
    bend: (told) => `${at(told)}: you bend the tempo apart, by ${pace(told)}.`,
  },
  untold: {
    spread: (told) => `${at(told)}: how far two of you differ from place to place ${together}: ${ms(told)}.`,
    lead: (told) => `${at(told)}: who leads ${together}: ${ms(told)}.`,
    'first-entry': (told) => `${at(told)}: the first entry ${together}: ${ms(told)}.`,
    entry: (told) => `${at(told)}: the entry ${together}: ${ms(told)}.`,
    'cued-entry': (told) => `${at(told)}, cued by ${told.names[0]}: the entry ${together}: ${ms(told)}.`,
    drift: (told) => `${over(told)}: the tempo is not to be told from steady: ${pace(told)} over the take.`,
    'bar-tempo': (told) => `${over(told)}: the tempo is not to be told from that of the take: ${pace(told)}.`,
    'bar-line': (told) => `${at(told)}: the bar line ${together} with the click: ${ms(told)}.`,
    'seam-time': (told) =>
      `${at(told)}: the moment at which the line is taken over ${together}: ${ms(told)}.`,
    'seam-level': (told) =>
      `${at(told)}: the level where the line is taken over is not to be told from one level: ${amount(told, 'dB')}.`,
    'seam-length': (told) =>
      `${at(told)}: the length of notes where the line is taken over is not to be told from one length: ${ofTime(told)}.`,
    'seam-level-slope': (told) =>
      `${at(told)}: where the line is heading in loudness is not to be told from one direction: ${slope(told, 'dB')}.`,
    'seam-tempo-slope': (told) =>
      `${at(told)}: where the line is heading in tempo is not to be told from one direction: ${slope(told, 'quarters a minute')}.`,
    'after-syncopation': (told) =>
      `${at(told)}: the arrival after the syncopation ${together} with its line: ${ms(told)}.`,
    length: (told) =>
      `${over(told)}: the lengths of your notes are not to be told from alike: ${ofTime(told)}.`,
    evenness: (told) => `${over(told)}: ${pairs(told)} are not to be told from alike: ${amount(told)}.`,
    bend: (told) => `${at(told)}: how you bend the tempo ${together}: ${pace(told)}.`,
  },
  small: 'That is less than is likely to be heard.',
  tries: {
    again: 'play it several times in one take; more of it tells more.',
    subdivide:
      'one of you speaks the smallest note value through the bar while the others play; then all hear it inwardly.',
    'swap-lead':
      'if this lead is the one you chose, leave it; else let another of you give the beats and listen to what changes.',
    breathe:
      'breathe or lift the bow together for one beat in the tempo to come, and begin with your eyes closed once.',
    'cue-breath':
      'whoever cues gives one beat of breath in the tempo to come, and all breathe it; then once more with eyes on that player, and once with eyes closed.',
    'less-click': 'two bars with the click and two without (--tacet 2/2), and see where it meets you again.',
    'click-a-bar': 'one click a bar over these bars (--click bar), and speak the beats in between.',
    'lead-to-bar':
      'sing from the last beat into the bar line with the click on the beats, then with one click a bar.',
    'play-along': 'whoever takes over plays along from a bar before, then only hears it along and comes in.',
    'match-level':
      'play only the two notes before and the two after, first all on one level, then as you mean it.',
    'match-length':
      'sing it through as one line, agree on the length of its notes, and play only the notes around the hand-over.',
    'one-direction':
      'agree which note the whole line leads to, and play it through to that note without a stop at the hand-over.',
    'one-pulse':
      'play the line across the hand-over over a click in eighths (--click 1/8), then over one click a bar.',
    'click-between': 'put the click between the beats (--click after) and let the short notes wait for it.',
    'agree-length':
      'play a scale together in one length of note, then in another, and choose one for the passage.',
    'agree-inequality': 'speak the pairs together as you want them, even or not, and play them so.',
    'bend-together':
      'one of you leads the bend with breath and body alone; play it slower than you want it, then as you want it.',
  },
  cautions: {
    'few-notes': ({ n }) => `it rests on ${n === 1 ? 'one note' : `${n} notes`} only`,
    'wide-interval': ({ amount: { low, unit } }) =>
      `it may be as small as ${low}${unit === '' ? '' : ` ${unit}`}`,
    'unsure-notes': () => 'many notes around it were not surely heard',
  },
  tryThis: (text) => `Try: ${text}`,
  caution: (texts) => `With caution: ${texts.join('; ')}.`,
  nothing: 'Nothing in this take is to be told from together.',
  tooLittle: 'Too little was surely heard to tell anything.',
  bars: (title, bars) => `${title === '' ? 'The take' : title}, bars ${bars}`,
  heard: (heard, all, rough) =>
    `${heard} of ${all} notes were surely heard${rough > 0 ? `, ${rough} only roughly` : ''}.`,
  closing: 'In brackets: where the figure lies 19 times out of 20.',
};
