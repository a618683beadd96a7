/** What is said of growth from rehearsal to rehearsal, a table a language. */
import type { GrowthTold } from '../../plan/index.ts';
import type { TellingLanguage } from './language.ts';

export interface GrowthWords {
  readonly title: string;
  readonly head: string;
  readonly above: string;
  readonly below: string;
  readonly ensemble: string;
  readonly told: Readonly<Record<GrowthTold, (first: string, last: string) => string>>;
  readonly too: string;
  readonly of: (from: string, to: string, rehearsals: number) => string;
  readonly point: string;
  readonly to: string;
}

const english: GrowthWords = {
  title: 'From rehearsal to rehearsal',
  head: 'milliseconds by which the two furthest apart spread',
  above: 'wider',
  below: 'closer',
  ensemble: 'The two furthest apart',
  told: {
    closer: (first, last) => `Closer than at first: ${first} then, ${last} now.`,
    wider: (first, last) => `Wider than at first: ${first} then, ${last} now.`,
    untold: (first, last) => `Not to be told from the first rehearsal: ${first} then, ${last} now.`,
  },
  too: 'Too few rehearsals to compare.',
  of: (from, to, rehearsals) => (rehearsals === 1 ? from : `${from} to ${to}, ${rehearsals} rehearsals`),
  point: '.',
  to: 'to',
};

const german: GrowthWords = {
  title: 'Von Probe zu Probe',
  head: 'Millisekunden, um die die beiden Entferntesten streuen',
  above: 'weiter',
  below: 'enger',
  ensemble: 'Die beiden Entferntesten',
  told: {
    closer: (first, last) => `Enger als am Anfang: ${first} damals, ${last} jetzt.`,
    wider: (first, last) => `Weiter als am Anfang: ${first} damals, ${last} jetzt.`,
    untold: (first, last) => `Von der ersten Probe nicht zu unterscheiden: ${first} damals, ${last} jetzt.`,
  },
  too: 'Zu wenige Proben zum Vergleichen.',
  of: (from, to, rehearsals) => (rehearsals === 1 ? from : `${from} bis ${to}, ${rehearsals} Proben`),
  point: ',',
  to: 'bis',
};

export const growthWords: Readonly<Record<TellingLanguage, GrowthWords>> = { en: english, de: german };
