/** What charts of a reading say, a table a language. */
import type { TellingLanguage } from './language.ts';

export interface ChartWords {
  readonly tempo: string;
  readonly perMinute: string;
  readonly asynchrony: string;
  readonly fromOthers: string;
  readonly seams: string;
  readonly seamTime: string;
  readonly seamLevel: string;
  readonly seamLength: string;
  readonly levels: string;
  readonly level: string;
  readonly length: string;
  readonly edges: Readonly<
    Record<'after' | 'before' | 'quicker' | 'slower' | 'louder' | 'softer' | 'longer' | 'shorter', string>
  >;
  readonly bar: (bar: string) => string;
  readonly nothing: string;
  readonly point: string;
  readonly to: string;
}

const english: ChartWords = {
  tempo: 'Tempo by bar',
  perMinute: 'quarters a minute',
  asynchrony: 'Together, note by note',
  fromOthers: 'milliseconds from the middle of those who play there',
  seams: 'Where lines are taken over',
  seamTime: 'milliseconds from where the line leads',
  seamLevel: 'decibels after less before, each against its own other notes',
  seamLength: 'length of notes after less before, in shares of the time to the next',
  levels: 'Level and length by player',
  level: "decibels against the player's own mean of notes with the same written loudness",
  length: 'sounding length over the time to the next note, where two have notes written alike in the bar',
  edges: {
    after: 'after',
    before: 'before',
    quicker: 'quicker',
    slower: 'slower',
    louder: 'louder',
    softer: 'softer',
    longer: 'longer',
    shorter: 'shorter',
  },
  bar: (bar) => (bar === '' ? 'Upbeat' : `Bar ${bar}`),
  nothing: 'Nothing could be told.',
  point: '.',
  to: 'to',
};

const german: ChartWords = {
  tempo: 'Tempo nach Takten',
  perMinute: 'Viertel in der Minute',
  asynchrony: 'Zusammen, Note für Note',
  fromOthers: 'Millisekunden von der Mitte derer, die dort spielen',
  seams: 'Wo Linien übernommen werden',
  seamTime: 'Millisekunden von dort, wohin die Linie führt',
  seamLevel: 'Dezibel danach weniger davor, jeweils gegen die eigenen anderen Noten',
  seamLength: 'Länge der Noten danach weniger davor, als Teil der Zeit bis zur nächsten',
  levels: 'Stärke und Länge nach Stimmen',
  level: 'Dezibel gegen das eigene Mittel der Noten mit derselben geschriebenen Stärke',
  length: 'klingende Länge zur Zeit bis zur nächsten Note, wo zwei im Takt gleich geschriebene Noten haben',
  edges: {
    after: 'danach',
    before: 'davor',
    quicker: 'rascher',
    slower: 'langsamer',
    louder: 'stärker',
    softer: 'schwächer',
    longer: 'länger',
    shorter: 'kürzer',
  },
  bar: (bar) => (bar === '' ? 'Auftakt' : `Takt ${bar}`),
  nothing: 'Nichts war zu erkennen.',
  point: ',',
  to: 'bis',
};

export const chartWords: Readonly<Record<TellingLanguage, ChartWords>> = { en: english, de: german };
