/**
 * How an ensemble plays a drill: when each player plays each note, how long, how strongly, what goes wrong.
 *
 * Timing. All players go through the group's positions (the distinct times at which anybody has a note). From one
 * position to the next a player's time moves by the notated interval, with noise of an inner clock and of the hand
 * (Wing and Kristofferson 1973, Perception & Psychophysics 14:5), and is drawn to the other players by first-order
 * phase correction (Wing et al. 2014, Front Psychol 5:1115: gains about 0.25 in a quartet) and, where a click sounds,
 * to the click. The result is scaled so that each player's deviations have the spread asked for; lead, tempo and
 * drift are laid over it.
 */

const mean = (values) => values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
const spread = (values) => {
  const middle = mean(values);
  return Math.sqrt(mean(values.map((value) => (value - middle) ** 2)));
};

/** Deviation in seconds by player and position; each player's SD over the piece is `sd[player]`. */
export const deviations = (positions, players, { sd, towardsOthers = 0.2, towardsClick = 0.15 }, random) => {
  const away = players.map(() => new Float64Array(positions.length));
  const inner = players.map((_, p) => random.fork(`clock ${p}`));
  const hand = players.map((_, p) => random.fork(`hand ${p}`));
  const state = players.map(() => 0);
  let before = players.map(() => 0);
  for (let k = 0; k < positions.length; k += 1) {
    const interval = k === 0 ? 0.5 : Math.min(2, positions[k] - positions[k - 1]);
    const shown = state.map((value, p) => value + 0.45 * hand[p].normal());
    const middle = mean(before);
    // Gains are per interval of half a second, so that many short notes correct no faster than few long ones.
    const share = Math.min(1, interval / 0.5);
    for (let p = 0; p < players.length; p += 1) {
      away[p][k] = shown[p];
      const others = players.length > 1 ? ((before[p] - middle) * players.length) / (players.length - 1) : 0;
      state[p] +=
        Math.sqrt(share) * inner[p].normal() * 0.6 -
        share * (towardsOthers * others + towardsClick * state[p]);
    }
    before = shown;
  }
  return away.map((values, p) => {
    const middle = mean([...values]);
    const scale = sd[p] / Math.max(1e-9, spread([...values]));
    return values.map((value) => (value - middle) * scale);
  });
};

/**
 * The group's own time for each notated time: tempo factor, linear drift in percent a minute, local bends, and a
 * slowing at the end. With a click it stays the notated time. `from` is where the music starts.
 */
export const groupTime = ({ tempo = 1, driftPercent = 0, bends = [], from = 0, to = 1 }) => {
  const step = 0.01;
  const count = Math.ceil((to - from) / step) + 2;
  const table = new Float64Array(count);
  for (let k = 1; k < count; k += 1) {
    const at = (k - 0.5) * step;
    let rate = tempo * (1 + ((driftPercent / 100) * at) / 60);
    for (const bend of bends)
      rate *= 1 + bend.depth * Math.exp(-0.5 * ((from + at - bend.at) / bend.width) ** 2);
    table[k] = table[k - 1] + step / rate;
  }
  return (time) => {
    if (time <= from) return time;
    const k = Math.min(count - 2, Math.floor((time - from) / step));
    return from + table[k] + ((time - from) / step - k) * (table[k + 1] - table[k]);
  };
};

/** Slow swelling and fading, in dB: `depth` either way, `period` seconds. */
const swell = ({ depth, period, phase }, time) => depth * Math.sin(2 * Math.PI * (time / period + phase));

/** Notes of a part by time; notes struck together (a double stop) are one position. */
const byTime = (notes) => notes.toSorted((a, b) => a.time - b.time || (a.midi ?? 0) - (b.midi ?? 0));

/**
 * What is played. `condition` as in items.mjs; the answer's times are in drill seconds. Notes that belong to a first
 * attempt before a restart are "abandoned"; those not played are "missing".
 */
export const perform = (timeline, partIds, condition, random) => {
  const written = timeline.notes.filter((note) => note.kept !== false && note.midi !== null);
  const positions = [...new Set(written.map((note) => note.time))].sort((a, b) => a - b);
  const index = new Map(positions.map((time, k) => [time, k]));
  const away = deviations(positions, partIds, condition, random.fork('deviations'));
  const curve = groupTime({
    ...condition.group,
    from: positions[0],
    to: positions.at(-1) + 1,
  });
  const played = [];
  partIds.forEach((part, p) => {
    const dice = random.fork(`part ${part}`);
    const notes = byTime(written.filter((note) => note.part === part));
    let last = -Infinity;
    let lastWritten = null;
    const place = new Map();
    notes.forEach((note, k) => {
      let time = curve(note.time) + condition.lead[p] + away[p][index.get(note.time)];
      if (note.time === lastWritten) time = last;
      else time = Math.max(time, last + 0.05);
      last = time;
      lastWritten = note.time;
      const next = notes.find((other, j) => j > k && other.time > note.time + 1e-6);
      const follows = next !== undefined && Math.abs(note.time + note.duration - next.time) < 0.02;
      const articulation = condition.articulation[p];
      // Slurs are played as written, but for one in ten; where it is not known what is written, legato players slur.
      const marked = condition.marks?.[part]?.[place.get(note.rep) ?? 0];
      place.set(note.rep, (place.get(note.rep) ?? 0) + 1);
      const meant = marked === undefined ? dice.chance(0.8) : dice.chance(0.9) && marked.slurredToNext;
      const slurred = articulation === 'legato' && follows && next.midi !== note.midi && meant;
      played.push({
        id: note.id,
        part,
        rep: note.rep,
        barIndex: note.barIndex,
        written: note.time,
        time,
        // Sounding length as a share of the notated one: detached about a half, else nearly whole.
        length:
          (curve(note.time + note.duration) - curve(note.time)) *
          (articulation === 'detached' ? dice.uniform(0.4, 0.6) : dice.uniform(0.85, 0.98)),
        midi: note.midi,
        cents: 5 * dice.normal(),
        level: dice.uniform(-4, 0) + swell(condition.dynamics, note.time),
        slurredToNext: slurred,
        ornament: marked?.trill === true ? 'trill' : null,
        state: 'played',
      });
    });
  });
  return mistakes(restart(played, condition), condition, random.fork('mistakes'));
};

/** Stopping at a notated time, a silence, and again from an earlier one. */
const restart = (played, { stop }) => {
  if (stop === null || stop === undefined) return played;
  const first = played.filter((note) => note.written < stop.at);
  const again = played.filter((note) => note.written >= stop.from);
  const shift =
    Math.max(...first.map((note) => note.time)) + stop.silence - Math.min(...again.map((note) => note.time));
  return [
    ...first.map((note) => (note.written >= stop.from ? { ...note, state: 'abandoned' } : note)),
    ...again.map((note) => ({ ...note, time: note.time + shift })),
  ];
};

/** Wrong pitches, notes left out, notes added between. */
const mistakes = (played, { wrong = 0, missing = 0, added = 0 }, random) => {
  const out = [];
  let extra = 0;
  for (const note of played) {
    if (note.state === 'abandoned') out.push(note);
    else if (random.chance(missing)) out.push({ ...note, state: 'missing', slurredToNext: false });
    else if (random.chance(wrong))
      out.push({
        ...note,
        midi: note.midi + random.pick([-2, -1, 1, 2, 3]),
        writtenMidi: note.midi,
        state: 'wrong',
      });
    else out.push(note);
    if (
      note.state === 'played' &&
      out.at(-1).state !== 'missing' &&
      note.length > 0.3 &&
      random.chance(added)
    ) {
      extra += 1;
      const share = random.uniform(0.4, 0.6);
      const last = out.at(-1);
      const { ornament, ...same } = last;
      out.push({
        ...same,
        id: `added-${extra}`,
        ornament: null,
        state: 'added',
        time: note.time + share * note.length,
        length: (1 - share) * note.length,
        midi: note.midi + random.pick([-2, 0, 2]),
      });
      out[out.length - 2] = { ...last, ornament: null, length: share * note.length, slurredToNext: false };
    }
  }
  return out;
};
