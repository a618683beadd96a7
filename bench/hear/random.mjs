/** Randomness from a printed seed: the same text gives the same stream on every machine. */

/** 32-bit FNV-1a of a text. */
const hash = (text) => {
  let h = 0x811c9dc5;
  for (const byte of Buffer.from(text)) h = Math.imul(h ^ byte, 0x01000193);
  return h >>> 0;
};

/** A source named by its text; `fork` gives an independent one, so that adding a draw in one place moves no other. */
export const seeded = (text) => {
  // sfc32 (Doty-Humphrey, PractRand), run in from four hashes of the text.
  let [a, b, c, d] = [0, 1, 2].map((k) => hash(`${k}:${text}`) | 0).concat(1);
  const next = () => {
    const t = (((a + b) | 0) + d) | 0;
    d = (d + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + t) | 0;
    return (t >>> 0) / 4294967296;
  };
  for (let k = 0; k < 15; k += 1) next();
  const source = {
    /** Uniform in [low, high). */
    uniform: (low = 0, high = 1) => low + (high - low) * next(),
    /** Normal, mean 0, SD 1 (Box and Muller 1958). */
    normal: () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next()),
    /** One of a list. */
    pick: (list) => list[Math.floor(next() * list.length)],
    /** True with this probability. */
    chance: (p) => next() < p,
    /** The list in random order. */
    shuffle: (list) => {
      const out = [...list];
      for (let k = out.length - 1; k > 0; k -= 1) {
        const j = Math.floor(next() * (k + 1));
        [out[k], out[j]] = [out[j], out[k]];
      }
      return out;
    },
    fork: (label) => seeded(`${text}/${label}`),
  };
  return source;
};
