/**
 * The list of conditions. Each row of the table is a situation; each half has its own items in every row, drawn from
 * the same ranges with streams of their own, so that no item, no line of music and no sound source is in both halves.
 */
import { seeded } from './random.mjs';
import { reportSources, tuningSource } from './sources.mjs';

export const benchSeed = 'levare-hear-1';
export const halves = ['tuning', 'report'];

// Any two in a row hold a wide one.
const spreads = [10, 50, 20, 30];

const groups = {
  winds: {
    2: [
      ['flute', 'clarinet'],
      ['recorder', 'recorder'],
      ['oboe', 'flute'],
      ['flute', 'flute'],
    ],
    3: [
      ['flute', 'oboe', 'clarinet'],
      ['recorder', 'recorder', 'recorder'],
    ],
    4: [
      ['flute', 'oboe', 'clarinet', 'clarinet'],
      ['recorder', 'recorder', 'recorder', 'recorder'],
    ],
  },
  strings: {
    2: [
      ['violin', 'cello'],
      ['violin', 'violin'],
      ['viola', 'cello'],
    ],
    3: [
      ['violin', 'viola', 'cello'],
      ['violin', 'violin', 'cello'],
    ],
    4: [['violin', 'violin', 'viola', 'cello']],
  },
  mixed: {
    2: [
      ['flute', 'cello'],
      ['violin', 'clarinet'],
      ['recorder', 'violin'],
    ],
    3: [
      ['flute', 'violin', 'cello'],
      ['clarinet', 'viola', 'cello'],
      ['oboe', 'violin', 'cello'],
    ],
    4: [
      ['flute', 'violin', 'viola', 'cello'],
      ['oboe', 'violin', 'viola', 'cello'],
      ['clarinet', 'violin', 'viola', 'cello'],
    ],
  },
};

/** What is the same everywhere unless a row says otherwise. */
const plain = (k, random) => {
  const size = [2, 3, 2, 4][k % 4];
  const family = random.pick(['winds', 'strings', 'mixed']);
  return {
    family,
    size,
    score: { kind: 'lines', texture: random.pick(['lines', 'lines', 'chorale', 'runs', 'long']) },
    articulations: ['plain', 'legato', 'detached'],
    click: random.pick(['every', 'every', 'half', 'bar']),
    times: 1,
    room: 'dry',
    noiseDb: 60,
    neighbourDb: null,
    clickDb: -20,
    clock: { shared: true, ppm: 0 },
    tuning: { a: 440, driftCents: 0 },
    free: false,
    mistakes: {},
    stop: false,
    trills: false,
    mics: 'each',
  };
};

/** One microphone for all: nobody is a neighbour. */
const one = { mics: 'one', neighbourDb: null };
const unlike = [
  ['flute', 'clarinet'],
  ['oboe', 'flute'],
  ['recorder', 'clarinet'],
];
const alike = [
  ['clarinet', 'clarinet'],
  ['flute', 'flute'],
  ['recorder', 'recorder'],
];
const low = groups.strings[2][0];
const four = groups.strings[4][0];
/** Percent over a take of some 20 s as percent a minute. */
const overTake = 3;

/** Rows: name, how many items a half has, and what item k of them is. */
const rows = [
  ['winds, dry', 7, () => ({ family: 'winds' })],
  [
    'strings, dry',
    7,
    (k) => ({ family: 'strings', articulations: k % 2 === 0 ? ['legato'] : ['plain', 'legato', 'detached'] }),
  ],
  ['room and hall', 5, (k) => ({ room: ['room', 'hall'][k % 2] })],
  ['noise', 4, (k) => ({ noiseDb: [40, 20][k % 2] })],
  ['neighbours bleeding in', 5, (k) => ({ neighbourDb: [-20, -15, -10, -6][k % 4] })],
  [
    'room, noise 20 dB, neighbours',
    6,
    (k) => ({ room: ['room', 'hall'][k % 2], noiseDb: 20, neighbourDb: [-20, -15, -10, -6][(k + 1) % 4] }),
  ],
  ['click bleeding in', 4, (k) => ({ clickDb: [-12, 0, -6, 0][k % 4] })],
  [
    'clocks off',
    4,
    (k, random) => ({ clock: { shared: false, ppm: [30, 100][k % 2] }, clickDb: random.pick([-20, -10]) }),
  ],
  ['wrong, missing, added', 4, () => ({ mistakes: { wrong: 0.04, missing: 0.05, added: 0.04 } })],
  ['stop and restart', 3, () => ({ click: 'none', free: true, stop: true })],
  ['no click', 4, () => ({ click: 'none', free: true, clickDb: null })],
  [
    'unison, octave, repeats, trills',
    5,
    (k) => ({
      score: { kind: 'lines', texture: ['unison', 'octave', 'repeated', 'long', 'repeated'][k] },
      trills: k === 3,
      neighbourDb: -15,
    }),
  ],
  [
    'other pitch, drifting',
    4,
    (k) => ({ tuning: { a: [392, 415, 466, 430][k], driftCents: [0, -20, 20, 20][k] } }),
  ],
  ['repetitions', 2, (k) => ({ times: 2 + k })],
  ['the demo', 2, () => ({ score: { kind: 'demo' }, voices: ['flute', 'clarinet'] })],
  ['string quartets from scores', 3, () => ({ score: { kind: 'quartet' }, voices: groups.strings[4][0] })],
  ['one microphone', 3, () => ({ mics: 'one', neighbourDb: null })],
  ['one mic: unlike winds', 3, (k) => ({ ...one, voices: unlike[k] })],
  [
    'one mic: like winds, room, noise',
    3,
    (k) => ({ ...one, voices: alike[k], room: ['room', 'hall', 'room'][k], noiseDb: [30, 30, 20][k] }),
  ],
  [
    'one mic: violin and cello',
    4,
    (k) => ({ ...one, voices: low, articulations: k % 2 === 0 ? ['legato'] : ['plain', 'detached'] }),
  ],
  ['one mic: quartet', 6, (k) => ({ ...one, score: { kind: 'quartet' }, voices: four, turn: k })],
  [
    'one mic: click as loud',
    4,
    (k) => ({
      ...one,
      voices: [unlike[0], low, four, four][k],
      clickDb: 0,
      ...(k === 2 ? { score: { kind: 'quartet' } } : {}),
    }),
  ],
  [
    'one mic: free, drift 15 %',
    4,
    (k) => ({
      ...one,
      voices: [unlike[1], low, four, four][k],
      click: 'none',
      free: true,
      clickDb: null,
      drift: overTake * (k % 2 === 0 ? 15 : -15),
      ...(k === 2 ? { score: { kind: 'quartet' } } : {}),
    }),
  ],
];

/** Quartets that each half has beside the project. */
const quartets = [0, 1, 2, 3, 4];
/** A stream that draws another score each time, until all were had: drills.mjs draws it from the stream's "score". */
const inTurn = (stream, turn) => {
  if (turn === undefined) return stream;
  for (let n = 0; ; n += 1)
    if (seeded(`${stream}/${n}/score`).pick(quartets) === turn % quartets.length) return `${stream}/${n}`;
};

/** All items of a half. */
export const itemsOf = (half, seed = benchSeed) => {
  const out = [];
  let count = 0;
  rows.forEach(([row, many, change], r) => {
    for (let k = 0; k < many; k += 1) {
      const name = `${half}-${String(count + 1).padStart(2, '0')}`;
      const random = seeded(`${seed}/${half}/${row}/${k}`);
      // Rows and halves start at another spread.
      const spreadMs = spreads[(k + 2 * r + (half === 'tuning' ? 0 : 1)) % 4];
      const base = plain(k + r, random);
      const { turn, ...changed } = change(k, random);
      const condition = { ...base, ...changed };
      const voices = condition.voices ?? random.pick(groups[condition.family][condition.size]);
      const source = half === 'tuning' ? tuningSource : reportSources[count % reportSources.length];
      const made = detail(
        {
          name,
          half,
          row,
          seed: inTurn(`${seed}/${half}/${row}/${k}`, turn),
          source,
          spreadMs,
          voices,
          ...condition,
        },
        random,
      );
      // A score in three has no half bars, and its metre is its own.
      out.push(turn !== undefined && made.click === 'half' ? { ...made, click: 'every' } : made);
      count += 1;
    }
  });
  return out;
};

/** What a row asks for, or what was drawn: that draw is made in any case, so that nothing after it changes. */
const driftOf = ({ drift }, drawn) => drift ?? drawn;

/** Numbers that each item draws for itself. */
const detail = (item, random) => {
  const { voices, spreadMs, free } = item;
  const metre = random.pick(['4/4', '3/4', '6/8', '2/4', '4/4']);
  const tempo = metre === '6/8' ? Math.round(random.uniform(50, 72)) : Math.round(random.uniform(66, 116));
  return {
    ...item,
    metre,
    // In three and six a half bar is no beat.
    click: item.click === 'half' && metre !== '4/4' && metre !== '2/4' ? 'bar' : item.click,
    tempo,
    rate: random.pick([44100, 48000]),
    bits: random.pick([16, 16, 24]),
    sd: voices.map(() => (spreadMs / 1000) * random.uniform(0.85, 1.15)),
    lead: voices.map(() => random.uniform(-1, 1) * (random.chance(0.5) ? 0.03 : 0.01)),
    towardsOthers: random.uniform(0.1, 0.35),
    towardsClick: free ? 0 : random.uniform(0.1, 0.3),
    group: {
      tempo: free ? random.uniform(0.85, 1.15) : 1,
      driftPercent: free ? driftOf(item, random.uniform(-8, 8)) : 0,
      bends: free
        ? [0.25, 0.55, 0.95].map((share) => ({
            share,
            depth: random.uniform(-0.12, 0.08),
            width: random.uniform(0.6, 1.5),
          }))
        : [],
    },
    articulation: voices.map(() => random.pick(item.articulations)),
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
  };
};
