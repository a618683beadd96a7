/** Makes one item on disk: the drill, one recording per player (or one of all), and the truth. See docs/hearing-bench.md. */
import { cpSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { threadId } from 'node:worker_threads';
import { bankOf } from './bank.mjs';
import { cache, digest, digestOf, folder } from './cache.mjs';
import { drillFor, readTimeline } from './drills.mjs';
import { instruments } from './instruments.mjs';
import { perform } from './performance.mjs';
import { seeded } from './random.mjs';
import { renderPart } from './render.mjs';
import { convolve, leaked, noise, onClock, response } from './room.mjs';
import { sources } from './sources.mjs';
import { readWav, writeWav } from './wav.mjs';

/** Silence before drill time 0 in the tracks, so that early entries are whole. */
const pad = 1;

const clamp = (value, low, high) => Math.min(high, Math.max(low, value));

/** How each note sounds: attack by register, strength and family; vibrato; pitch; slurs. */
const dress = (notes, item, p, zeroToOne, random) => {
  const { low, high, family } = instruments[item.voices[p]];
  const sounding = notes.filter((note) => note.state !== 'missing');
  sounding.forEach((note, k) => {
    const before = sounding[k - 1];
    const height = clamp((note.midi - low) / (high - low), 0, 1);
    const soft = clamp((2 - note.level) / 12, 0, 1);
    // Added to the source's own rise. Winds speak within tens of milliseconds, a soft low bow takes a tenth of a second
    // (rise times of 20 to 100 ms: Rasch 1979, Acustica 43:121, from memory).
    const [quick, slow] = family === 'wind' ? [0.008, 0.05] : [0.015, 0.11];
    note.slurredFrom =
      before !== undefined &&
      before.slurredToNext &&
      before.midi !== note.midi &&
      note.time - before.time < before.length * 1.6 + 0.15 &&
      note.time - before.time > 0.07;
    note.attack = Math.min(
      (quick + (slow - quick) * (0.6 * (1 - height) + 0.4 * soft)) * random.uniform(0.7, 1.3),
      0.4 * note.length,
    );
    note.slurSeconds = random.uniform(0.015, 0.04);
    note.plainRelease = family === 'wind' ? random.uniform(0.015, 0.03) : random.uniform(0.03, 0.07);
    const { a, driftCents } = item.tuning;
    const vibrato = item.vibrato[p];
    note.vibrato = {
      cents: note.length > 0.35 ? vibrato.cents : 0,
      hz: vibrato.hz,
      phase: random.uniform(0, 2 * Math.PI),
    };
    note.cents += 1200 * Math.log2(a / 440) + driftCents * zeroToOne(note.time);
    note.segments = [{ midi: note.midi, cents: note.cents, seconds: Infinity }];
    if (note.ornament === 'trill') {
      const beat = 1 / random.uniform(11, 15);
      const up = random.pick([1, 2]);
      const turns = Math.max(2, Math.floor(note.length / beat));
      note.segments = Array.from({ length: turns }, (_, n) => ({
        midi: note.midi + (n % 2) * up,
        cents: note.cents,
        seconds: beat,
      }));
      note.segments.at(-1).seconds = Infinity;
      note.vibrato.cents = 0;
    }
    note.fileTime = note.time + pad;
    note.fileLength = note.length;
  });
  return sounding;
};

const rms = (sound) => {
  let sum = 0;
  for (const value of sound) sum += value * value;
  return Math.sqrt(sum / Math.max(1, sound.length));
};

const add = (into, sound, gain, delay = 0) => {
  for (let n = delay; n < into.length && n - delay < sound.length; n += 1) into[n] += gain * sound[n - delay];
};

/** Tracks (each player alone, dry, on the drill's clock) and notes with measured instants. */
export const playItem = (item, timeline, bankFor, marks = {}) => {
  const partIds = [...new Set(timeline.notes.map((note) => note.part))].sort(
    (a, b) => Number(a.slice(1)) - Number(b.slice(1)) || (a < b ? -1 : 1),
  );
  const random = seeded(`${item.seed}/play`);
  const from = Math.min(...timeline.notes.map((note) => note.time));
  const to = Math.max(...timeline.notes.map((note) => note.time + note.duration));
  const group = {
    ...item.group,
    bends: item.group.bends.map((bend) => ({ ...bend, at: from + bend.share * (to - from) })),
  };
  const stop = item.stop ? whereToStop(timeline, from, to, random.fork('stop')) : null;
  const notes = perform(timeline, partIds, { ...item, ...item.mistakes, group, stop, marks }, random);
  const last = Math.max(...notes.map((note) => note.time + note.length));
  const seconds = last + 1.5 + pad;
  const tracks = partIds.map((part, p) => {
    const own = notes.filter((note) => note.part === part).sort((a, b) => a.time - b.time || a.midi - b.midi);
    const dressed = dress(
      own,
      item,
      p,
      (time) => clamp((time - from) / (last - from), 0, 1),
      random.fork(`dress ${p}`),
    );
    const gain = 10 ** ((item.balance[p] + instruments[item.voices[p]].db) / 20);
    return renderPart(bankFor(item.source, item.voices[p]), dressed, item.rate, seconds).map(
      (value) => value * gain,
    );
  });
  return { partIds, notes, tracks, seconds, stop };
};

/** Stops somewhere in the second third, and goes on from a bar line at most two bars earlier. */
const whereToStop = (timeline, from, to, random) => {
  const at = from + random.uniform(0.4, 0.7) * (to - from);
  const bars = [...new Map(timeline.notes.map((note) => [note.barIndex, note.time])).values()]
    .filter((time) => time < at - 0.3)
    .sort((a, b) => a - b);
  return { at, from: bars.at(random.pick([-1, -2, -2])) ?? bars[0], silence: random.uniform(1.2, 3) };
};

/** Recordings: what each microphone hears, on its own clock. */
export const recordItem = (item, { tracks, seconds }, click) => {
  const { rate } = item;
  const random = seeded(`${item.seed}/record`);
  const common = {
    offset: item.clickDb === null || random.chance(0.7) ? random.uniform(0.2, 4) : random.uniform(-0.9, 0),
    ppm: item.clock.ppm === 0 ? 0 : random.uniform(-1, 1) * item.clock.ppm,
  };
  const microphones = item.mics === 'one' ? [null] : tracks.map((_, p) => p);
  return microphones.map((p, m) => {
    const dice = random.fork(`microphone ${m}`);
    const clock =
      item.clock.shared || m === 0
        ? common
        : {
            offset: dice.uniform(0.2, 6),
            ppm: item.clock.ppm === 0 ? 0 : dice.pick([-1, 1]) * dice.uniform(0.4, 1) * item.clock.ppm,
          };
    const length = tracks[0].length;
    const near = new Float32Array(length);
    const far = new Float32Array(length);
    if (p === null) for (const track of tracks) add(near, track, 1);
    else {
      add(near, tracks[p], 1);
      if (item.neighbourDb !== null)
        tracks.forEach((track, q) => {
          // As loud against the own player as asked for, whatever both play; 1 to 3 m away (343 m/s).
          if (q === p) return;
          const gain =
            (10 ** (item.neighbourDb / 20) * rms(tracks[p])) /
            Math.max(1e-9, rms(track)) /
            Math.sqrt(tracks.length - 1);
          add(far, track, gain, Math.round((dice.uniform(1, 3) / 343) * rate));
        });
    }
    const music = rms(near);
    if (item.clickDb !== null) {
      // Click and music by their greatest 50 ms.
      const gain = (10 ** (item.clickDb / 20) * loudest(near, rate)) / Math.max(1e-9, loudest(click, rate));
      add(far, leaked(click, rate, dice.fork('leak')), gain, Math.round(pad * rate));
    }
    let sound = near;
    if (item.room === 'dry') add(sound, far, 1);
    else {
      sound = convolve(near, response(item.room, item.room === 'room' ? 10 : 6, rate, dice.fork('near')));
      add(sound, convolve(far, response(item.room, 0, rate, dice.fork('far'))), 1);
    }
    const whole = Math.max(1, seconds - pad + clock.offset + 0.5);
    const file = onClock(sound, rate, clock, -pad, whole);
    add(file, noise(file.length, dice.fork('noise')), music * 10 ** (-item.noiseDb / 20));
    let peak = 0;
    for (const value of file) peak = Math.max(peak, Math.abs(value));
    const level = 10 ** (dice.uniform(-14, -3) / 20) / Math.max(1e-9, peak);
    return { part: p, clock, samples: file.map((value) => value * level) };
  });
};

const loudest = (sound, rate) => {
  const window = Math.round(rate * 0.05);
  let most = 0;
  for (let from = 0; from + window <= sound.length; from += window)
    most = Math.max(most, rms(sound.subarray(from, from + window)));
  return most;
};

const round = (value, digits = 6) => Number(value.toFixed(digits));

/** levare.truth/1. */
export const truthOf = (item, { partIds, notes, stop }, recordings, clicks = []) => {
  const clocks = recordings.map((recording) => ({
    file: `${recording.part === null ? 'mix' : partIds[recording.part]}.wav`,
    part: recording.part === null ? null : partIds[recording.part],
    offset: round(recording.clock.offset),
    ppm: round(recording.clock.ppm, 3),
  }));
  const clockOf = (part) => clocks.find((clock) => clock.part === part) ?? clocks[0];
  return {
    format: 'levare.truth/1',
    item: item.name,
    half: item.half,
    row: item.row,
    seed: item.seed,
    source: item.source,
    parts: partIds.map((id, p) => ({ id, instrument: item.voices[p] })),
    clicksHeard: item.clickDb !== null,
    clicks: item.clickDb === null ? [] : clicks.map(({ time }) => round(time)),
    clock: clocks,
    notes: notes
      .toSorted((a, b) => a.time - b.time)
      .map((note) => {
        const { offset, ppm } = clockOf(note.part);
        const both = (inTrack) => {
          const drill = inTrack - pad;
          return { drill: round(drill), file: round(offset + (1 + ppm * 1e-6) * drill) };
        };
        const head = {
          id: note.id,
          part: note.part,
          rep: note.rep,
          written: round(note.written),
          state: note.state,
        };
        if (note.state === 'missing') return head;
        return {
          ...head,
          midi: note.midi,
          cents: round(note.cents, 1),
          time: both(note.physical),
          perceived: both(note.perceived),
          offset: both(note.end),
          slurred: note.slurredFrom,
          ornament: note.ornament,
          db: round(note.level, 1),
        };
      }),
    stop: stop === null ? null : { at: round(stop.at), from: round(stop.from), silence: round(stop.silence) },
    condition: item,
  };
};

const generator = [
  ...[
    'random',
    'wav',
    'onset',
    'midi',
    'instruments',
    'bank',
    'sources',
    'performance',
    'pitch',
    'render',
    'room',
    'item',
    'lines',
    'drills',
  ],
].map((name) => `${name}.mjs`);

/** Folder of the item, made where it is not there yet; null and a reason where something it needs is absent. */
export const makeItem = (item, { fresh = false } = {}) => {
  if (!sources[item.source].present()) return { at: null, reason: `needs ${sources[item.source].needs}` };
  const made = drillFor(item);
  if (made === null) return { at: null, reason: 'the shared quartets are not beside the project' };
  const { at: drill, marks } = made;
  const key = digest(
    digestOf(generator),
    sources[item.source].version(),
    path.basename(drill),
    JSON.stringify(item),
  );
  const at = path.join(folder('items'), `${item.name}-${key}`);
  if (!fresh && existsSync(path.join(at, 'truth.json'))) return { at, reason: null };
  for (const old of readdirSync(path.join(cache, 'items')))
    if (old.startsWith(`${item.name}-`))
      rmSync(path.join(cache, 'items', old), { recursive: true, force: true });
  const making = `${at}.${process.pid}-${threadId}`;
  mkdirSync(path.join(making, 'takes'), { recursive: true });
  cpSync(drill, path.join(making, 'drill'), { recursive: true });
  const timeline = readTimeline(drill);
  const played = playItem(item, timeline, bankOf, marks);
  const click = readWav(path.join(drill, 'click.wav'));
  if (click.rate !== item.rate)
    throw new Error(`The click track of ${item.name} is at ${click.rate} Hz, not ${item.rate}.`);
  const recordings = recordItem(item, played, click.samples);
  const truth = truthOf(item, played, recordings, timeline.clicks);
  recordings.forEach((recording, m) =>
    writeWav(path.join(making, 'takes', truth.clock[m].file), recording.samples, item.rate, item.bits),
  );
  writeFileSync(path.join(making, 'truth.json'), `${JSON.stringify(truth, null, 1)}\n`);
  renameSync(making, at);
  return { at, reason: null };
};
