/** Tempo steps as players write them: "90" of the beats counted, "1/4.=60", or "80%" of what the score says. */
import { parseValue } from '../rhythm/value.ts';
import { checkTempo, pace, type Pace } from '../rhythm/tempo.ts';
import { bpm, F, fail, ok, type Beats, type Bpm, type Fraction, type Result } from '../units/index.ts';

export type TempoStep =
  | { readonly kind: 'written'; readonly factor: Fraction }
  | { readonly kind: 'steady'; readonly unit: Beats; readonly perMinute: Bpm };

const unknown = (text: string): Result<never> =>
  fail(
    'tempo-unknown',
    `"${text}" is no tempo. Write beats a minute (90), a note value (1/4.=60), or a share of the written tempo (80%).`,
  );

/**
 * Reads one step. `beat` is the value that a tempo without a unit speaks of. Fails with `tempo-unknown`, `tempo-zero`
 * and `tempo-absurd`.
 */
export const parseStep = (text: string, beat: Beats): Result<TempoStep> => {
  const share = /^\s*([\d.]{1,9})\s*%\s*$/.exec(text);
  if (share !== null) {
    const factor = F.parse(share[1] ?? '');
    if (factor === null) return unknown(text);
    const tooFar = F.less(factor, F.fraction(10)) || F.less(F.fraction(400), factor);
    return tooFar
      ? fail(
          F.isZero(factor) ? 'tempo-zero' : 'tempo-absurd',
          `${text.trim()} of the written tempo cannot be played: from 10% to 400% is taken.`,
        )
      : ok({ kind: 'written', factor: F.div(factor, F.fraction(100)) });
  }
  const [left = '', right] = text.split('=');
  const unit = right === undefined ? beat : parseValue(left);
  const perMinute = F.parse(right ?? left);
  if (unit === null || perMinute === null || text.split('=').length > 2) return unknown(text);
  const wrong = checkTempo(unit, bpm(perMinute));
  if (wrong !== null) return { ok: false, error: wrong };
  return ok({ kind: 'steady', unit, perMinute: bpm(perMinute) });
};

/** The pace of a steady step; null where the score says it. */
export const steadyPace = (step: TempoStep): Pace | null =>
  step.kind === 'steady' ? pace(step.unit, step.perMinute) : null;
