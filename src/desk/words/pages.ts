/** What the pages of a reading say beside its findings, a table a language. */
import type { TellingLanguage } from './language.ts';

/** A figure in words: "24", "10", "38". */
interface Amount {
  readonly value: string;
  readonly low: string;
  readonly high: string;
}

export interface PageTexts {
  readonly point: string;
  /** Stands where a part's name stands on other pages. */
  readonly name: string;
  /** How the marks are to be read: of several players, and of one with the click. */
  readonly manner: string;
  readonly mannerAlone: string;
  readonly unsure: string;
  readonly roughly: string;
  readonly notFound: string;
  readonly place: (player: string, bar: string, beat: string) => string;
  /** Of a note, against the others or the click. */
  readonly after: string;
  readonly before: string;
  /** Of a hand-over, against where the line leads. */
  readonly afterwards: string;
  readonly earlier: string;
  readonly others: string;
  readonly click: string;
  readonly together: string;
  readonly times: (times: number) => string;
  readonly between: (amount: Amount) => string;
  readonly notSure: string;
  /** Of a note whose beginning is known to within some milliseconds, the inner 95 %; `doubted`: that it may not be this note's is what makes it rough. */
  readonly rough: (within: string, doubted: boolean) => string;
  readonly missing: string;
  readonly seam: (from: string, to: string) => string;
  readonly oneLine: string;
  readonly louder: string;
  readonly softer: string;
  readonly longer: string;
  readonly shorter: string;
  readonly turnsLouder: string;
  readonly turnsSofter: string;
  readonly movesOn: string;
  readonly holdsBack: string;
  readonly perMinute: string;
  readonly bars: (from: string, to: string | null) => string;
  readonly words: (n: number, bar: string) => string;
}

const english: PageTexts = {
  point: '.',
  name: 'What was heard',
  manner:
    'before the others: to the left; after: to the right; thin: as far as it is unsure; thin only: not to be told from together',
  mannerAlone:
    'before the click: to the left; after: to the right; thin: as far as it is unsure; thin only: not to be told from together',
  unsure: '? not surely heard',
  roughly: '~ heard only roughly: nothing rests on it',
  notFound: '(?) not found',
  place: (player, bar, beat) => `${player}, ${bar === '' ? 'upbeat' : `bar ${bar}`}, beat ${beat}`,
  after: 'after',
  before: 'before',
  afterwards: 'after',
  earlier: 'before',
  others: 'the others',
  click: 'the click',
  together: 'not to be told from together',
  times: (times) => `over ${times} times`,
  between: ({ low, high }) => `between ${low} and ${high}`,
  notSure: 'the beginning was not surely heard',
  rough: (within, doubted) =>
    `the beginning was heard only roughly, to within ${within} ms${doubted ? ' if it is this note’s' : ''}: nothing rests on it`,
  missing: 'not found in the recording',
  seam: (from, to) => `${to} takes over from ${from}`,
  oneLine: 'not to be told from one line',
  louder: 'louder',
  softer: 'softer',
  longer: 'longer notes',
  shorter: 'shorter notes',
  turnsLouder: 'turns louder',
  turnsSofter: 'turns softer',
  movesOn: 'moves on',
  holdsBack: 'holds back',
  perMinute: 'quarters a minute',
  bars: (from, to) => (to === null ? `Bar ${from}` : `Bars ${from} to ${to}`),
  words: (n, bar) => `${n}, ${bar === '' ? 'upbeat' : `bar ${bar}`}`,
};

const german: PageTexts = {
  point: ',',
  name: 'Was zu hören war',
  manner:
    'vor den anderen: nach links; danach: nach rechts; dünn: so weit es unsicher ist; nur dünn: von zusammen nicht zu unterscheiden',
  mannerAlone:
    'vor dem Klick: nach links; danach: nach rechts; dünn: so weit es unsicher ist; nur dünn: von zusammen nicht zu unterscheiden',
  unsure: '? nicht sicher gehört',
  roughly: '~ nur ungefähr gehört: darauf stützt sich nichts',
  notFound: '(?) nicht gefunden',
  place: (player, bar, beat) => `${player}, ${bar === '' ? 'Auftakt' : `Takt ${bar}`}, Schlag ${beat}`,
  after: 'nach',
  before: 'vor',
  afterwards: 'danach',
  earlier: 'davor',
  others: 'den anderen',
  click: 'dem Klick',
  together: 'von zusammen nicht zu unterscheiden',
  times: (times) => `aus ${times} Malen`,
  between: ({ low, high }) => `zwischen ${low} und ${high}`,
  notSure: 'der Anfang war nicht sicher zu hören',
  rough: (within, doubted) =>
    `der Anfang war nur ungefähr zu hören, auf ${within} ms genau${doubted ? ', falls es der dieses Tons ist' : ''}: darauf stützt sich nichts`,
  missing: 'in der Aufnahme nicht gefunden',
  seam: (from, to) => `${to} übernimmt von ${from}`,
  oneLine: 'von einer Linie nicht zu unterscheiden',
  louder: 'stärker',
  softer: 'schwächer',
  longer: 'längere Noten',
  shorter: 'kürzere Noten',
  turnsLouder: 'wird stärker',
  turnsSofter: 'wird schwächer',
  movesOn: 'zieht an',
  holdsBack: 'wird breiter',
  perMinute: 'Viertel in der Minute',
  bars: (from, to) => (to === null ? `Takt ${from}` : `Takt ${from} bis ${to}`),
  words: (n, bar) => `${n}, ${bar === '' ? 'Auftakt' : `Takt ${bar}`}`,
};

export const pageTexts: Readonly<Record<TellingLanguage, PageTexts>> = { en: english, de: german };

/** A number as it is printed. */
export const numberIn = (value: number, digits: number, point: string): string =>
  value
    .toFixed(digits)
    .replace(/^-(?=0(\.0*)?$)/, '')
    .replace('-', '\u2212')
    .replace('.', point);
