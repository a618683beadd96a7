/**
 * Tones that no sound font has: sums of partials, and frequency modulation (Chowning 1973), with beginnings of many kinds. They are no
 * imitation of any instrument; they are there so that the model of note beginnings meets rises of every length and shape.
 */
import { bankRate, held } from '../../bench/hear/bank.mjs';

const count = Math.round(held * bankRate);

/** Rise of a partial, 0 to 1, `t` seconds after it begins: exponential, or smooth over about three times `seconds`. */
const risen = (t, seconds, smooth) => {
  if (t <= 0) return 0;
  if (!smooth) return 1 - Math.exp(-t / seconds);
  const x = Math.min(1, t / (3 * seconds));
  return x * x * (3 - 2 * x);
};

/** Loudness after the rise: falls from 1 + `over` to 1, as where a tone is struck or spoken into. */
const fallen = (t, { over, overSeconds }) => 1 + over * Math.exp(-t / overSeconds);

/** Pitch at `t`, as a factor: slides into place. */
const slid = (t, { scoop, scoopSeconds }) =>
  scoop === 0 ? 1 : 2 ** ((scoop / 1200) * Math.exp(-t / scoopSeconds));

const hissed = (out, shape, hertz, random) => {
  const keep = Math.exp((-2 * Math.PI * shape.noiseHertz) / bankRate);
  // Noise that the tone's own resonance colours, as breath and bow noise are: a two-pole at the fundamental.
  const [r, w] = [0.995, (2 * Math.PI * hertz) / bankRate];
  let [a, b, y1, y2] = [0, 0, 0, 0];
  for (let n = 0; n < out.length; n += 1) {
    const t = n / bankRate;
    a = keep * a + (1 - keep) * random.uniform(-1, 1);
    b = 0.98 * b + 0.02 * a;
    const white = a - b;
    const y = white + 2 * r * Math.cos(w) * y1 - r * r * y2;
    [y2, y1] = [y1, y];
    const size = shape.hiss + shape.burst * Math.exp(-t / shape.burstSeconds);
    out[n] += (white + shape.coloured * 0.02 * y) * size * Math.min(1, t / 0.003);
  }
  return out;
};

const additive = (hertz, strong, shape, random) => {
  const out = new Float32Array(count);
  const loss = shape.loss - (strong ? 0.3 : 0);
  for (let h = 1; h <= 14 && h * hertz < 10_000; h += 1) {
    const formant = 1 + 2 * Math.exp(-(((h * hertz - shape.formant) / 500) ** 2));
    const weak = (shape.oddOnly && h % 2 === 0 ? 0.12 : 1) * (shape.weakFirst && h === 1 ? 0.15 : 1);
    const size = formant * h ** -loss * weak * random.uniform(0.5, 1.5);
    const rise = shape.rise * (1 + shape.later * (h - 1)) * random.uniform(0.7, 1.4) * (strong ? 0.8 : 1.2);
    const wait = shape.wait * (h - 1) * random.uniform();
    let phase = random.uniform(0, 2 * Math.PI);
    const step = (2 * Math.PI * h * hertz) / bankRate;
    let [wander, bend, gain] = [0, 1, 0];
    for (let n = Math.round(wait * bankRate); n < count; n += 1) {
      if (n % 32 === 0) {
        const t = n / bankRate;
        wander = 0.98 * wander + random.uniform(-1, 1) * shape.wander * 0.7;
        bend = slid(t, shape);
        gain = size * (1 + wander) * fallen(t, shape);
      }
      phase += step * bend;
      out[n] += gain * risen(n / bankRate - wait, rise, shape.smooth) * Math.sin(phase);
    }
  }
  return hissed(out, shape, hertz, random);
};

const modulated = (hertz, strong, shape, random) => {
  const out = new Float32Array(count);
  let [carrier, modulator] = [random.uniform(0, 6), random.uniform(0, 6)];
  const index = shape.index * (strong ? 1.3 : 0.8);
  for (let n = 0; n < count; n += 1) {
    const t = n / bankRate;
    const bend = slid(t, shape);
    carrier += (2 * Math.PI * hertz * bend) / bankRate;
    modulator += (2 * Math.PI * hertz * shape.ratio * bend) / bankRate;
    const depth = index * (shape.opens ? risen(t, 2 * shape.rise, false) : 1 + Math.exp(-t / 0.05));
    out[n] =
      0.7 *
      fallen(t, shape) *
      risen(t, shape.rise, shape.smooth) *
      Math.sin(carrier + depth * Math.sin(modulator));
  }
  return hissed(out, shape, hertz, random);
};

/** How a voice's tones begin and sound, drawn once for each voice. */
export const shapeFor = (kind, family, random) => {
  const wind = family === 'wind';
  const slow = kind === 'additive swell';
  const spoken = kind === 'additive spoken';
  const quick = wind ? [0.004, 0.025] : [0.008, 0.05];
  return {
    loss: random.uniform(0.6, 2.2),
    formant: random.uniform(400, 2500),
    oddOnly: wind && random.chance(0.3),
    weakFirst: random.chance(0.2),
    rise: slow ? random.uniform(0.04, 0.12) : random.uniform(...quick),
    smooth: random.chance(0.4),
    later: random.uniform(slow ? -0.03 : 0, 0.25),
    wait: random.uniform(0, 0.004),
    over: spoken ? random.uniform(0.5, 2) : 0,
    overSeconds: random.uniform(0.03, 0.25),
    scoop: random.chance(0.3) ? random.uniform(-90, 40) : 0,
    scoopSeconds: random.uniform(0.02, 0.07),
    wander: random.uniform(0.002, wind ? 0.02 : 0.05),
    hiss: random.uniform(0, 0.15),
    burst: spoken || random.chance(0.4) ? random.uniform(0.2, 1.5) : 0,
    burstSeconds: random.uniform(0.008, 0.06),
    coloured: random.uniform(0, 1),
    noiseHertz: random.uniform(1000, 6000),
    ratio: random.pick([1, 1, 2, 3]),
    index: random.uniform(0.5, 3),
    opens: random.chance(0.6),
  };
};

export const toneKinds = ['additive', 'additive swell', 'additive spoken', 'modulated'];

/** One note of `held` seconds. */
export const tone = (kind, hertz, strong, shape, random) =>
  kind === 'modulated' ? modulated(hertz, strong, shape, random) : additive(hertz, strong, shape, random);
