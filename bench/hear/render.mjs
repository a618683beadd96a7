/**
 * One player's sound from what they play: each note by itself, measured, then laid into the player's track. Times are
 * those of the recording's own clock; the instants measured are written back into the notes.
 */
import { bankRate, held, nearest } from './bank.mjs';
import { measureNote } from './onset.mjs';

/** Cubic (Catmull-Rom) reading between samples; goes round in the steady part when the note is longer than its sample. */
const reader = (samples) => {
  const loopFrom = Math.round(1.2 * bankRate);
  const loopTo = Math.round((held - 0.15) * bankRate);
  const blend = Math.round(0.25 * bankRate);
  const plain = (at) => {
    const n = Math.floor(at);
    const f = at - n;
    const a = n > 0 ? samples[n - 1] : 0;
    const b = samples[n] ?? 0;
    const c = samples[n + 1] ?? 0;
    const d = samples[n + 2] ?? 0;
    return b + 0.5 * f * (c - a + f * (2 * a - 5 * b + 4 * c - d + f * (3 * (b - c) + d - a)));
  };
  return (at) => {
    if (at < loopTo - blend) return plain(at);
    const span = loopTo - blend - loopFrom;
    const over = (at - loopFrom) % span;
    // Blend the seam: the end of one round fades into the start of the next.
    if (over < blend) {
      const w = over / blend;
      return Math.sqrt(1 - w) * plain(loopFrom + span + over) + Math.sqrt(w) * plain(loopFrom + over);
    }
    return plain(loopFrom + over);
  };
};

const half = (x) => 0.5 - 0.5 * Math.cos(Math.PI * Math.min(1, Math.max(0, x)));

/**
 * A note's samples at `rate`. `segments` are the pitches it goes through ({midi, cents, seconds}); more than one is a
 * trill. `skip` begins in the steady part (a slurred note has no attack of its own).
 */
const noteSound = (bank, note, rate) => {
  const length = Math.max(0.03, note.sounding);
  const total = Math.round((length + note.release) * rate);
  const out = new Float32Array(total);
  const strong = note.level > -2;
  const gain = 10 ** (note.level / 20) * 0.12;
  let at = 0;
  note.segments.forEach((segment, s) => {
    const sample = nearest(bank, segment.midi + segment.cents / 100, strong);
    const read = reader(sample.samples);
    const ratio = 2 ** ((segment.midi + segment.cents / 100 - sample.midi) / 12);
    // Within a trill the tone goes on: every later pitch starts in the steady part, with a short cross-fade.
    let position = s > 0 || note.slurredFrom ? 0.35 * bankRate : 0;
    const from = Math.round(at * rate);
    const overlap = 0.008;
    const last = s === note.segments.length - 1;
    const until = last ? total : Math.min(total, Math.round((at + segment.seconds + overlap) * rate));
    for (let n = from; n < until; n += 1) {
      const t = n / rate;
      const vibrato =
        note.vibrato.cents *
        half(t / 0.35) *
        Math.sin(2 * Math.PI * note.vibrato.hz * t + note.vibrato.phase);
      let shape = 1;
      if (s > 0) shape *= Math.sqrt(half((t - at) / overlap));
      if (!last) shape *= Math.sqrt(1 - half((t - at - segment.seconds) / overlap));
      out[n] += shape * gain * sample.gain * read(position);
      position += (ratio * 2 ** (vibrato / 1200) * bankRate) / rate;
    }
    at += segment.seconds;
  });
  const fadeIn = note.slurredFrom ? note.slurSeconds : note.attack;
  for (let n = 0; n < total; n += 1) {
    const t = n / rate;
    // Slurs fade in equal power, so that the middle is where old and new tone are equally strong.
    const rise = note.slurredFrom ? Math.sin((Math.PI / 2) * Math.min(1, t / fadeIn)) : half(t / fadeIn);
    const fall = t > length ? Math.cos((Math.PI / 2) * Math.min(1, (t - length) / note.release)) : 1;
    out[n] *= rise * fall;
  }
  return out;
};

/**
 * Renders a part. `notes` by time with `fileTime` (the instant at which the note is meant to be heard to begin, in the
 * recording's clock). Fills in `physical`, `perceived`, `end` (seconds, recording's clock) and answers the track.
 */
export const renderPart = (bank, notes, rate, seconds) => {
  const track = new Float32Array(Math.ceil(seconds * rate));
  // From the last to the first, for a note ends where the next begins.
  let next = null;
  for (const note of notes.filter((one) => one.state !== 'missing').toReversed()) {
    let sounding = note.fileLength;
    const chord = next !== null && Math.abs(next.fileTime - note.fileTime) < 0.004;
    if (next !== null && !chord) {
      if (next.slurredFrom) sounding = next.begin - note.fileTime;
      else sounding = Math.min(sounding, Math.max(0.04, next.begin - note.fileTime - 0.004));
    } else if (chord) sounding = Math.min(sounding, next.soundingFromBeat);
    note.release = next !== null && next.slurredFrom && !chord ? next.slurSeconds : note.plainRelease;
    // The attack before the perceived beat belongs to the length: found by rendering the beginning first.
    let lead = 0;
    if (!note.slurredFrom) {
      const trial = noteSound(bank, { ...note, sounding: Math.max(sounding, 0.05) }, rate);
      lead = (measureNote(trial, rate)?.perceived ?? 0) / rate;
    } else lead = note.slurSeconds / 2;
    const sound = noteSound(bank, { ...note, sounding: sounding + lead }, rate);
    const measured = measureNote(sound, rate);
    if (measured === null) throw new Error(`Note ${note.id} is silent.`);
    const beat = note.slurredFrom ? Math.round(lead * rate) : measured.perceived;
    const start = Math.round(note.fileTime * rate) - beat;
    for (let n = Math.max(0, -start); n < sound.length && start + n < track.length; n += 1)
      track[start + n] += sound[n];
    note.perceived = (start + beat) / rate;
    note.physical = note.slurredFrom ? note.perceived : (start + measured.physical) / rate;
    note.end =
      next !== null && next.slurredFrom && !chord
        ? next.perceived
        : (start + Math.max(measured.end, beat)) / rate;
    note.begin = note.slurredFrom ? start / rate : note.physical;
    note.soundingFromBeat = sounding;
    next = note;
  }
  return track;
};
