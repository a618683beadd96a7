/** What is said after a take, in one sentence with its evidence: a table a language. */
import type { Judged, Proposal, Reason, Standing, TakeFigure } from '../../plan/index.ts';
import type { AfterTake } from '../journal/journal.ts';
import type { TellingLanguage } from './language.ts';

/** What a take showed, in figures that are rounded already. */
interface Shown {
  /** "within 24 ms (19 to 33)", or that nothing could be told. */
  readonly apart: string;
  /** ", bar lines 12 ms after the click (-3 to 27)"; empty without. */
  readonly pulse: string;
}

export interface StepWords {
  readonly proposals: Readonly<Record<Proposal, string>>;
  readonly standings: Readonly<Record<Standing['kind'], string>>;
  readonly reasons: Readonly<Record<Reason, (shown: Shown) => string>>;
  readonly apart: (ms: string, low: string, high: string) => string;
  readonly noApart: string;
  /** In its place where the players judged it themselves. */
  readonly byEars: string;
  readonly arrival: (late: boolean, ms: string, low: string, high: string) => string;
  readonly change: (grows: boolean, percent: string, low: string, high: string) => string;
  readonly point: string;
  /** Who cues the last step. */
  readonly cues: (name: string) => string;
  readonly yours: string;
  /** The drill belongs to no place; the journal has nothing of the piece. */
  readonly noPlace: string;
  readonly empty: string;
}

const english: StepWords = {
  proposals: { stay: 'Stay', on: 'On', back: 'Back', leave: 'Leave it for today' },
  standings: {
    new: 'not tried yet',
    open: 'on its way',
    'to-retest': 'held without a click; a later rehearsal shows it at the first try',
    held: 'held',
  },
  reasons: {
    'not-heard': () => 'too little of this take was surely heard to say anything; once more.',
    'held-once': ({ apart, pulse }) => `it held once, ${apart}${pulse}; once more, so that it was not luck.`,
    'held-twice': ({ apart, pulse }) => `it held twice in a row, now ${apart}${pulse}.`,
    'held-again': ({ apart, pulse }) =>
      `it holds again with this click, ${apart}${pulse}; less click broke today, so end here.`,
    'broke-once': ({ apart, pulse }) =>
      `it came apart once, ${apart}${pulse}; once more before anything changes.`,
    'broke-twice': ({ apart, pulse }) => `it came apart twice in a row, now ${apart}${pulse}.`,
    'broke-at-first': ({ apart, pulse }) =>
      `it came apart twice, now ${apart}${pulse}, and there is no step with more click: slower, or fewer bars.`,
    'not-to-be-told': ({ apart, pulse }) =>
      `whether it held cannot be told from this take, ${apart}${pulse}; once more.`,
    undecided: ({ apart, pulse }) =>
      `after five takes it lies at the edge, ${apart}${pulse}; another place, another day.`,
    'sent-back-twice': ({ apart, pulse }) =>
      `it came apart here for the second time today, ${apart}${pulse}.`,
    'enough-today': ({ apart, pulse }) =>
      `ten takes today, the last ${apart}${pulse}; what is alternated keeps better.`,
    'held-without-click': ({ apart, pulse }) =>
      `it held twice without a click, now ${apart}${pulse}; it counts when it holds at the first try of a later rehearsal.`,
    'held-later': ({ apart, pulse }) =>
      `it held at the first try and without a click, ${apart}${pulse}: this place is held.`,
    'retest-broke': ({ apart, pulse }) => `at the first try it came apart, ${apart}${pulse}.`,
    'retest-open': ({ apart, pulse }) =>
      `whether the first try held cannot be told, ${apart}${pulse}; next rehearsal, once more first.`,
  },
  apart: (ms, low, high) => `with the two furthest apart spread by ${ms} ms (${low} to ${high})`,
  noApart: 'with no two players to hold against each other',
  byEars: 'as you heard it',
  arrival: (late, ms, low, high) =>
    `, bar lines ${ms} ms ${late ? 'after' : 'before'} the click (${low} to ${high})`,
  change: (grows, percent, low, high) =>
    `, the tempo ${grows ? 'moving on' : 'broadening'} by ${percent} % (${low} to ${high})`,
  point: '.',
  cues: (name) => `${name} cues; nobody counts.`,
  yours: 'You decide.',
  noPlace: 'Kept in the journal. These bars are no place of the list, so no step is proposed.',
  empty: 'The journal has no take of this piece yet.',
};

const german: StepWords = {
  proposals: { stay: 'Bleiben', on: 'Weiter', back: 'Zurück', leave: 'Für heute lassen' },
  standings: {
    new: 'noch nicht versucht',
    open: 'unterwegs',
    'to-retest': 'hielt ohne Klick; eine spätere Probe zeigt es beim ersten Versuch',
    held: 'hält',
  },
  reasons: {
    'not-heard': () => 'von diesem Durchgang wurde zu wenig sicher gehört, um etwas zu sagen; noch einmal.',
    'held-once': ({ apart, pulse }) =>
      `es hielt einmal, ${apart}${pulse}; noch einmal, damit es kein Glück war.`,
    'held-twice': ({ apart, pulse }) => `es hielt zweimal nacheinander, jetzt ${apart}${pulse}.`,
    'held-again': ({ apart, pulse }) =>
      `mit diesem Klick hält es wieder, ${apart}${pulse}; mit weniger fiel es heute auseinander, also hier aufhören.`,
    'broke-once': ({ apart, pulse }) =>
      `es fiel einmal auseinander, ${apart}${pulse}; noch einmal, bevor sich etwas ändert.`,
    'broke-twice': ({ apart, pulse }) => `es fiel zweimal nacheinander auseinander, jetzt ${apart}${pulse}.`,
    'broke-at-first': ({ apart, pulse }) =>
      `es fiel zweimal auseinander, jetzt ${apart}${pulse}, und mehr Klick gibt es nicht: langsamer, oder weniger Takte.`,
    'not-to-be-told': ({ apart, pulse }) =>
      `ob es hielt, ist an diesem Durchgang nicht zu erkennen, ${apart}${pulse}; noch einmal.`,
    undecided: ({ apart, pulse }) =>
      `nach fünf Durchgängen liegt es auf der Kante, ${apart}${pulse}; eine andere Stelle, ein anderer Tag.`,
    'sent-back-twice': ({ apart, pulse }) =>
      `es fiel hier heute zum zweiten Mal auseinander, ${apart}${pulse}.`,
    'enough-today': ({ apart, pulse }) =>
      `zehn Durchgänge heute, der letzte ${apart}${pulse}; was abwechselt, bleibt besser.`,
    'held-without-click': ({ apart, pulse }) =>
      `es hielt zweimal ohne Klick, jetzt ${apart}${pulse}; es zählt, wenn es in einer späteren Probe beim ersten Versuch hält.`,
    'held-later': ({ apart, pulse }) =>
      `es hielt beim ersten Versuch und ohne Klick, ${apart}${pulse}: diese Stelle hält.`,
    'retest-broke': ({ apart, pulse }) => `beim ersten Versuch fiel es auseinander, ${apart}${pulse}.`,
    'retest-open': ({ apart, pulse }) =>
      `ob der erste Versuch hielt, ist nicht zu erkennen, ${apart}${pulse}; in der nächsten Probe wieder als Erstes.`,
  },
  apart: (ms, low, high) => `die beiden Entferntesten streuen um ${ms} ms (${low} bis ${high})`,
  noApart: 'ohne zwei Stimmen, die sich vergleichen lassen',
  byEars: 'nach eurem Gehör',
  arrival: (late, ms, low, high) =>
    `, Taktstriche ${ms} ms ${late ? 'nach' : 'vor'} dem Klick (${low} bis ${high})`,
  change: (grows, percent, low, high) =>
    `, das Tempo ${grows ? 'zieht an' : 'wird breiter'}, um ${percent} % (${low} bis ${high})`,
  point: ',',
  cues: (name) => `${name} gibt den Einsatz; niemand zählt.`,
  yours: 'Ihr entscheidet.',
  noPlace: 'Steht im Journal. Diese Takte sind keine Stelle der Liste, also wird kein Schritt vorgeschlagen.',
  empty: 'Das Journal hat noch keinen Durchgang dieses Stücks.',
};

export const stepWords: Readonly<Record<TellingLanguage, StepWords>> = { en: english, de: german };

const rounded = (value: number, digits: number, { point }: StepWords): string =>
  value
    .toFixed(digits)
    .replace(/^-(?=0(\.0*)?$)/, '')
    .replace('-', '\u2212')
    .replace('.', point);

/** The size of a figure and its ends, turned so that the figure is above zero. */
const sized = (
  { value, low, high }: TakeFigure,
  digits: number,
  words: StepWords,
): readonly [string, string, string] => {
  const text = (x: number | null): string => (x === null ? '?' : rounded(x, digits, words));
  const turned = value < 0;
  return [
    text(Math.abs(value)),
    text(turned ? (high === null ? null : -high) : low),
    text(turned ? (low === null ? null : -low) : high),
  ];
};

const shownOf = ({ byEars, apart, pulse }: Judged, words: StepWords): Shown => {
  const pulseText = (): string => {
    if (pulse === null) return '';
    const digits = pulse.kind === 'change' ? 1 : 0;
    return words[pulse.kind](pulse.figure.value > 0, ...sized(pulse.figure, digits, words));
  };
  return {
    apart: byEars ? words.byEars : apart === null ? words.noApart : words.apart(...sized(apart.sd, 0, words)),
    pulse: pulseText(),
  };
};

/** "On: it held twice in a row, now ..." One sentence. */
export const proposalText = (
  { proposed, judged }: Pick<AfterTake, 'proposed' | 'judged'>,
  language: TellingLanguage,
): string => {
  const words = stepWords[language];
  return `${words.proposals[proposed.proposal]}: ${words.reasons[proposed.reason](shownOf(judged, words))}`;
};
