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
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { cache } from './cache.mjs';
import { matching, median, pairing } from './metrics.mjs';

export const aubioPresent = () => existsSync('/usr/bin/aubioonset');

/** Onsets in seconds of the file. A window of 23 ms; the other settings are aubio's own. */
const aubioOnsets = (file) => {
  const kept = path.join(
    cache,
    'aubio',
    `${path.basename(path.dirname(path.dirname(file)))}-${path.basename(file)}.json`,
  );
  if (existsSync(kept)) return JSON.parse(readFileSync(kept, 'utf8'));
  const out = execFileSync('/usr/bin/aubioonset', ['-r', '0', '-B', '1024', '-H', '256', '-i', file], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const times = out
    .toString()
    .split('\n')
    .filter((line) => line.trim() !== '')
    .map(Number);
  mkdirSync(path.dirname(kept), { recursive: true });
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

export const aubioReading = (timeline, at, truth) => {
  const events = eventsOf(at, truth);
  const notes = [];
  for (const { id: part } of truth.parts) {
    const own = nullReading(timeline).notes.filter((note) => note.part === part);
    for (const [r, e] of pairing(
      own.map((note) => note.onset),
      events[part],
      0.1,
    ))
      notes.push({ ...own[r], onset: events[part][e] });
  }
  return { notes, events };
};

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

/** Start and tempo at which most expected notes meet an onset within 60 ms. */
const search = (expected, events) => {
  let best = { hits: -1, scale: 1, shift: 0 };
  const first = expected[0];
  for (let scale = 0.8; scale <= 1.25; scale += 0.01)
    for (let shift = -3; shift <= 3; shift += 0.03) {
      const there = expected.map((time) => first + (time - first) * scale + shift);
      const hits = matching(there, events, 0.06).length - 2 * Math.abs(scale - 1) - 0.2 * Math.abs(shift);
      if (hits > best.hits) best = { hits, scale, shift };
    }
  return best;
};

export const curveReading = (timeline, at, truth, free) => {
  const events = eventsOf(at, truth);
  const notes = [];
  for (const { id: part } of truth.parts) {
    const own = nullReading(timeline).notes.filter((note) => note.part === part);
    const expected = [...new Set(own.map((note) => note.onset))].sort((a, b) => a - b);
    const { scale, shift } = free ? search(expected, events[part]) : { scale: 1, shift: 0 };
    let guess = expected.map((time) => expected[0] + (time - expected[0]) * scale + shift);
    for (const reach of [0.25, 0.15, 0.1, 0.1]) {
      const points = pairing(guess, events[part], reach).map(([r, e]) => ({
        x: guess[r],
        y: events[part][e] - guess[r],
        weight: 1,
      }));
      if (points.length < 4) break;
      const rest = points.map(({ x, y }) => y - loess(points, x, 2));
      const scaleOfRest = 6 * median(rest.map(Math.abs)) + 1e-6;
      points.forEach(
        (point, k) => (point.weight = (1 - Math.min(1, Math.abs(rest[k]) / scaleOfRest) ** 2) ** 2),
      );
      guess = guess.map((time) => time + loess(points, time, 2));
    }
    const map = new Map(expected.map((time, k) => [time, guess[k]]));
    notes.push(...own.map((note) => ({ ...note, onset: map.get(note.onset) })));
  }
  return { notes };
};
