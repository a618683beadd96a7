/** What is asked for in the margin, and what the desk makes of it. */
import type { RequestTexts } from '../desk/index.ts';
import { renumberedClick } from './barNames.ts';
import { clickValues } from './choices.ts';

/** The choice that opens a field of one's own. */
export const own = 'own';

/** What stands in the margin, as it was written there. */
export interface Asked {
  readonly from: string;
  readonly to: string;
  readonly keep: string;
  readonly click: string;
  readonly ownClick: string;
  readonly tempo: string;
  readonly times: string;
  readonly countIn: string;
  /** "2/2": bars with the click and bars without; "none": always with. */
  readonly tacet: string;
  /** Bars of a hemiola, "40-41"; empty: none. */
  readonly hemiola: string;
  /** "auto", "none", or a length such as "1/4". */
  readonly upbeat: string;
  /** The note value that is counted, "1/8"; "auto": the metre's own beat. */
  readonly count: string;
}

/** Where nothing is asked for: every beat of the whole piece, once, as printed. */
export const nothingAsked: Asked = {
  from: '',
  to: '',
  keep: 'all',
  click: 'every',
  ownClick: '2 4',
  tempo: '',
  times: '1',
  countIn: 'auto',
  tacet: 'none',
  hemiola: '',
  upbeat: 'auto',
  count: 'auto',
};

/** Where it clicks, but for a hemiola. */
const placement = ({ click, ownClick }: Asked): string => (click === own ? ownClick : click);

/** Tempo steps as players write them, "72 · 80 · 88" or "72 80 88,5", for the desk: "72,80,88.5". */
export const tempoSteps = (text: string): string =>
  text
    .replace(/\s*([%=])\s*/g, '$1')
    // A comma before one digit alone is a decimal comma: nobody plays at 5 a minute.
    .replace(/(\d),(\d)(?!\d)/g, '$1.$2')
    .split(/[\s·,;–]+/)
    .filter((step) => step !== '')
    .map((step) => step.replace(/%(?=.)/g, '%,'))
    .join(',');

/** The margin as a request. */
export const requestOf = (asked: Asked): RequestTexts => {
  const [from, to] = [asked.from.trim(), asked.to.trim()];
  const tempo = tempoSteps(asked.tempo);
  const hemiola = asked.hemiola.trim();
  return {
    bars:
      from === '' && to === '' ? 'all' : from === to || to === '' ? from : from === '' ? to : `${from}-${to}`,
    keep: asked.keep,
    click: hemiola === '' ? placement(asked) : `${placement(asked)},hemiola:${hemiola}`,
    tempo: tempo === '' ? 'score' : tempo,
    times: asked.times.trim() === '' ? '1' : asked.times,
    'count-in': asked.countIn,
    tacet: asked.tacet.trim() === '' ? 'none' : asked.tacet,
    upbeat: asked.upbeat.trim() === '' ? 'auto' : asked.upbeat,
    count: asked.count,
  };
};

/** What is asked for after a touch on a beat; `click` is what the desk makes of it. */
export const touchedAsked = (asked: Asked, click: string): Partial<Asked> => {
  // The margin's own hemiola comes back as a clause of the rule.
  const text = asked.hemiola.trim() === '' ? click : click.replace(/,hemiola:[^,]*/, '');
  return clickValues.some((value) => value === text) ? { click: text } : { click: own, ownClick: text };
};

/**
 * What clicks in one bar alone, so in every bar; null where nothing is asked for it alone. The bar by its printed number, or
 * its index where that is none of its own.
 */
export const everywhereAsked = (
  asked: Asked,
  bar: { readonly number: string; readonly index: number },
): Partial<Asked> | null => {
  const clauses = placement(asked).split(',');
  const own = clauses.find((clause) => [bar.number, `@${bar.index}`].includes(clause.split(':')[0] ?? ''));
  if (own === undefined || !own.includes(':')) return null;
  const hemiola = clauses.filter((clause) => clause.startsWith('hemiola:'));
  return touchedAsked(asked, [own.slice(own.indexOf(':') + 1), ...hemiola].join(','));
};

/** The same in another numbering of the bars. */
export const renumbered = (asked: Asked, renumber: (number: string) => string): Asked => ({
  ...asked,
  from: renumber(asked.from.trim()),
  to: renumber(asked.to.trim()),
  ownClick: renumberedClick(asked.ownClick, renumber),
  hemiola: asked.hemiola
    .split('-')
    .map((number) => renumber(number.trim()))
    .join('-'),
});
