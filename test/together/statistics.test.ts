/** Each statistic against examples worked by hand and published values. */
import { describe, expect, it } from 'vitest';
import { durationRatios, longShortLogs, meanDifference, npvi } from '../../src/together/articulation.ts';
import { asynchronies, asynchrony } from '../../src/together/asynchrony.ts';
import { correctionGains } from '../../src/together/correction.ts';
import { shareEstimate } from '../../src/together/estimates.ts';
import { correlationEstimate, following } from '../../src/together/lead.ts';
import { evenSteps, stepsOf } from '../../src/together/model.ts';
import { mean } from '../../src/together/moments.ts';
import { seam, type SeamNote } from '../../src/together/seams.ts';
import { arrivals, arrivalsAtClick, tempoByBar } from '../../src/together/tempo.ts';
import { ensemble, evenPlaces, normals, times } from './simulate.ts';

describe('asynchrony', () => {
  it('is the first less the second where both play', () => {
    // By hand: differences 10, -20, 40 ms; mean 10, SD 30 (n - 1), mean size 70/3.
    const first = [1.01, 1.48, null, 2.54, 3];
    const second = [1, 1.5, 2, 2.5, null];
    expect(asynchronies(first, second).map((x) => Math.round(1e6 * x))).toEqual([10000, -20000, 40000]);
    const seen = asynchrony(first, second, 0.0001);
    expect(seen.n).toBe(3);
    expect(seen.mean?.value).toBeCloseTo(0.01, 12);
    expect(seen.sd?.value).toBeCloseTo(0.03, 12);
    expect(seen.meanSize?.value).toBeCloseTo(0.07 / 3, 12);
    // Less noise of 10 ms: root(900 - 100).
    expect(seen.sdWithoutNoise?.value).toBeCloseTo(Math.sqrt(0.0008), 12);
    // Mean ± t(2) SD / root 3 with t = 4.303; SD limits 0.03 root(2 / 7.378), root(2 / 0.0506) (NIST tables, from memory).
    expect(seen.mean?.ci95?.high).toBeCloseTo(0.01 + (4.303 * 0.03) / Math.sqrt(3), 4);
    expect(seen.sd?.ci95?.low).toBeCloseTo(0.03 * Math.sqrt(2 / 7.378), 4);
    expect(seen.sd?.ci95?.high).toBeCloseTo(0.03 * Math.sqrt(2 / 0.0506), 3);
    expect(seen.firstAhead?.value).toBeCloseTo(1 / 3, 12);
  });

  it('the other way round only turns signs', () => {
    const normal = normals(1);
    const [a, b] = [times(50, (i) => i + 0.02 * normal()), times(50, (i) => i + 0.02 * normal())];
    const [there, back] = [asynchrony(a, b), asynchrony(b, a)];
    expect(back.mean?.value).toBeCloseTo(-(there.mean?.value ?? 0), 12);
    expect(back.sd?.value).toBeCloseTo(there.sd?.value ?? 0, 12);
    expect(back.meanSize?.value).toBeCloseTo(there.meanSize?.value ?? 0, 12);
  });

  it('never gives NaN, however little there is', () => {
    for (const n of [0, 1, 2, 3]) {
      for (const step of [0, 0.01]) {
        const seen = asynchrony(
          times(n, (i) => i + step * i),
          times(n, (i) => i),
          0.01,
        );
        expect(JSON.stringify(seen)).not.toMatch(/NaN|Infinity/);
        for (const value of Object.values(seen)) {
          expect(typeof value === 'number' ? Number.isFinite(value) : true).toBe(true);
        }
      }
    }
    expect(asynchrony([], []).mean).toBeNull();
    expect(asynchrony([1], [1.1]).sd).toBeNull();
    // Noise larger than the spread leaves none, not a root of something below zero.
    expect(asynchrony([0, 1, 2], [0, 1.001, 2], 1).sdWithoutNoise?.value).toBe(0);
  });

  it('shares with the interval of Wilson', () => {
    // Newcombe 1998, Stat Med 17:857, table I: 81 of 263: 0.2553 to 0.3662; 0 of 20: 0 to 0.1611.
    const seen = shareEstimate(81, 263)?.ci95;
    expect([seen?.low, seen?.high].map((x) => x?.toFixed(4))).toEqual(['0.2553', '0.3662']);
    const none = shareEstimate(0, 20)?.ci95;
    expect([none?.low, none?.high].map((x) => x?.toFixed(4))).toEqual(['0.0000', '0.1611']);
    expect(shareEstimate(0, 0)).toBeNull();
  });
});

describe('who follows', () => {
  it('tells a follower from a leader', () => {
    const normal = normals(21);
    // The first keeps its own time; the second takes over each interval of the first one note later.
    const own = times(101, () => 0.5 + 0.02 * normal());
    let [a, b] = [0, 0];
    const first = own.slice(1).map((step) => (a += step));
    const second = own.slice(0, 100).map((step) => (b += step + 0.002 * normal()));
    const seen = following(first, second, evenPlaces(100));
    expect(seen.secondFollows?.value).toBeGreaterThan(0.9);
    expect(Math.abs(seen.firstFollows?.value ?? 1)).toBeLessThan(0.3);
    expect(following(first.slice(0, 8), second.slice(0, 8), evenPlaces(8)).together).toBeNull();
  });

  it('gives the interval of Fisher', () => {
    // By hand: r = 0.5, n = 28: atanh 0.5 = 0.5493, ± 1.96 / 5: 0.1573, 0.9413; tanh: 0.1560, 0.7358.
    const a = times(28, (i) => Math.cos((2 * Math.PI * i) / 28));
    const b = times(28, (i) => Math.cos((2 * Math.PI * i) / 28 + Math.PI / 3));
    const seen = correlationEstimate(a, b);
    expect(seen?.value).toBeCloseTo(0.5, 12);
    expect(seen?.ci95?.low).toBeCloseTo(0.156, 3);
    expect(seen?.ci95?.high).toBeCloseTo(0.7358, 3);
  });
});

describe('phase correction', () => {
  it('is found without noise to the last digit', () => {
    // Own interval = 0.5 - 0.3 x distance exactly.
    const distances = times(40, (i) => 0.02 * Math.sin(i * i));
    const seen = correctionGains(
      distances.map((d, i) => 0.5 - 0.3 * d + 1e-9 * Math.cos(i)),
      [distances],
      distances.map((_, i) => i > 0),
    );
    expect(seen?.gains[0]?.value).toBeCloseTo(0.3, 6);
  });

  it('tells who corrects and who does not', () => {
    const options = {
      notes: 400,
      pace: 0.5,
      clock: 0.012,
      motor: 0.005,
      gains: [
        [0, 0],
        [0.5, 0],
      ],
    };
    const [leader = [], follower = []] = ensemble(options, normals(31));
    const rows = (own: number[], other: number[]) => {
      const steps = own.slice(1).map((time, i) => time - (own[i] ?? 0));
      const away = steps.map((_, i) => (own[i] ?? 0) - (other[i] ?? 0));
      return correctionGains(
        steps,
        [away],
        steps.map((_, i) => i > 0),
      )?.gains[0];
    };
    const [a, b] = [rows(leader, follower), rows(follower, leader)];
    expect(a?.ci95?.low).toBeLessThan(0);
    expect(b?.ci95?.low).toBeGreaterThan(0.3);
  });

  it('is not told for short series or where players never part', () => {
    expect(correctionGains([1, 1, 1], [[0, 0, 0]], [false, true, true])).toBeNull();
    const flat = times(50, () => 0);
    expect(
      correctionGains(
        times(50, (i) => 0.5 + 0.01 * Math.sin(i)),
        [flat],
        flat.map((_, i) => i > 0),
      ),
    ).toBeNull();
  });
});

describe('steps', () => {
  it('span blanks, and break where time does not go on', () => {
    const places = evenPlaces(7);
    const steps = stepsOf([0, 0.5, null, 1.5, 1.4, 2, 2.5], places);
    expect(steps.map(({ place, beats, joined }) => [place, beats, joined])).toEqual([
      [0, 1, false],
      [1, 2, true],
      [4, 1, false],
      [5, 1, true],
    ]);
    expect(evenSteps(steps)?.steps.map(({ place, joined }) => [place, joined])).toEqual([
      [0, false],
      [4, false],
      [5, true],
    ]);
  });
});

describe('tempo and bar lines', () => {
  const places = evenPlaces(13);

  it('bars of four at 120, 60 and 90', () => {
    // By hand: intervals of 1/2, 1 and 2/3 s.
    const onsets = [0, 0.5, 1, 1.5, 2, 3, 4, 5, 6, 6 + 2 / 3, 6 + 4 / 3, 8, 8 + 2 / 3];
    const seen = tempoByBar([onsets], places);
    expect(seen.map(({ barName }) => barName)).toEqual(['1', '2', '3']);
    expect(seen.map(({ perMinute }) => Math.round(perMinute.value * 1e6) / 1e6)).toEqual([120, 60, 90]);
  });

  it('arrival: how much later the bar line comes than the bar before leads to', () => {
    const onsets = times(13, (i) => i * 0.5 + (i >= 8 ? 0.04 : 0));
    expect(
      arrivals([onsets], places).map(({ barName, late }) => [barName, Math.round(late.value * 1e6)]),
    ).toEqual([
      ['2', 0],
      ['3', 40000],
      ['4', 0],
    ]);
    const click = times(13, (i) => i * 0.5 - 0.01);
    const seen = arrivalsAtClick([onsets], click, places, 0.005 ** 2);
    expect(seen.map(({ late }) => Math.round(late.value * 1000))).toEqual([10, 10, 50, 50]);
    expect(seen[0]?.late.ci95?.high).toBeCloseTo(0.01 + 1.96 * 0.005, 6);
  });

  it('leaves out what cannot be told', () => {
    expect(tempoByBar([[1]], evenPlaces(1))).toEqual([]);
    expect(tempoByBar([[2, 1]], evenPlaces(2))).toEqual([]);
    expect(arrivals([times(5, (i) => (i === 1 || i === 2 ? null : i))], evenPlaces(5))).toEqual([]);
  });
});

describe('articulation and evenness', () => {
  it('duration ratio: sounding length over the interval', () => {
    // By hand: 0.2/0.5, 0.3/0.5, 0.25/0.5.
    const notes = [
      { onset: 0, offset: 0.2 },
      { onset: 0.5, offset: 0.8 },
      { onset: 1, offset: 1.25 },
      { onset: 1.5, offset: null },
    ];
    const seen = durationRatios(notes);
    expect(seen).toHaveLength(3);
    for (const [i, ratio] of [0.4, 0.6, 0.5].entries()) expect(seen[i]).toBeCloseTo(ratio, 12);
    expect(durationRatios(notes.slice(3))).toEqual([]);
  });

  it('long-short ratio: by its logarithm, so that 2:1 and 1:2 are even together', () => {
    const lengths = [2, 1, 1, 2, 4, 2, 2, 4];
    let time = 0;
    const onsets = [0, ...lengths.map((length) => (time += length))];
    expect(mean(longShortLogs(onsets))).toBeCloseTo(0, 12);
    const swung = [0, ...times(16, (i) => Math.floor((i + 1) / 2) + ((i + 1) % 2 === 1 ? 2 / 3 : 0))];
    expect(mean(longShortLogs(swung))).toBeCloseTo(Math.log(2), 9);
    expect(longShortLogs([0, 1])).toEqual([]);
    expect(longShortLogs([0, null, 2, 3, 4])).toEqual([0]);
  });

  it('nPVI', () => {
    // Computed from the definition (Patel & Daniele 2003): even 0; .4 .2 .4 .2 .4: 66.67; 3 1 3 1: 100.
    expect(npvi([0.3, 0.3, 0.3])).toBe(0);
    expect(npvi([0.4, 0.2, 0.4, 0.2, 0.4])).toBeCloseTo(66.667, 3);
    expect(npvi([3, 1, 3, 1])).toBeCloseTo(100, 9);
    expect([npvi([1]), npvi([1, 0]), npvi([1, -1])]).toEqual([null, null, null]);
  });

  it('difference of means by Welch', () => {
    // Sleep data of Student 1908 as two groups; R: t.test(extra ~ group): -1.58, -3.3654832 to 0.2054832 (R's own example).
    const first = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    const second = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];
    const seen = meanDifference(first, second);
    expect(seen?.value).toBeCloseTo(-1.58, 10);
    expect(seen?.ci95?.low).toBeCloseTo(-3.3654832, 6);
    expect(seen?.ci95?.high).toBeCloseTo(0.2054832, 6);
    expect(meanDifference([1], [2])).toEqual({ value: -1, ci95: null });
    expect(meanDifference([], [2])).toBeNull();
  });
});

describe('seams', () => {
  const notes = (from: number, count: number, shift: number, level: number, length: number): SeamNote[] =>
    times(count, (i) => ({
      beats: from + i,
      onset: (from + i) * 0.25 + shift,
      offset: (from + i) * 0.25 + shift + length,
      level: level - i,
    }));

  it('gap, steps and slopes', () => {
    const seen = seam(notes(0, 4, 0, -20, 0.2), notes(4, 4, 0.03, -26, 0.1));
    expect(seen.gap?.value).toBeCloseTo(0.03, 9);
    expect(seen.levelStep?.value).toBeCloseTo(-6, 9);
    expect(seen.lengthStep?.value).toBeCloseTo(-0.4, 9);
    expect(seen.levelSlope.before?.value).toBeCloseTo(-1, 9);
    expect(seen.tempoSlope.after?.value).toBeCloseTo(0, 6);
  });

  it('the interval of a gap holds what the unevenness of the giver would do', () => {
    const normal = normals(41);
    const rough = (line: SeamNote[]): SeamNote[] =>
      line.map((n) => ({ ...n, onset: n.onset + 0.01 * normal() }));
    let held = 0;
    for (let i = 0; i < 2000; i++) {
      const { low = 1, high = -1 } =
        seam(rough(notes(0, 6, 0, 0, 0.1)), rough(notes(6, 4, 0, 0, 0.1))).gap?.ci95 ?? {};
      if (low <= 0 && high >= 0) held += 1;
    }
    expect(held / 2000).toBeGreaterThan(0.93);
    expect(held / 2000).toBeLessThan(0.97);
  });

  it('where there is nothing', () => {
    const none = seam([], []);
    expect([
      none.gap,
      none.levelStep,
      none.lengthStep,
      none.levelSlope.before,
      none.tempoSlope.after,
    ]).toEqual([null, null, null, null, null]);
  });
});
