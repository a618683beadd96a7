/** What an ear's reading says beyond onsets, held against the truth: clocks, ends of notes, states, its own figures. */
import { matching, mean, median, quantile } from './metrics.mjs';

/** `reading` is levare.reading/3. Seconds, but for what the reading itself gives in other units. */
export const scoreReading = (truth, reading) => {
  const played = new Map(
    truth.notes.filter((note) => note.state === 'played').map((note) => [note.id, note]),
  );
  const clock = [];
  if (truth.clicksHeard)
    for (const one of reading.clock ?? []) {
      const true_ = truth.clock.find((other) => other.part === one.part) ?? truth.clock[0];
      clock.push({
        offset: one.offset - true_.offset,
        ppm: one.ppm - true_.ppm,
        inside95: Math.abs(one.offset - true_.offset) <= 1.96 * one.offsetError ? 1 : 0,
        // How far the worse end of the music is misplaced: what offset and rate come to together.
        worst: worst(one, true_, truth),
      });
    }
  const ends = reading.notes
    .filter(
      (note) => note.state === 'heard' && note.offset !== null && played.get(note.id)?.offset !== undefined,
    )
    .map((note) => note.offset - note.onset - length(played.get(note.id)));
  const stated = (state, said) => {
    const there = truth.notes.filter((note) => note.state === state).map(({ id }) => id);
    const called = new Set(reading.notes.filter((note) => said.includes(note.state)).map(({ id }) => id));
    return { said: there.filter((id) => called.has(id)).length, of: there.length };
  };
  const added = truth.parts.map(({ id }) => {
    const there = truth.notes
      .filter((note) => note.part === id && note.state === 'added')
      .map((note) => note.time.drill);
    const said = (reading.added ?? []).filter(({ part }) => part === id).map(({ time }) => time);
    const ascending = (list) => list.toSorted((a, b) => a - b);
    return {
      there: there.length,
      said: said.length,
      both: matching(ascending(there), ascending(said), 0.1).length,
    };
  });
  return {
    clock,
    ends,
    missing: stated('missing', ['missing']),
    missingOrUnsure: stated('missing', ['missing', 'unsure']),
    falselyMissing: stated('played', ['missing']),
    wrong: stated('wrong', ['wrong', 'unsure', 'missing']),
    added,
    pairs: figures(truth, reading),
    ...sides(truth, reading),
  };
};

/** Notes of a player on one side of a seam. */
const side = 4;

/**
 * What a seam's sides would say: of every four notes of a player in a row, by how much they are louder than that player's others (dB), and how long
 * they sound in shares of the time to the player's next note; said less true. Notes that carry no such figure are left out.
 */
const sides = (truth, reading) => {
  const levels = [];
  const lengths = [];
  for (const { id: part } of truth.parts) {
    const played = truth.notes.filter((note) => note.part === part && note.state === 'played');
    const said = new Map(reading.notes.map((note) => [note.id, note]));
    const off = (note) => {
      const heard = said.get(note.id);
      return heard?.state === 'heard' && heard.level !== null && Number.isFinite(note.db)
        ? heard.level - note.db
        : null;
    };
    const all = played.map(off).filter((value) => value !== null);
    const usual = mean(all);
    const ratio = (note, k) => {
      const [heard, next] = [said.get(note.id), played[k + 1]];
      const after = next === undefined ? undefined : said.get(next.id);
      if (heard?.state !== 'heard' || after?.state !== 'heard' || heard.offset === null) return null;
      const to = next.perceived.drill - note.perceived.drill;
      if (to < 0.05 || next.written - note.written > 2) return null;
      const true_ = (note.offset.drill - note.perceived.drill) / to;
      return (heard.offset - heard.perceived) / (after.perceived - heard.perceived) - true_;
    };
    for (let k = 0; k + side <= played.length; k += side) {
      const some = played.slice(k, k + side);
      const level = some.map(off).filter((value) => value !== null);
      if (level.length >= 2 && all.length >= 2 * side) levels.push(mean(level) - usual);
      const length = some.map((note, n) => ratio(note, k + n)).filter((value) => value !== null);
      if (length.length >= 2) lengths.push(mean(length));
    }
  }
  return { levels, lengths };
};

const length = (note) => note.offset.drill - note.time.drill;

const worst = (said, true_, truth) => {
  const times = truth.notes.filter((note) => note.time !== undefined).map((note) => note.time.drill);
  const inFile = (clock, time) => clock.offset + (1 + clock.ppm * 1e-6) * time;
  return Math.max(
    ...[Math.min(...times), Math.max(...times)].map((time) =>
      Math.abs(inFile(said, time) - inFile(true_, time)),
    ),
  );
};

/**
 * The reading's own mean asynchrony of each pair against the truth over all shared places, by the perceived beat (what
 * the reading says that it compares), in milliseconds; and whether its 95 % interval covers it.
 */
const figures = (truth, reading) => {
  const out = [];
  for (const pair of reading.pairs ?? []) {
    if (pair.mean === null || pair.mean === undefined || !truth.clicksHeard) continue;
    const [one, two] = pair.parts.map(
      (part) =>
        new Map(
          truth.notes
            .filter((note) => note.part === part && note.state === 'played')
            .map((note) => [`${note.rep}/${note.written}`, note.perceived.drill]),
        ),
    );
    const away = [...one].filter(([at]) => two.has(at)).map(([at, time]) => 1000 * (time - two.get(at)));
    if (away.length < 5) continue;
    const true_ = mean(away);
    const { value, low, high } = pair.mean;
    const interval = low !== null && high !== null;
    out.push({
      error: value - true_,
      inside95: interval ? (true_ >= low && true_ <= high ? 1 : 0) : null,
      width95: interval ? high - low : null,
    });
  }
  return out;
};

const shown = (value, digits = 1) => (Number.isFinite(value) ? value.toFixed(digits) : '');
const greatest = (values) => values.reduce((most, value) => Math.max(most, value), -Infinity);

const columns = [
  ['files', ({ clock }) => `${clock.length}`],
  ['clock ms, median', ({ clock }) => shown(1000 * median(clock.map(({ offset }) => Math.abs(offset))), 2)],
  ['worst in the music', ({ clock }) => shown(1000 * greatest(clock.map(({ worst: most }) => most)), 2)],
  ['ppm, median', ({ clock }) => shown(median(clock.map(({ ppm }) => Math.abs(ppm))))],
  ['worst', ({ clock }) => shown(greatest(clock.map(({ ppm }) => Math.abs(ppm))))],
  ['clock 95 %', ({ clock }) => shown(100 * mean(clock.map(({ inside95 }) => inside95)), 0)],
  ['length ms, bias', ({ ends }) => shown(1000 * median(ends), 0)],
  ['median off', ({ ends }) => shown(1000 * median(ends.map((value) => Math.abs(value - median(ends)))), 0)],
  ['missing said', ({ missing }) => share(missing)],
  ['or unsure', ({ missingOrUnsure }) => share(missingOrUnsure)],
  ['falsely missing', ({ falselyMissing }) => share(falselyMissing)],
  ['wrong not taken for right', ({ wrong }) => share(wrong)],
  ['added said', ({ added }) => `${sum(added, 'both')}/${sum(added, 'there')}`],
  ['falsely added', ({ added }) => `${sum(added, 'said') - sum(added, 'both')}`],
  ['pair mean off, ms', ({ pairs }) => shown(mean(pairs.map(({ error }) => Math.abs(error))))],
  ['95 %', ({ pairs }) => shown(100 * mean(given(pairs, 'inside95')), 0)],
  ['width, ms', ({ pairs }) => shown(mean(given(pairs, 'width95')), 0)],
  ['side of a seam: level off, dB', ({ levels }) => shown(median(levels.map(Math.abs)))],
  ['p90', ({ levels }) => shown(quantile(levels.map(Math.abs), 0.9))],
  ['length off, share', ({ lengths }) => shown(median(lengths.map(Math.abs)), 3)],
  ['p90', ({ lengths }) => shown(quantile(lengths.map(Math.abs), 0.9), 3)],
  ['s a minute', ({ pace }) => shown(60 * mean(pace), 1)],
];

const share = ({ said, of }) => (of === 0 ? '' : `${said}/${of}`);
const sum = (list, key) => list.reduce((total, one) => total + one[key], 0);
const given = (list, key) => list.map((one) => one[key]).filter((value) => value !== null);

/** Markdown, by row. `extras` are answers of scoreReading with `row` and `pace` (seconds of work a second of sound). */
export const extrasTable = (extras) => {
  const rows = new Map();
  for (const one of extras) rows.set(one.row, [...(rows.get(one.row) ?? []), one]);
  const lines = [
    `| row | ${columns.map(([name]) => name).join(' | ')} |`,
    `| --- | ${columns.map(() => '---').join(' | ')} |`,
  ];
  for (const [row, members] of rows) {
    const flat = (key) => members.flatMap((one) => one[key]);
    const add = (key) =>
      members.reduce((total, one) => ({ said: total.said + one[key].said, of: total.of + one[key].of }), {
        said: 0,
        of: 0,
      });
    const pooled = {
      ...Object.fromEntries(
        ['clock', 'ends', 'added', 'pairs', 'pace', 'levels', 'lengths'].map((key) => [key, flat(key)]),
      ),
      ...Object.fromEntries(
        ['missing', 'missingOrUnsure', 'falselyMissing', 'wrong'].map((key) => [key, add(key)]),
      ),
    };
    lines.push(`| ${row} | ${columns.map(([, value]) => value(pooled)).join(' | ')} |`);
  }
  return lines.join('\n');
};
