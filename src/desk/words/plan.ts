/** What stands on a rehearsal plan, a table a language. */
import type { PlanRemark, Planned } from '../../plan/index.ts';
import type { TellingLanguage } from './language.ts';

export interface PlanWords {
  readonly title: string;
  readonly head: (minutes: number) => string;
  /** Minutes from the beginning as "0:25". */
  readonly time: (minute: number) => string;
  readonly minutes: (count: number) => string;
  readonly kinds: Readonly<Record<Planned['kind'], string>>;
  readonly bars: (bars: string) => string;
  readonly click: (placement: string) => string;
  readonly remarks: Readonly<Record<PlanRemark, string>>;
  readonly yours: string;
}

const time = (minute: number): string => `${Math.floor(minute / 60)}:${String(minute % 60).padStart(2, '0')}`;

/** "12-15" reads as a range; bars that are known by index only are not named. */
const range = (bars: string): string => (bars.startsWith('@') ? '' : bars.replace('-', '–'));

const english: PlanWords = {
  title: 'Rehearsal',
  head: (minutes) => `${minutes} minutes.`,
  time,
  minutes: (count) => `${count} min`,
  kinds: {
    retest: 'First try of what held last time, without a click and without a word before:',
    work: 'In turn:',
    break: 'Break. Put the instruments down.',
    free: 'Play through, freely. Nothing is recorded, nobody stops.',
  },
  bars: (bars) => (range(bars) === '' ? 'as in the list of places' : `bars ${range(bars)}`),
  click: (placement) =>
    ({
      none: 'No click.',
      every: 'Click on every beat.',
      half: 'Click on the half bar.',
      bar: 'One click a bar.',
      '2bars': 'One click in two bars.',
    })[placement] ?? `Click: ${placement}.`,
  remarks: {
    'over-time': 'This is longer than the time there is.',
    'under-time': 'Some of the time is left over.',
    'no-break': 'There is no break within an hour of playing.',
    'same-twice': 'The same place comes twice in a row; turns keep better.',
    'retest-not-first': 'What held last time is to be tried before other work, or it is no first try.',
    'no-free-end': 'It does not end with free playing.',
  },
  yours: 'A proposal: change what you like.',
};

const german: PlanWords = {
  title: 'Probe',
  head: (minutes) => `${minutes} Minuten.`,
  time,
  minutes: (count) => `${count} Min`,
  kinds: {
    retest: 'Erster Versuch dessen, was letztes Mal hielt, ohne Klick und ohne ein Wort davor:',
    work: 'Abwechselnd:',
    break: 'Pause. Instrumente weglegen.',
    free: 'Durchspielen, frei. Nichts wird aufgenommen, niemand hält an.',
  },
  bars: (bars) => (range(bars) === '' ? 'wie in der Liste der Stellen' : `Takt ${range(bars)}`),
  click: (placement) =>
    ({
      none: 'Kein Klick.',
      every: 'Klick auf jeder Zählzeit.',
      half: 'Klick auf dem halben Takt.',
      bar: 'Ein Klick im Takt.',
      '2bars': 'Ein Klick in zwei Takten.',
    })[placement] ?? `Klick: ${placement}.`,
  remarks: {
    'over-time': 'Das dauert länger als die Zeit, die da ist.',
    'under-time': 'Etwas Zeit bleibt übrig.',
    'no-break': 'Innerhalb einer Stunde Spielens ist keine Pause.',
    'same-twice': 'Dieselbe Stelle kommt zweimal nacheinander; was abwechselt, bleibt besser.',
    'retest-not-first':
      'Was letztes Mal hielt, kommt vor der anderen Arbeit, sonst ist es kein erster Versuch.',
    'no-free-end': 'Es endet nicht mit freiem Spiel.',
  },
  yours: 'Ein Vorschlag: ändert, was ihr wollt.',
};

export const planWords: Readonly<Record<TellingLanguage, PlanWords>> = { en: english, de: german };
