/** Players' own markings, in German. */
import type { Words } from '../en/index.ts';

export const marking: Words['marking'] = {
  heading: 'Unsere Eintragungen',
  write: 'eintragen:',
  kindLabel: 'Was eingetragen wird',
  kinds: {
    breath: 'Atem nach der Note',
    caesura: 'Zäsur',
    'up-bow': 'Aufstrich',
    'down-bow': 'Abstrich',
    rit: 'rit.',
    'a-tempo': 'a tempo',
    dynamics: 'Dynamik',
    cue: 'Einsatz',
    leads: 'wer führt',
    words: 'Worte',
  },
  dynamicsLabel: 'Dynamik',
  textLabel: 'Die Worte',
  into: 'in',
  partLabel: 'In welche Stimme',
  all: 'alle Stimmen',
  place: 'dann den Schlag in den Noten antippen',
  placing: 'Jetzt den Schlag in den Noten antippen, oder hier, um es zu lassen.',
  row: (bar, beat, what, part) => `Takt ${bar} Schlag ${beat}: ${what}${part === '' ? '' : `, ${part}`}`,
  rub: 'ausradieren',
};
