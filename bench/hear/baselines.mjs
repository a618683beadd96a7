/**
 * What the ear is held against.
 * - null: every note where the drill expects it, on the true clock (kinder to it than a recovered one).
 * - curve: the tempo curve alone. Onsets of a score-blind detector are matched to the expected notes of the player by
 *   order, and a local line (LOESS, Cleveland 1979: tricube weights, robust second pass) is laid through them; notes are
 *   said to be on it. Where the playing is free the tempo and start are first searched for. On the true clock.
 * - aubio: the score-blind detector itself (aubioonset of Debian's aubio-tools), matched to the expected notes by order
 *   within 100 ms.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { digest, folder } from './cache.mjs';
import { matching, median, pairing } from './metrics.mjs';

export const aubioPresent = () => existsSync('/usr/bin/aubioonset');

/** Onsets in seconds of the file. A window of 23 ms; the other settings are aubio's own. */
const aubioOnsets = (file) => {
  // By the bytes, so that a changed recording is listened to again.
  const kept = path.join(folder('aubio'), `${digest(readFileSync(file))}.json`);
  if (existsSync(kept)) return JSON.parse(readFileSync(kept, 'utf8'));
  const out = execFileSync('/usr/bin/aubioonset', ['-r', '0', '-B', '1024', '-H', '256', '-i', file], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const times = out
    .toString()
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map(Number);
  writeFileSync(kept, JSON.stringify(times));
  return times;
};

/** Detected onsets by part, in drill seconds by the true clock. */
const eventsOf = (at, truth) => {
  const events = {};
  for (const clock of truth.clock) {
    const times = aubioOnsets(path.join(at, 'takes', clock.file)).map(
      (time) => (time - clock.offset) / (1 + clock.ppm * 1e-6),
    );
    for (const { id } of truth.parts) if (clock.part === null || clock.part === id) events[id] = times;
  }
  return events;
};

export const nullReading = (timeline) => ({
  notes: timeline.notes
    .filter((note) => note.kept !== false && note.midi !== null)
    .map((note) => ({ id: note.id, part: note.part, onset: note.time, state: 'played' })),
});

const tricube = (x) => (Math.abs(x) >= 1 ? 0 : (1 - Math.abs(x) ** 3) ** 3);

/** Local line through points (x, y) at `at`; `width` seconds either side, wider where fewer than six points lie in it. */
const loess = (points, at, width) => {
  const away = points.map((point) => Math.abs(point.x - at)).toSorted((a, b) => a - b);
  const reach = Math.max(width, (away[Math.min(5, away.length - 1)] ?? width) * 1.01);
  let [sw, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  for (const { x, y, weight } of points) {
    const w = weight * tricube((x - at) / reach);
    sw += w;
    sx += w * (x - at);
    sy += w * y;
    sxx += w * (x - at) ** 2;
    sxy += w * (x - at) * y;
  }
  const det = sw * sxx - sx * sx;
  if (sw <= 0) return 0;
  return det < 1e-9 ? sy / sw : (sxx * sy - sx * sxy) / det;
};

/**
 * Start, tempo and drift at which most expected notes of all parts meet an onset within 50 ms: a first guess of free
 * playing. Answers the map of notated to played time.
 */
const search = (parts, first) => {
  let best = { score: -1, map: (time) => time };
  const count = parts.reduce((sum, { expected }) => sum + expected.length, 0);
  const last = Math.max(...parts.map(({ expected }) => expected.at(-1)));
  for (let scale = 0.82; scale <= 1.2; scale += 0.0125)
    for (let bow = -0.02; bow <= 0.0201; bow += 0.01)
      for (let shift = -2; shift <= 2; shift += 0.05) {
        const map = (time) => {
          const share = (time - first) / Math.max(1, last - first);
          return first + shift + (time - first) * (scale + bow * (share - 0.5));
        };
        // In even runs every shift by a note meets as many onsets: the nearer guess is the likelier.
        let score = -count * (0.05 * Math.abs(shift) + 0.3 * Math.abs(scale - 1) + 0.5 * Math.abs(bow));
        for (const { expected, found } of parts) score += matching(expected.map(map), found, 0.05).length;
        if (score > best.score) best = { score, map };
      }
  return best.map;
};

export const curveReading = (timeline, at, truth, free) => {
  const events = eventsOf(at, truth);
  const all = nullReading(timeline).notes;
  const parts = truth.parts.map(({ id }) => {
    const own = all.filter((note) => note.part === id);
    const expected = [...new Set(own.map((note) => note.onset))].sort((a, b) => a - b);
    return { own, expected, found: events[id] };
  });
  const map = free ? search(parts, Math.min(...all.map((note) => note.onset))) : (time) => time;
  const notes = parts.flatMap(({ own, expected, found }) => {
    let guess = expected.map(map);
    for (const reach of [0.25, 0.15, 0.1, 0.1]) {
      const points = pairing(guess, found, reach).map(([r, e]) => ({
        x: guess[r],
        y: found[e] - guess[r],
        weight: 1,
      }));
      if (points.length < 4) break;
      const rest = points.map(({ x, y }) => y - loess(points, x, 2));
      const scaleOfRest = 6 * median(rest.map(Math.abs)) + 1e-6;
      points.forEach((point, k) => {
        point.weight = (1 - Math.min(1, Math.abs(rest[k]) / scaleOfRest) ** 2) ** 2;
      });
      guess = guess.map((time) => time + loess(points, time, 2));
    }
    const said = new Map(expected.map((time, k) => [time, guess[k]]));
    return own.map((note) => ({ ...note, onset: said.get(note.onset) }));
  });
  return { notes };
};

export const aubioReading = (timeline, at, truth, free) => {
  const events = eventsOf(at, truth);
  // Free playing is nowhere near the notated times: there the curve says where to look.
  const expected = free ? curveReading(timeline, at, truth, true).notes : nullReading(timeline).notes;
  const notes = truth.parts.flatMap(({ id }) => {
    const own = expected.filter((note) => note.part === id);
    const times = own.map((note) => note.onset);
    return pairing(times, events[id], 0.1).map(([r, e]) => ({ ...own[r], onset: events[id][e] }));
  });
  return { notes, events };
};
