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
  touched: 'die angetippte Stimme',

  timeLabel: 'Bei welchem Mal',
  times: { each: 'jedes Mal', '1': '1. Mal', '2': '2. Mal', '3': '3. Mal', '4': '4. Mal' },
  place: 'dann Note oder Schlag antippen',
  placing: 'Jetzt die Note antippen, oder den Schlag darüber; oder hier, um es zu lassen.',
  note: (bar, beat, part, rest) => `Takt ${bar} Schlag ${beat}, ${part}${rest ? ', Pause' : ''}`,
  notesHelp:
    'Noten. Links und rechts gehen in der Stimme weiter, hinauf und hinunter zu einer anderen, Eingabe trägt ein, Escape lässt es.',
  takeAlong: 'als Datei mitnehmen',
  fileName: (piece) => `${piece === '' ? 'Stück' : piece}.eintragungen.json`,
  row: (bar, beat, what, part) => `Takt ${bar} Schlag ${beat}: ${what}${part === '' ? '' : `, ${part}`}`,
  timed: (time, text) => `${time}. ${text}`,
  rub: 'ausradieren',
};
