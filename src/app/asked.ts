/** What is asked for in the margin, and what the desk makes of it. */
import type { RequestTexts } from '../desk/index.ts';

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
};

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
  return {
    bars:
      from === '' && to === '' ? 'all' : from === to || to === '' ? from : from === '' ? to : `${from}-${to}`,
    keep: asked.keep,
    click: asked.click === own ? asked.ownClick : asked.click,
    tempo: tempo === '' ? 'score' : tempo,
    times: asked.times.trim() === '' ? '1' : asked.times,
    'count-in': asked.countIn,
  };
};
