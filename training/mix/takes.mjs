/**
 * Takes of an ensemble through one microphone, for fitting the network of a mixture and for choosing between fits: who plays what, how, and
 * what the microphone makes of it. Music is the bench's own random lines and windows of the tuning half's quartets; sounds are those
 * of training/onsets (fitting) or of other makers' fonts (choosing). No sound or score of the bench's report half is used.
 */
import { instruments } from '../../bench/hear/instruments.mjs';
import { seeded } from '../../bench/hear/random.mjs';
import { convolve, leaked, noise, response } from '../../bench/hear/room.mjs';
import { tuningSource } from '../../bench/hear/sources.mjs';

export const mixSeed = 'levare-mix-1';

const likes = ['flute', 'clarinet', 'oboe', 'recorder', 'violin', 'violin', 'cello', 'viola'];
const any = ['flute', 'oboe', 'clarinet', 'recorder', 'violin', 'viola', 'cello'];
const high = (name) => -instruments[name].low;

const ensemble = (random) => {
  const size = random.pick([2, 2, 3, 3, 4, 4, 5]);
  const kind = random.pick(['like', 'like', 'any', 'any', 'strings']);
  if (kind === 'like') {
    const name = random.pick(likes);
    return Array.from({ length: Math.min(size, 4) }, () => name);
  }
  if (kind === 'strings')
    return [
      ['violin', 'cello'],
      ['violin', 'viola', 'cello'],
      ['violin', 'violin', 'viola', 'cello'],
      ['violin', 'violin', 'viola', 'cello', 'cello'],
    ][size - 2];
  return Array.from({ length: size }, () => random.pick(any)).sort((a, b) => high(b) - high(a));
};

/** Numbers that a take draws for itself, from the ranges of bench/hear/items.mjs. */
export const detail = (item, random) => {
  const { voices, spreadMs } = item;
  const metre = random.pick(['4/4', '3/4', '6/8', '2/4', '4/4']);
  const free = random.chance(0.5);
  return {
    half: 'tuning',
    source: tuningSource,
    times: 1,
    rate: 44_100,
    bits: 16,
    click: 'bar',
    metre,
    tempo: Math.round(metre === '6/8' ? random.uniform(50, 76) : random.uniform(60, 126)),
    sd: voices.map(() => (spreadMs / 1000) * random.uniform(0.85, 1.15)),
    lead: voices.map(() => random.uniform(-1, 1) * (random.chance(0.5) ? 0.03 : 0.01)),
    towardsOthers: random.uniform(0.1, 0.35),
    towardsClick: free ? 0 : random.uniform(0.1, 0.3),
    group: {
      tempo: free ? random.uniform(0.85, 1.15) : 1,
      driftPercent: free ? random.uniform(-8, 8) : 0,
      bends: free
        ? [0.25, 0.55, 0.95].map((share) => ({
            share,
            depth: random.uniform(-0.12, 0.08),
            width: random.uniform(0.6, 1.5),
          }))
        : [],
    },
    articulation: voices.map(() => random.pick(item.articulations ?? ['plain', 'legato', 'detached'])),
    dynamics: { depth: random.uniform(0, 6), period: random.uniform(8, 16), phase: random.uniform() },
    balance: voices.map(() => random.uniform(-4, 2)),
    vibrato: voices.map((voice) =>
      ['violin', 'viola', 'cello', 'flute', 'oboe'].includes(voice) && random.chance(0.7)
        ? {
            cents: random.uniform(8, voice === 'flute' || voice === 'oboe' ? 18 : 30),
            hz: random.uniform(4.8, 6.4),
          }
        : { cents: 0, hz: 5 },
    ),
    tuning: { a: random.pick([440, 440, 442, 443, 438, 415]), driftCents: random.uniform(-8, 8) },
    mistakes: random.chance(0.15) ? { wrong: 0.03, missing: 0.03 } : {},
    stop: false,
    trills: random.chance(0.08),
    ...item,
  };
};

/** Take `n` for fitting. */
export const fittingItem = (n) => {
  const seed = `${mixSeed}/fit/${n}`;
  const random = seeded(seed);
  const quartet = n % 4 === 3;
  const voices = quartet
    ? random.pick([
        ['violin', 'violin', 'viola', 'cello'],
        ['violin', 'violin', 'viola', 'cello'],
        ['flute', 'oboe', 'clarinet', 'cello'],
        ['flute', 'violin', 'viola', 'cello'],
        ['clarinet', 'clarinet', 'viola', 'cello'],
      ])
    : ensemble(random);
  const texture = random.pick([
    'lines',
    'lines',
    'chorale',
    'runs',
    'long',
    'repeated',
    'repeated',
    'unison',
    'octave',
  ]);
  return detail(
    {
      name: `fit-${n}`,
      seed,
      voices,
      spreadMs: random.pick([10, 20, 30, 40, 50]),
      score: quartet ? { kind: 'quartet' } : { kind: 'lines', texture },
    },
    random,
  );
};

/** Rows of what fits are chosen by: name, how many, and what take k of them is. */
const checks = [
  [
    'like winds',
    6,
    (k) => ({
      voices: [
        ['flute', 'flute'],
        ['clarinet', 'clarinet'],
        ['recorder', 'recorder'],
      ][k % 3],
    }),
  ],
  [
    'unlike winds',
    4,
    (k) => ({
      voices: [
        ['flute', 'clarinet'],
        ['oboe', 'clarinet'],
      ][k % 2],
    }),
  ],
  [
    'like winds, room, noise',
    4,
    (k) => ({
      voices: [
        ['flute', 'flute'],
        ['clarinet', 'clarinet'],
        ['recorder', 'recorder'],
      ][k % 3],
      room: ['room', 'hall'][k % 2],
      noiseDb: 20,
    }),
  ],
  [
    'violin, cello',
    6,
    (k) => ({
      voices: ['violin', 'cello'],
      articulations: k % 2 === 0 ? ['legato'] : ['plain', 'legato', 'detached'],
    }),
  ],
  [
    'quartet',
    8,
    (k) => ({
      voices: ['violin', 'violin', 'viola', 'cello'],
      score: { kind: 'quartet' },
      ...(k === 7 ? { room: 'room', noiseDb: 30 } : {}),
    }),
  ],
];
export const checkItems = (round = 'check') =>
  checks.flatMap(([row, many, change]) =>
    Array.from({ length: many }, (_, k) => {
      const seed = `${mixSeed}/${round}/${row}/${k}`;
      const random = seeded(seed);
      const texture = random.pick(['lines', 'lines', 'chorale', 'runs', 'long']);
      return detail(
        {
          name: `${round}-${row.replaceAll(/\W+/g, '-')}-${k}`,
          seed,
          row,
          score: { kind: 'lines', texture },
          spreadMs: [20, 30, 50, 10, 40, 30][k % 6],
          room: 'dry',
          noiseDb: 50,
          tuning: { a: 440, driftCents: 0 },
          mistakes: {},
          trills: false,
          ...change(k),
        },
        random,
      );
    }),
  );

/** Who sounds how. Two players of one instrument have one sound, or two. */
export const voicesFor = (item, { voiceOf, checkVoiceOf }, random) => {
  const known = new Map();
  const names = [];
  const same = random.chance(0.6);
  const bankFor = (_, instrument) => {
    const key = same ? instrument : `${instrument} ${names.length}`;
    if (!known.has(key)) {
      const dice = random.fork(`voice ${key}`);
      known.set(key, (item.row === undefined ? voiceOf : checkVoiceOf)(instrument, dice));
    }
    names.push(known.get(key).name);
    return known.get(key).bank;
  };
  return { bankFor, names };
};

const rms = (sound) => Math.sqrt(sound.reduce((sum, x) => sum + x * x, 0) / Math.max(1, sound.length));

/** Mixtures of one take: which parts, in which room, with which noise and what is left of the click. */
export const mixesFor = (item, parts, random) => {
  const all = Array.from({ length: parts }, (_, p) => p);
  if (item.row !== undefined)
    return [
      {
        parts: all,
        gains: all.map(() => 1),
        room: item.room,
        noiseDb: item.noiseDb,
        direct: 3,
        clickDb: null,
      },
    ];
  const one = (some, dice) => ({
    parts: some,
    gains: some.map(() => 10 ** (dice.uniform(-4, 4) / 20)),
    room: dice.pick(['dry', 'dry', 'room', 'room', 'hall']),
    direct: dice.uniform(-3, 10),
    noiseDb: dice.pick([60, dice.uniform(15, 50), dice.uniform(15, 35)]),
    clickDb: dice.chance(0.3) ? dice.uniform(-35, -15) : null,
  });
  const out = [one(all, random.fork('mix 0')), one(all, random.fork('mix 1'))];
  if (parts > 2)
    out.push(
      one(
        random
          .shuffle(all)
          .slice(0, parts === 3 ? 2 : random.pick([2, 3]))
          .sort(),
        random.fork('mix 2'),
      ),
    );
  return out;
};

/** What the microphone hears, at the take's rate. `clicks`: seconds in the tracks. */
export const heardMix = (item, tracks, mix, clicks, random) => {
  const sound = new Float32Array(tracks[0].length);
  mix.parts.forEach((p, k) => {
    for (let n = 0; n < sound.length; n += 1) sound[n] += mix.gains[k] * tracks[p][n];
  });
  const music = rms(sound);
  let out = sound;
  if (mix.room !== 'dry')
    out = convolve(sound, response(mix.room, mix.direct, item.rate, random.fork('room')));
  if (mix.clickDb !== null) {
    const tick = new Float32Array(sound.length);
    const [hertz, decay] = [random.uniform(900, 2600), random.uniform(0.004, 0.02)];
    for (const time of clicks)
      for (let n = 0; n < 0.08 * item.rate; n += 1)
        tick[Math.round(time * item.rate) + n] +=
          Math.sin((2 * Math.PI * hertz * n) / item.rate) * Math.exp(-n / item.rate / decay);
    const gain = music * 10 ** (mix.clickDb / 20) * 6;
    leaked(tick, item.rate, random.fork('leak')).forEach((x, n) => {
      if (n < out.length && Number.isFinite(x)) out[n] += gain * x;
    });
  }
  const hiss = noise(out.length, random.fork('noise'));
  const size = music * 10 ** (-mix.noiseDb / 20);
  for (let n = 0; n < out.length; n += 1) out[n] += size * hiss[n];
  return out;
};

/**
 * Where an alignment would put each notated time: a line through all players' beats nearby, wrong as alignments are (slowly wandering,
 * and now and then off for a second or two), `worse` times as much. Answers a function of notated seconds.
 */
export const coarseTimes = (notes, random, worse = 1) => {
  const written = [...new Set(notes.map((note) => note.written))].sort((a, b) => a - b);
  const width = random.uniform(0.5, 1.5);
  const size = worse * random.uniform(0.004, 0.022);
  let error = size * random.normal();
  let last = written[0];
  const lapse = random.chance(0.3 * worse)
    ? {
        at: random.uniform(written[0], written.at(-1)),
        reach: random.uniform(0.5, 1.2),
        size: 0.06 * random.normal(),
      }
    : null;
  const times = new Map();
  for (const w of written) {
    const keep = Math.exp(-(w - last) / 1.2);
    error = keep * error + size * Math.sqrt(1 - keep * keep) * random.normal();
    last = w;
    let [s0, s1, s2, m0, m1] = [0, 0, 0, 0, 0];
    for (const note of notes) {
      const x = note.written - w;
      const weight = Math.exp(-0.5 * (x / width) ** 2);
      if (weight < 0.01) continue;
      const y = note.perceived - note.written;
      s0 += weight;
      s1 += weight * x;
      s2 += weight * x * x;
      m0 += weight * y;
      m1 += weight * x * y;
    }
    const det = s0 * s2 - s1 * s1;
    const level = det > 1e-6 ? (m0 * s2 - m1 * s1) / det : m0 / s0;
    const off = lapse !== null && Math.abs(w - lapse.at) < lapse.reach ? lapse.size : 0;
    times.set(w, w + level + error + off);
  }
  return times;
};
