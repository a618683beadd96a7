/**
 * Makes takes through one microphone and writes what the network is told of each note, with the truth, for fit.py:
 *
 *     npm run build && node training/mix/sounds.mjs bank && node training/mix/music.mjs quartets.json 400
 *     node training/mix/gather.mjs fit OUT --items 400 [--from 0] [--share 1/2]
 *     node training/mix/gather.mjs check OUT
 *
 * `--again`: for the second network, which knows what the first has heard; by takes that the first was not fitted to (`--from 1000`).
 * OUT.bin holds the rows as bytes, OUT.jsonl one line a note. `--build FOLDER`: another build than dist. `--keep FOLDER`: also keeps each
 * mixture's sound (32-bit floats at 22,050 Hz) and notes, for trying the reading on them.
 */
import { appendFileSync, mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { playItem } from '../../bench/hear/item.mjs';
import { seeded } from '../../bench/hear/random.mjs';
import { musicFor, quartetsFrom } from './music.mjs';
import { checkItems, coarseTimes, fittingItem, heardMix, mixesFor, voicesFor } from './takes.mjs';
import { soundsFrom } from './voices.mjs';

const { values: given, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    build: { type: 'string', default: fileURLToPath(new URL('../../dist', import.meta.url)) },
    items: { type: 'string', default: '120' },
    from: { type: 'string', default: '0' },
    share: { type: 'string', default: '1/1' },
    sounds: { type: 'string', default: 'bank' },
    quartets: { type: 'string', default: 'quartets.json' },
    round: { type: 'string', default: 'check' },
    keep: { type: 'string' },
    again: { type: 'boolean', default: false },
  },
});
const [kind, out] = positionals;
const from = (name) => import(path.resolve(given.build, name));
const { heardAround, hearOthers, reach, topOf, rowCount } = await from('listen/mix/features.js');
const { scoreView, scoreRows } = await from('listen/mix/featuresScore.js');
const heardRows = rowCount - scoreRows;
const { beliefsAround, middleOf, placed } = await from('listen/mix/beliefs.js');
const { refine } = given.again ? await from('listen/mix/refine.js') : { refine: null };
const { wholeSound } = await from('listen/mix/featuresWhole.js');
const { listeningRate } = await from('listen/model.js');
const { resampled } = await from('listen/resample.js');

/** Frames on each side that are kept beyond those shown, so that fitting can move the note: 100 ms. */
const room = kind === 'fit' ? 25 : 0;
const each = reach + room;
const median = (values) => values.toSorted((a, b) => a - b)[values.length >> 1] ?? 0;
const hertzOf = (midi, cents) => 440 * 2 ** ((midi - 69 + cents / 100) / 12);
const middle = ({ rows, frames }) => {
  const width = 2 * reach + 1;
  const shown = new Float32Array(heardRows * width);
  for (let row = 0; row < heardRows; row += 1)
    shown.set(rows.subarray(row * frames + room, row * frames + room + width), row * width);
  return { rows: shown, frames: width };
};

/** Bytes: partials and levels in half dB above 70 dB below the row group's highest, suddenness in 120ths, novelty in 240ths. */
const packedHeard = ({ rows, frames }, tops) => {
  const bytes = new Uint8Array(heardRows * frames);
  for (let row = 0; row < heardRows; row += 1) {
    const group = row < heardRows - 5 ? 0 : row - (heardRows - 5) + 1;
    for (let f = 0; f < frames; f += 1) {
      const value = rows[row * frames + f];
      const scaled = group < 4 ? 2 * (value - tops[group] + 70) : group === 4 ? 120 * value : 240 * value;
      bytes[row * frames + f] = Math.max(0, Math.min(255, Math.round(scaled)));
    }
  }
  return bytes;
};
/** In takes for fitting, now and then the score has another pitch than was played: then there is nothing to be found. */
const exchanged = (note, dice) => {
  if (kind !== 'fit' || !dice.chance(0.07)) return note;
  const step = dice.pick([-5, -3, -2, -1, 1, 2, 3, 5]);
  return { ...note, midi: note.midi + step, hertz: note.hertz * 2 ** (step / 12), absent: true };
};
const highestOf = (rows, from, to) => rows.subarray(from, to).reduce((a, b) => Math.max(a, b), -200);

const gather = (item) => {
  const made = musicFor(item, quartets);
  if (made === null) return 'left out';
  const random = seeded(`${item.seed}/mix`);
  const { timeline } = made;
  const voices = voicesFor(item, sounds, random.fork('voices'));
  const played = playItem(item, timeline, voices.bankFor, made.marks);
  const pad = 1;
  let count = 0;
  mixesFor(item, played.partIds.length, random.fork('mixes')).forEach((mix, m) => {
    const dice = random.fork(`mix ${m}`);
    const clicks = timeline.clicks.map(({ time }) => time + pad);
    const sound = heardMix(item, played.tracks, mix, clicks, dice);
    const signal = resampled(sound, item.rate, listeningRate);
    const those = played.notes
      .filter((note) => mix.parts.includes(played.partIds.indexOf(note.part)) && note.state !== 'added')
      .map((note) => ({ ...note, midi: note.writtenMidi ?? note.midi }));
    const times = coarseTimes(
      those.filter((note) => note.state === 'played'),
      dice.fork('coarse'),
      given.again && item.row === undefined ? 1.4 : 1,
    );
    const cents =
      1200 * Math.log2(item.tuning.a / 440) +
      (item.row === undefined ? 4 * dice.normal() : 2 * dice.normal());
    const told = item.row !== undefined || dice.chance(0.75);
    const nearest = (w) => times.get(w) ?? w + median([...times].map(([a, b]) => b - a));
    const ends = new Map();
    const stretch =
      ([...times.values()].at(-1) - times.values().next().value) /
      Math.max(0.1, [...times.keys()].at(-1) - times.keys().next().value);
    const written = new Map(timeline.notes.map((note) => [note.id, note]));
    const before = new Map();
    const notes = those
      .toSorted((a, b) => a.written - b.written || a.midi - b.midi)
      .map((note) => {
        const last = before.get(note.part);
        before.set(note.part, note);
        return {
          part: mix.parts.indexOf(played.partIds.indexOf(note.part)),
          id: note.id,
          midi: note.midi,
          hertz: hertzOf(note.midi, cents),
          written: note.written,
          time: nearest(note.written),
          spread: 0.03,
          length: stretch * (written.get(note.id)?.duration ?? 0.3),
          slurred: told && (dice.chance(0.1) ? !note.slurredFrom : note.slurredFrom === true),
          repeated: last?.midi === note.midi,
          level: null,
          found: true,
          truth: note,
        };
      })
      .map((note) => exchanged(note, dice))
      .sort((a, b) => a.time - b.time);
    const heardClicks = mix.clickDb === null ? new Float64Array(0) : Float64Array.from(clicks);
    const whole = wholeSound(signal);
    const answers = refine === null ? [] : refine(signal, notes, { cents, clicks: heardClicks, rounds: 0 });
    const sought = notes.map((note, k) =>
      (answers[k] ?? null) === null ? note : { ...note, time: middleOf(answers[k]) },
    );
    const known = refine === null ? notes : placed(notes, answers);
    const heard = sought.map((note) => heardAround(signal, whole, note.hertz, note.time, each));
    hearOthers(heard, sought);
    const tops = heard.map((one) => topOf(middle(one)));
    const usualTop = median(tops);
    if (given.keep !== undefined) {
      mkdirSync(given.keep, { recursive: true });
      const name = `${item.name}-${m}`;
      writeFileSync(
        path.join(given.keep, `${name}.f32`),
        new Uint8Array(signal.buffer, signal.byteOffset, signal.byteLength),
      );
      writeFileSync(
        path.join(given.keep, `${name}.json`),
        JSON.stringify({ row: item.row, item: item.name, cents, clicks: [...heardClicks], notes }),
      );
    }
    const chunks = [];
    const lines = [];
    notes.forEach((note, k) => {
      const { truth } = note;
      if (truth.state !== 'played') return;
      const { rows, frames } = heard[k];
      const levels = heardRows - 5;
      const groups = [
        highestOf(rows, 0, levels * frames),
        highestOf(rows, levels * frames, (levels + 1) * frames),
        highestOf(rows, (levels + 1) * frames, (levels + 2) * frames),
        Math.max(-120, highestOf(rows, (levels + 2) * frames, (levels + 3) * frames)),
      ];
      const { time } = sought[k];
      const score = scoreView(known, k, heardClicks, each, time);
      const bytes = (rows) => Uint8Array.from(rows, (x) => Math.round(120 * x));
      chunks.push(packedHeard(heard[k], groups), bytes(score.rows));
      if (refine !== null) chunks.push(bytes(beliefsAround(known, answers, k, time, each)));
      lines.push(
        JSON.stringify({
          item: item.name,
          mix: m,
          row: item.row ?? null,
          part: note.part,
          parts: mix.parts.length,
          id: note.id,
          sound: voices.names[played.partIds.indexOf(truth.part)],
          time,
          absent: note.absent === true,
          written: truth.written,
          perceived: truth.perceived,
          physical: truth.physical,
          slurred: truth.slurredFrom === true,
          repeated: note.repeated,
          tops: groups,
          usualTop,
          known: [...score.known].map((x) => Math.round(x * 1e4) / 1e4),
        }),
      );
      count += 1;
    });
    appendFileSync(`${out}.bin`, Buffer.concat(chunks));
    appendFileSync(`${out}.jsonl`, `${lines.join('\n')}\n`);
  });
  return `${count} notes: ${voices.names.join(', ')}`;
};

const sounds = soundsFrom(given.sounds);
const quartets = quartetsFrom(given.quartets);
const [share, shares] = given.share.split('/').map(Number);
const list =
  kind === 'fit'
    ? Array.from({ length: Number(given.items) }, (_, n) => fittingItem(Number(given.from) + n))
    : checkItems(given.round);
writeFileSync(`${out}.bin`, '');
writeFileSync(`${out}.jsonl`, '');
for (const item of list.filter((_, n) => n % shares === share - 1)) {
  let said;
  try {
    said = gather(item);
  } catch (error) {
    said = `failed: ${error.message}`;
  }
  console.log(`${item.name}: ${said}`);
}
