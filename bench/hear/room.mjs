/**
 * Rooms: synthetic impulse responses (direct sound, early reflections, a tail that decays by 60 dB in `rt60`), from a
 * seed; and what a microphone adds: noise, another clock.
 */

/** In-place complex FFT of a power-of-two length; `sign` 1 forward, -1 back without the division. */
const fft = (re, im, sign) => {
  const n = re.length;
  for (let i = 1, j = 0; i < n; i += 1) {
    let bit = n >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      [re[i], re[j]] = [re[j], re[i]];
      [im[i], im[j]] = [im[j], im[i]];
    }
  }
  for (let size = 2; size <= n; size *= 2) {
    const half = size / 2;
    const cos = new Float64Array(half);
    const sin = new Float64Array(half);
    for (let k = 0; k < half; k += 1) {
      cos[k] = Math.cos((2 * Math.PI * k) / size);
      sin[k] = -sign * Math.sin((2 * Math.PI * k) / size);
    }
    for (let from = 0; from < n; from += size)
      for (let k = 0; k < half; k += 1) {
        const a = from + k;
        const b = a + half;
        const x = re[b] * cos[k] - im[b] * sin[k];
        const y = re[b] * sin[k] + im[b] * cos[k];
        re[b] = re[a] - x;
        im[b] = im[a] - y;
        re[a] += x;
        im[a] += y;
      }
  }
};

/** `sound` heard through `response`, as long as `sound`: overlap-add, two blocks at a time as real and imaginary part. */
export const convolve = (sound, response) => {
  let size = 1;
  while (size < 4 * response.length) size *= 2;
  const block = size - response.length + 1;
  const hr = new Float64Array(size);
  const hi = new Float64Array(size);
  hr.set(response);
  fft(hr, hi, 1);
  const out = new Float32Array(sound.length);
  for (let from = 0; from < sound.length; from += 2 * block) {
    const re = new Float64Array(size);
    const im = new Float64Array(size);
    re.set(sound.subarray(from, Math.min(sound.length, from + block)));
    if (from + block < sound.length)
      im.set(sound.subarray(from + block, Math.min(sound.length, from + 2 * block)));
    fft(re, im, 1);
    for (let k = 0; k < size; k += 1) {
      const x = re[k] * hr[k] - im[k] * hi[k];
      im[k] = re[k] * hi[k] + im[k] * hr[k];
      re[k] = x;
    }
    fft(re, im, -1);
    for (let k = 0; k < size; k += 1) {
      if (from + k < out.length) out[from + k] += re[k] / size;
      if (from + block + k < out.length) out[from + block + k] += im[k] / size;
    }
  }
  return out;
};

export const rooms = {
  dry: null,
  room: { rt60: 0.5, early: [0.004, 0.03] },
  hall: { rt60: 1.8, early: [0.012, 0.08] },
};

/**
 * An impulse response whose direct sound is 1 at time 0. `directDb`: how much stronger the direct sound is than all
 * that follows (energy); near microphones about 10 dB, far ones about 0.
 */
export const response = (room, directDb, rate, random) => {
  const { rt60, early } = rooms[room];
  const length = Math.round(Math.min(rt60, 1.9) * rate);
  const tail = new Float64Array(length);
  let low = 0;
  const from = Math.round(early[0] * rate);
  for (let n = from; n < length; n += 1) {
    // High partials die sooner: a one-pole low-pass that closes as the tail goes on.
    const share = 0.25 + 0.6 * Math.exp((-3 * n) / length);
    low += share * (random.normal() - low);
    const grow = Math.min(1, (n - from) / (0.03 * rate));
    tail[n] = low * grow * 10 ** ((-3 * n) / (rt60 * rate));
  }
  for (let k = 0; k < 10; k += 1) {
    const t = random.uniform(early[0], early[1]);
    tail[Math.round(t * rate)] += random.pick([-1, 1]) * random.uniform(2, 5) * 10 ** ((-3 * t) / rt60);
  }
  let sum = 0;
  for (const value of tail) sum += value ** 2;
  const gain = 10 ** (-directDb / 20) / Math.sqrt(sum);
  const out = Float64Array.from(tail, (value) => value * gain);
  out[0] = 1;
  return out;
};

/**
 * A sound as a small loudspeaker or leaking headphones give it back: without its lows and highs (first-order slopes
 * at frequencies drawn from the seed).
 */
export const leaked = (sound, rate, random) => {
  const high = 1 - Math.exp((-2 * Math.PI * random.uniform(3000, 9000)) / rate);
  const low = 1 - Math.exp((-2 * Math.PI * random.uniform(150, 600)) / rate);
  const out = new Float32Array(sound.length);
  let [smooth, floor] = [0, 0];
  for (let n = 0; n < sound.length; n += 1) {
    smooth += high * (sound[n] - smooth);
    floor += low * (smooth - floor);
    out[n] = smooth - floor;
  }
  return out;
};

/** Pink-ish noise of RMS 1 (three one-pole filters on white noise). */
export const noise = (length, random) => {
  const out = new Float32Array(length);
  let [a, b, c, sum] = [0, 0, 0, 0];
  for (let n = 0; n < length; n += 1) {
    const white = 2 * random.uniform() - 1;
    a = 0.997 * a + 0.03 * white;
    b = 0.963 * b + 0.076 * white;
    c = 0.57 * c + 0.263 * white;
    out[n] = a + b + c + 0.16 * white;
    sum += out[n] ** 2;
  }
  const gain = 1 / Math.sqrt(sum / length);
  return out.map((value) => value * gain);
};

/**
 * What a recorder with its own clock writes of `sound` (whose sample 0 is at drill time `origin`): time in the file =
 * offset + (1 + ppm / 1e6) x drill time. Cubic reading between samples.
 */
export const onClock = (sound, rate, { offset, ppm }, origin, seconds) => {
  const out = new Float32Array(Math.round(seconds * rate));
  const speed = 1 / (1 + ppm * 1e-6);
  for (let n = 0; n < out.length; n += 1) {
    const at = ((n / rate - offset) * speed - origin) * rate;
    const k = Math.floor(at);
    if (k < 1 || k + 2 >= sound.length) continue;
    const f = at - k;
    const w = sound[k - 1];
    const x = sound[k];
    const y = sound[k + 1];
    const z = sound[k + 2];
    out[n] = x + 0.5 * f * (y - w + f * (2 * w - 5 * x + 4 * y - z + f * (3 * (x - y) + z - w)));
  }
  return out;
};
