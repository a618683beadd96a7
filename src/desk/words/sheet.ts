/** What the pages of a drill, and those of places, say by themselves: a table a language. */
import { englishSheet, type SheetWords } from '../../sheet/index.ts';
import { inMusic } from './inMusic.ts';
import type { TellingLanguage } from './language.ts';

const ordinals = ['', 'erstes', 'zweites', 'drittes', 'viertes', 'fünftes', 'sechstes'];

/** As a noun, and as the beginning of one. */
const values: Readonly<Record<string, readonly [name: string, first: string]>> = {
  '1': ['ganze Noten', 'Ganze-'],
  '1/2': ['Halbe', 'Halbe-'],
  '1/4': ['Viertel', 'Viertel'],
  '1/8': ['Achtel', 'Achtel'],
  '1/16': ['Sechzehntel', 'Sechzehntel'],
  '1/32': ['Zweiunddreißigstel', 'Zweiunddreißigstel'],
};

const german: SheetWords = {
  language: 'de',
  head: {
    score: 'Partitur',
    allBars: 'alle Takte',
    bars: (from, to) => (from === to ? `Takt ${from}` : `Takte ${from}–${to}`),
    withRepeats: 'mit Wiederholungen',
    time: (pass) => `${ordinals[pass] ?? `${pass}.`} Mal`,
    keep: (value, triplet, range) => {
      const [plain, first] = values[value] ?? [null, ''];
      if (plain === null) return null;
      const name = triplet ? `${first}${first.endsWith('-') ? 'Triolen' : 'triolen'}` : plain;
      return range === '+' ? `${name} und länger` : range === '-' ? `${name} und kürzer` : `nur ${name}`;
    },
    clicks: {
      every: 'Klick auf jedem Schlag',
      half: 'Klick auf dem halben Takt',
      weak: 'Klick auf den leichten Schlägen',
      after: 'Klick nach dem Schlag',
      bar: 'ein Klick im Takt',
      none: 'kein Klick',
    },
    clickInBars: (bars) => `ein Klick in ${bars} Takten`,
    hemiola: (bars) => `Hemiole geklickt, Takte ${bars}`,
    click: (placement) => `Klick ${placement}`,
    times: (times, each) => (each ? `je ${times} Mal` : `${times} Mal`),
    point: ',',
  },
  takesOver: 'übernimmt:',
  inMusic: inMusic.de,
};

export const sheetWords: Readonly<Record<TellingLanguage, SheetWords>> = { en: englishSheet, de: german };

/** Pages of places. */
export interface PlacesTexts {
  readonly title: string;
  /** Behind the title of a piece. */
  readonly places: string;
  readonly count: (count: number) => string;
  readonly some: (shown: number, all: number) => string;
}

const english = (n: number): string => `${n} ${n === 1 ? 'place' : 'places'}`;
const auf = (n: number): string => `${n} ${n === 1 ? 'Stelle' : 'Stellen'}`;

export const placesTexts: Readonly<Record<TellingLanguage, PlacesTexts>> = {
  en: {
    title: 'Places',
    places: 'places',
    count: english,
    some: (shown, all) => `${shown} of ${english(all)}`,
  },
  de: { title: 'Stellen', places: 'Stellen', count: auf, some: (shown, all) => `${shown} von ${auf(all)}` },
};
