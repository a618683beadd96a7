/** What is said of growth from rehearsal to rehearsal, a table a language. */
import type { GrowthTold } from '../../plan/index.ts';
import type { TellingLanguage } from './language.ts';

export interface GrowthWords {
  readonly title: string;
  readonly head: string;
  readonly above: string;
  readonly below: string;
  readonly told: Readonly<Record<GrowthTold, (first: string, last: string) => string>>;
  readonly too: string;
  readonly of: (from: string, to: string, rehearsals: number) => string;
  /** "2026-07-10" as short as it can be understood; with its year or without. */
  readonly day: (date: string, year: boolean) => string;
  readonly point: string;
  readonly to: string;
}

const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'] as const;

interface Day {
  readonly year: string;
  readonly month: number;
  readonly day: number;
}

const dayOf = (date: string): Day => {
  const [year = '', month, day] = date.split('-');
  return { year: year.slice(-2), month: Number(month), day: Number(day) };
};

const english: GrowthWords = {
  title: 'From rehearsal to rehearsal',
  head: 'milliseconds by which the two furthest apart spread',
  above: 'wider',
  below: 'closer',
  told: {
    closer: (first, last) => `Closer than at first: ${first} then, ${last} now.`,
    wider: (first, last) => `Wider than at first: ${first} then, ${last} now.`,
    untold: (first, last) => `Not to be told from the first rehearsal: ${first} then, ${last} now.`,
  },
  too: 'Too few rehearsals to compare.',
  of: (from, to, rehearsals) => (rehearsals === 1 ? from : `${from} to ${to}, ${rehearsals} rehearsals`),
  day: (date, withYear) => {
    const { year, month, day } = dayOf(date);
    return `${day} ${months[month - 1] ?? ''}${withYear ? ` ${year}` : ''}`;
  },
  point: '.',
  to: 'to',
};

const german: GrowthWords = {
  title: 'Von Probe zu Probe',
  head: 'Millisekunden, um die die beiden Entferntesten streuen',
  above: 'weiter',
  below: 'enger',
  told: {
    closer: (first, last) => `Enger als am Anfang: ${first} damals, ${last} jetzt.`,
    wider: (first, last) => `Weiter als am Anfang: ${first} damals, ${last} jetzt.`,
    untold: (first, last) => `Von der ersten Probe nicht zu unterscheiden: ${first} damals, ${last} jetzt.`,
  },
  too: 'Zu wenige Proben zum Vergleichen.',
  of: (from, to, rehearsals) => (rehearsals === 1 ? from : `${from} bis ${to}, ${rehearsals} Proben`),
  day: (date, withYear) => {
    const { year, month, day } = dayOf(date);
    return `${day}.${month}.${withYear ? year : ''}`;
  },
  point: ',',
  to: 'bis',
};

export const growthWords: Readonly<Record<TellingLanguage, GrowthWords>> = { en: english, de: german };
