/**
 * From a tempo at which the shortest value is comfortable to the mark. Comfortable: no shorter than 250 ms, since dividing a beat costs
 * accuracy below 200 to 250 ms (Repp 2003, J Mot Behav 35:355). Never slower than a third of the mark: what is played must stay music (our choice).
 */
import { F, type Beats, type Fraction } from '../units/index.ts';
import { valueName } from './words.ts';
import type { Setting } from './model.ts';

/** Seconds; see the head of the file. */
export const comfortable = F.fraction(1, 4);
const slowestShare = F.fraction(1, 3);

/** Seconds that a length lasts at a tempo of beats a minute. */
export const lasting = (length: Beats, beat: Beats, perMinute: Fraction): Fraction =>
  F.div(F.mul(F.div(length, beat), F.fraction(60)), perMinute);

/** The share of the mark at which the shortest value is comfortable; at most 1. */
export const startShare = ({ shortest, beat, perMinute }: Setting): Fraction =>
  F.max(slowestShare, F.min(F.one, F.div(lasting(shortest, beat, perMinute), comfortable)));

const rounded = (value: Fraction): Fraction =>
  F.max(F.one, F.fraction(F.floor(F.add(value, F.fraction(1, 2)))));

/** A tempo step as a drill has it: beats a minute where one tempo holds, else a share of the score's own. */
export const tempoText = ({ beat, perMinute, oneTempo }: Setting, share: Fraction): string => {
  if (!oneTempo) return `${F.format(rounded(F.mul(share, F.fraction(100))))}%`;
  const exact = F.mul(perMinute, share);
  const shown = F.equal(share, F.one)
    ? F.fraction(F.floor(F.add(F.mul(exact, F.fraction(100)), F.fraction(1, 2))), 100)
    : rounded(exact);
  return `${valueName(beat)}=${Number(F.toNumber(shown).toFixed(2))}`;
};

/** Tempo steps from one share of the mark to another, at most three, none twice. */
export const tempoSteps = (setting: Setting, from: Fraction, to: Fraction): readonly string[] => {
  const middle = F.div(F.add(from, to), F.fraction(2));
  const far = F.less(F.add(from, F.fraction(1, 10)), to);
  return [...new Set((far ? [from, middle, to] : [from, to]).map((share) => tempoText(setting, share)))];
};
