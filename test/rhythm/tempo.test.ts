import { describe, expect, it } from 'vitest';
import {
  checkTempo,
  constant,
  gradual,
  pace,
  paceAt,
  perMinute,
  positionAtSeconds,
  scaled,
  secondsAtPosition,
  steady,
  stepped,
  tempoMap,
  type TempoMap,
} from '../../src/rhythm/tempo.ts';
import { squareRoot, wholeRoot } from '../../src/rhythm/root.ts';
import { F, beats, bpm, note, samplesAt, seconds, type Beats } from '../../src/units/index.ts';

const q = (rate: string): F.Fraction => pace(note(1, 4), bpm(F.parse(rate) ?? F.one));
const at = (map: TempoMap, n: number, d = 1): string => F.format(secondsAtPosition(map, note(n, d)));
const quarter = note(1, 4);

describe('steady tempi', () => {
  it('spaces clicks as the click arithmetic says: 4/4 at quarter = 90', () => {
    // check-values.md, click arithmetic: intervals 0.666 667 / 1.333 333 / 2.666 667 s on beats, half bars, bars.
    const map = constant(q('90'));
    expect(at(map, 1, 4)).toBe('2/3');
    expect(at(map, 1, 2)).toBe('4/3');
    expect(at(map, 1)).toBe('8/3');
    // 90 / 45 / 22.5 per minute.
    expect([note(1, 4), note(1, 2), note(1)].map((unit) => F.format(perMinute(q('90'), unit)))).toEqual([
      '90',
      '45',
      '45/2',
    ]);
  });
  it('takes dotted quarter = 60 for quarter = 90', () => {
    // Computed: 60 x 3/8 = 90 x 1/4 whole notes a minute.
    expect(pace(note(3, 8), bpm(F.fraction(60)))).toEqual(q('90'));
  });
  it('does not drift over 60 minutes', () => {
    // check-values.md: every click at round(t x rate) from t computed exactly. n beats at m a minute take 60 n/m s.
    for (const rate of ['22.5', '45', '90', '133.33']) {
      const speed = F.parse(rate) ?? F.one;
      const map = constant(q(rate));
      const count = F.floor(F.mul(speed, F.fraction(60)));
      for (const n of [1n, count / 2n, count - 1n, count]) {
        const exact = (n * 60n * 48_000n * speed.d * 2n + speed.n) / (2n * speed.n);
        const time = secondsAtPosition(map, beats(F.mul(F.fraction(n), quarter)));
        expect(BigInt(samplesAt(time, 48_000))).toBe(exact);
      }
    }
  });
  it('goes on backwards before the start and for ever after the end', () => {
    const map = stepped([
      { at: note(0), pace: q('60') },
      { at: note(1), pace: q('120') },
    ]);
    expect(at(map, -1)).toBe('-4');
    expect(at(map, 1)).toBe('4');
    expect(at(map, 3)).toBe('8');
    expect(F.format(positionAtSeconds(map, seconds(F.fraction(-4))))).toBe('-1');
    expect(F.format(positionAtSeconds(map, seconds(F.fraction(6))))).toBe('2');
  });
  it('plays the first step also before its position', () => {
    const map = stepped([
      { at: note(1), pace: q('60') },
      { at: note(2), pace: q('120') },
    ]);
    expect(at(map, 2)).toBe('8');
    expect(at(map, 3)).toBe('10');
  });
  it('takes 5/4 of the time at 80 %', () => {
    const map = scaled(tempoMap([steady(q('60'), note(1)), steady(q('120'))]), F.fraction(4, 5));
    expect(at(map, 1)).toBe('5');
    expect(at(map, 2)).toBe('15/2');
  });
  it('joins equal neighbours and drops pieces of no length', () => {
    const map = tempoMap([
      steady(q('60'), note(1)),
      gradual(q('60'), q('30'), note(0)),
      steady(q('60'), note(2)),
      steady(q('60')),
    ]);
    expect(map.sections).toHaveLength(1);
    expect(map.sections[0]?.end).toBeNull();
  });
  it('ends its last section nowhere', () => {
    const map = tempoMap([gradual(q('60'), q('120'), note(1))]);
    expect(map.sections.map(({ end }) => end)).toEqual([note(1), null]);
    expect(paceAt(map, note(5))).toEqual(q('120'));
  });
});

describe('gradual tempi', () => {
  // Pace from 4 s to 8 s a whole note over 2 whole notes: the area under the line is 4u + u^2 (computed by hand).
  const map = tempoMap([gradual(F.fraction(4), F.fraction(8), note(2))]);
  it('is the area under the pace', () => {
    expect(at(map, 1)).toBe('5');
    expect(at(map, 2)).toBe('12');
    expect(at(map, 1, 2)).toBe('9/4');
    expect(at(map, 3)).toBe('20');
    expect(F.format(paceAt(map, note(1)))).toBe('6');
  });
  it('is inverted exactly where the position is a fraction', () => {
    expect(F.format(positionAtSeconds(map, seconds(F.fraction(9, 4))))).toBe('1/2');
    expect(F.format(positionAtSeconds(map, seconds(F.fraction(12))))).toBe('2');
  });
  it('is inverted to within 1e-12 s elsewhere', () => {
    // u^2 + 4u = 3: u = sqrt(7) - 2.
    const u = positionAtSeconds(map, seconds(F.fraction(3)));
    expect(F.toNumber(u)).toBeCloseTo(Math.sqrt(7) - 2, 15);
    const off = F.sub(secondsAtPosition(map, u), F.fraction(3));
    expect(F.isZero(off)).toBe(false);
    expect(Math.abs(F.toNumber(off))).toBeLessThan(1e-12);
  });
});

describe('bounds', () => {
  const codes = (unit: Beats, rate: string): string | undefined =>
    checkTempo(unit, F.parse(rate) ?? F.zero)?.code;
  it.each([
    ['0', 'tempo-zero'],
    ['-60', 'tempo-zero'],
    ['4.99', 'tempo-absurd'],
    ['5', undefined],
    ['1000', undefined],
    ['1000.01', 'tempo-absurd'],
  ])('judges quarter = %s', (rate, code) => {
    expect(codes(quarter, rate)).toBe(code);
  });
  it('says so in plain figures', () => {
    // Computed: 3000 eighths a minute are 1500 quarters.
    expect(checkTempo(note(1, 8), F.fraction(3000))?.message).toBe(
      'A tempo of 1/8 = 3000 is 1500 quarters a minute; from 5 to 1000 can be played to.',
    );
    expect(checkTempo(quarter, F.fraction(449, 100))?.message).toContain('1/4 = 4.49 is 4.49 quarters');
  });
  it('judges by the quarter, whatever the unit', () => {
    expect(codes(note(1, 8), '1999')).toBeUndefined();
    expect(codes(note(1), '251')).toBe('tempo-absurd');
  });
  it('refuses maps that no caller may build', () => {
    expect(() => tempoMap([])).toThrow(RangeError);
    expect(() => constant(F.zero)).toThrow(RangeError);
  });
});

describe('roots', () => {
  it('are exact for squares', () => {
    expect(wholeRoot(10n ** 60n)).toBe(10n ** 30n);
    expect(wholeRoot(10n ** 60n - 1n)).toBe(10n ** 30n - 1n);
    expect(squareRoot(F.fraction(9, 16))).toEqual(F.fraction(3, 4));
    expect(squareRoot(F.zero)).toEqual(F.zero);
  });
  it('are within 2^-96 otherwise, from below', () => {
    for (const value of [F.fraction(2), F.fraction(1, 10n ** 50n + 1n), F.fraction(10n ** 50n + 1n, 3)]) {
      const root = squareRoot(value);
      const missing = F.div(F.sub(value, F.mul(root, root)), value);
      expect(F.atMost(F.zero, missing)).toBe(true);
      // The square is off by at most twice the root's relative error.
      expect(F.less(missing, F.fraction(1, 2n ** 95n))).toBe(true);
    }
  });
});
