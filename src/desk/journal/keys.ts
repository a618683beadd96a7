/** Names by which the journal knows places, steps and pairs: the same for every player and on every device. */
import type { PrintedPlace } from '../find.ts';
import type { Step } from '../../plan/index.ts';

/** A place: its kind and value, from bar and beat to bar and beat by index, its parts. "shared-line 1/16 @11:1-12:4 P1+P2". */
export const placeKey = ({
  kind,
  value,
  from,
  to,
  parts,
}: Pick<PrintedPlace, 'kind' | 'value' | 'from' | 'to' | 'parts'>): string =>
  `${kind}${value === null ? '' : ` ${value}`} @${from.barIndex}:${from.beat}-${to.barIndex}:${to.beat} ${parts.join('+')}`;

/** Bars that players chose themselves. */
export const barsKey = (bars: string): string => `bars ${bars.trim()}`;

/** A step: what is kept, where it clicks, how it is counted in. No two steps of a place have the same. */
export const stepKey = ({ keep, click, countIn }: Pick<Step, 'keep' | 'click' | 'countIn'>): string =>
  `${keep} ${click} ${countIn}`;

export const pairKey = (parts: readonly [string, string]): string => parts.join(' ');

/** The two parts of a pair. */
export const pairOf = (key: string): readonly [string, string] => {
  const [first = '', second = ''] = key.split(' ');
  return [first, second];
};
