/** Holds one reading of one item against the truth. All in seconds of drill time. */
import { driftPercent, matching, mean, median } from './metrics.mjs';

const reach = 0.15;

/**
 * `reading`: {notes: [{id, part, onset, sd?, within68?, within95?, state}], events?: {part: [seconds]}}. A note
 * without an onset, or called unsure or missing, counts as not found; one called rough counts as found, and no asynchrony is taken from it. `events` are what a score-blind detector found
 * (then `notes` only serve the errors). `field` says which truth is meant: `time` (physical) or `perceived`.
 */
export const scoreItem = (truth, reading, field = 'time') => {
  const oneMicrophone = truth.clock.length === 1 && truth.clock[0].part === null;
  const shifts = zeroShifts(truth, reading, field);
  const said = new Map(reading.notes.map((note) => [note.id, note]));
  const value = (note) => note.onset - shifts.get(note.part);
  const result = {
    notes: 0,
    unsure: 0,
    counts: Object.fromEntries(
      ['25', '50', '25raw', '50raw'].map((key) => [key, { hits: 0, references: 0, estimates: 0 }]),
    ),
    errors: [],
    rawErrors: [],
    inside68: [],
    inside95: [],
    width95: [],
    pairs: [],
    states: stateCounts(truth, said),
    drift: NaN,
  };
  const taken = new Map();
  const biases = new Map();
  for (const { id: part } of truth.parts) {
    const own = truth.notes.filter((note) => note.part === part);
    const attempts = groupBy(
      own.filter((note) => ['played', 'abandoned'].includes(note.state)),
      (note) => note.id,
    );
    const errors = [];
    for (const [id, tries] of attempts) {
      if (!tries.some((note) => note.state === 'played')) continue;
      result.notes += 1;
      const heard = said.get(id);
      if (!sure(heard)) {
        result.unsure += 1;
        continue;
      }
      // Where a note was played twice because of a restart, either time is right.
      const chosen = tries.reduce((best, note) =>
        Math.abs(value(heard) - note[field].drill) < Math.abs(value(heard) - best[field].drill) ? note : best,
      );
      taken.set(id, chosen);
      errors.push({ id, error: value(heard) - chosen[field].drill, heard });
    }
    const near = errors.filter(({ error }) => Math.abs(error) <= reach).map(({ error }) => error);
    const bias = near.length === 0 ? 0 : median(near);
    biases.set(part, bias);
    for (const { error, heard } of errors) {
      result.rawErrors.push(error);
      result.errors.push(error - bias);
      interval(heard, error, result);
    }
  }
  const parts =
    oneMicrophone && reading.events ? [truth.parts.map(({ id }) => id)] : truth.parts.map(({ id }) => [id]);
  for (const group of parts)
    countEvents(truth, reading, { group, taken, biases, said, shifts, field }, result);
  result.pairs = pairs(truth, said, taken, field);
  const both = [...taken].filter(
    ([id]) => Math.abs(value(said.get(id)) - taken.get(id)[field].drill) < reach,
  );
  if (both.length > 10 && truth.stop === null) {
    const written = both.map(([id]) => taken.get(id).written);
    result.drift =
      driftPercent(
        written,
        both.map(([id]) => said.get(id).onset),
      ) -
      driftPercent(
        written,
        both.map(([, note]) => note[field].drill),
      );
  }
  return result;
};

const sure = (heard) =>
  heard !== undefined && Number.isFinite(heard.onset) && !['unsure', 'missing'].includes(heard.state);

/**
 * Where no click is in the recordings the drill's zero cannot be known, nor how one file lies to another: one constant
 * for each file is taken out.
 */
const zeroShifts = (truth, reading, field) => {
  const played = new Map(
    truth.notes.filter((note) => note.state === 'played').map((note) => [note.id, note]),
  );
  const fileOf = (part) => truth.clock.find((clock) => clock.part === part)?.file ?? truth.clock[0].file;
  const away = new Map();
  for (const note of reading.notes)
    if (sure(note) && played.has(note.id))
      away.set(fileOf(note.part), [
        ...(away.get(fileOf(note.part)) ?? []),
        note.onset - played.get(note.id)[field].drill,
      ]);
  const shift = (part) => (truth.clicksHeard || !away.has(fileOf(part)) ? 0 : median(away.get(fileOf(part))));
  return new Map(truth.parts.map(({ id }) => [id, shift(id)]));
};

const groupBy = (list, key) => {
  const out = new Map();
  for (const one of list) out.set(key(one), [...(out.get(key(one)) ?? []), one]);
  return out;
};

/** Coverage is of the raw error: an interval that needs its bias taken out first has not covered. */
const interval = (heard, error, result) => {
  const { sd } = heard;
  const within = (given, factor) =>
    given ?? (sd === undefined ? undefined : [heard.onset - factor * sd, heard.onset + factor * sd]);
  // Factors of the normal distribution.
  const narrow = within(heard.within68, 0.9945);
  const wide = within(heard.within95, 1.96);
  const true_ = heard.onset - error;
  if (narrow !== undefined) result.inside68.push(true_ >= narrow[0] && true_ <= narrow[1] ? 1 : 0);
  if (wide === undefined) return;
  result.inside95.push(true_ >= wide[0] && true_ <= wide[1] ? 1 : 0);
  result.width95.push(wide[1] - wide[0]);
};

const once = (times) =>
  times.toSorted((a, b) => a - b).filter((time, k, all) => k === 0 || time - all[k - 1] > 0.001);

const countEvents = (truth, reading, { group, taken, biases, said, shifts, field }, result) => {
  const own = truth.notes.filter((note) => group.includes(note.part));
  const playedIds = new Set(own.filter((note) => note.state === 'played').map((note) => note.id));
  const references = [...playedIds].map(
    (id) => (taken.get(id) ?? own.find((note) => note.id === id && note.state === 'played'))[field].drill,
  );
  // Sounds that are there but are not asked for, clicks among them: finding them is neither credit nor fault.
  const neutral = own
    .filter((note) => note.state !== 'missing' && taken.get(note.id) !== note)
    .map((note) => note[field].drill)
    .concat(truth.clicks ?? []);
  const neutralIds = new Set(own.filter((note) => note.state === 'wrong').map((note) => note.id));
  // In real recordings not every note need be annotated.
  const known = new Set(own.map((note) => note.id));
  const bias = group.length === 1 ? biases.get(group[0]) : median(group.map((part) => biases.get(part)));
  const raw = reading.events
    ? group.flatMap((part) => (reading.events[part] ?? []).map((time) => time - shifts.get(part)))
    : [...said.values()]
        .filter(
          (note) => group.includes(note.part) && sure(note) && known.has(note.id) && !neutralIds.has(note.id),
        )
        .map((note) => note.onset - shifts.get(note.part));
  const refs = reading.events ? once(references) : references.toSorted((a, b) => a - b);
  const found = reading.events ? once(raw) : raw.toSorted((a, b) => a - b);
  for (const [key, window, away] of [
    ['25', 0.025, bias],
    ['50', 0.05, bias],
    ['25raw', 0.025, 0],
    ['50raw', 0.05, 0],
  ]) {
    const estimates = found.map((time) => time - away);
    const matched = matching(refs, estimates, window);
    const used = new Set(matched.map(([, e]) => e));
    const spare = reading.events
      ? estimates.filter(
          (time, e) => !used.has(e) && neutral.some((other) => Math.abs(other - time) <= window),
        ).length
      : 0;
    result.counts[key].hits += matched.length;
    result.counts[key].references += refs.length;
    result.counts[key].estimates += estimates.length - spare;
  }
};

/** Asynchronies of every pair of parts at shared positions: first minus second. */
const pairs = (truth, said, taken, field) => {
  const out = [];
  const positions = groupBy([...taken.values()], (note) => `${note.rep}/${note.written}`);
  truth.parts.forEach((one, i) =>
    truth.parts.slice(i + 1).forEach((two) => {
      const x = [];
      const y = [];
      for (const notes of positions.values()) {
        const a = notes.find((note) => note.part === one.id);
        const b = notes.find((note) => note.part === two.id);
        if (a === undefined || b === undefined) continue;
        if ([a, b].some(({ id }) => said.get(id).state === 'rough')) continue;
        x.push(a[field].drill - b[field].drill);
        y.push(said.get(a.id).onset - said.get(b.id).onset);
      }
      // Without a click files have no common clock, so that the mean cannot be known.
      const known = truth.clicksHeard || truth.clock.length === 1;
      if (x.length >= 5) out.push({ x, y, meanError: known ? mean(y) - mean(x) : NaN });
    }),
  );
  return out;
};

/** Of the notes that were wrong or missing, how many were called so; of those played, how many were called otherwise. */
const stateCounts = (truth, said) => {
  const counts = { wrong: [0, 0], missing: [0, 0], falseAlarms: [0, 0] };
  for (const note of truth.notes) {
    const state = said.get(note.id)?.state;
    if (state === undefined) continue;
    if (note.state === 'wrong' || note.state === 'missing') {
      counts[note.state][1] += 1;
      if (state === note.state) counts[note.state][0] += 1;
    } else if (note.state === 'played') {
      counts.falseAlarms[1] += 1;
      if (state === 'wrong' || state === 'missing') counts.falseAlarms[0] += 1;
    }
  }
  return counts;
};
