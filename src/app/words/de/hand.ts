/** The drill as it is made on the page, by touch and by keys; in German. */
import type { Words } from '../en/index.ts';

const bars = (first: string, last: string): string =>
  first === last ? `Takt ${first}` : `Takte ${first} bis ${last}`;

export const hand: Words['hand'] = {
  bars,
  bar: (number) => `Takt ${number}`,
  barsHelp:
    'Takte. Die Pfeiltasten gehen von Takt zu Takt und hinauf zu den Schlägen, mit der Umschalttaste nehmen sie weitere Takte dazu, die Eingabetaste macht sie zur Stelle.',
  beat: (bar, beat, clicked) => `Takt ${bar} Schlag ${beat}, ${clicked ? 'klickt' : 'kein Klick'}`,
  whole: 'alle Takte',
  back: 'zurück zur Stelle',
  wholeHelp: 'Den ersten Takt der Stelle antippen oder über ihre Takte fahren.',
  first: (bar) => `Ab Takt ${bar}: den letzten Takt antippen.`,
  alone: (bar) => `nur Takt ${bar}`,
  until: (bar) => `bis Takt ${bar} wie zuvor`,
  again: 'von vorn wählen',
  writing: (first, last) => `${bars(first, last)}: wird geschrieben.`,
  waiting: (first, last) => `${bars(first, last)}.`,
  written: (written, count) => `${written} von ${count} Takten sind geschrieben.`,
  passage: (first, last) => `Die Stelle: ${bars(first, last)}.`,
  chosen: (first, last) => `${bars(first, last)} gewählt; die Eingabetaste nimmt sie.`,
  beatsHelp: 'Ein Schlag über den Noten, angetippt, bekommt einen Klick oder verliert ihn.',
  undo: 'zurücknehmen',
  redo: 'wieder',
  undone: { back: 'Zurückgenommen.', on: 'Wieder da.' },
  slower: 'langsamer',
  faster: 'schneller',
  more: 'mehr zur Übung',
  tacet: 'Klick tacet',
  tacetLabel: 'Takte mit Klick und Takte ohne',
  tacets: {
    none: 'nie',
    '1/1': '1 Takt mit, 1 ohne',
    '2/2': '2 Takte mit, 2 ohne',
    '4/4': '4 Takte mit, 4 ohne',
    '3/1': '3 Takte mit, 1 ohne',
    '2/6': '2 Takte mit, 6 ohne',
  },
  hemiola: 'Hemiole in Takt',
  hemiolaLabel: 'Takte einer Hemiole, etwa 40-41',
  upbeat: 'Auftakt',
  upbeatLabel: 'Der Auftakt',
  upbeats: {
    auto: 'wie in den Noten',
    none: 'keiner',
    '1/8': 'ein Achtel',
    '1/4': 'ein Viertel',
    '3/8': 'drei Achtel',
    '1/2': 'eine Halbe',
  },
  count: 'gezählt werden',
  countLabel: 'Der Notenwert, der gezählt wird',
  counts: {
    auto: 'die Schläge der Taktart',
    '1/8': 'Achtel',
    '1/4': 'Viertel',
    '3/8': 'punktierte Viertel',
    '1/2': 'Halbe',
    '3/4': 'punktierte Halbe',
  },
};
