/**
 * The music of a take as a timeline: random lines straight from their score (the same durations as the drill would have), quartets from drills that
 * `node training/mix/music.mjs OUT` has written down before, where the shared scores are there.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { drillFor, readTimeline } from '../../bench/hear/drills.mjs';
import { randomScore } from '../../bench/hear/lines.mjs';
import { seeded } from '../../bench/hear/random.mjs';

const steps = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

/** Seconds and keys of the notes of a score of bench/hear/lines.mjs, after a bar of count-in. */
const timelineOf = (text, metre, tempo) => {
  const [beats, type] = metre.split('/').map(Number);
  const beat = type === 8 ? 18 : 12;
  const second = 60 / tempo / beat;
  const bar = type === 8 ? beats * 6 : beats * 12;
  const notes = [];
  let last = 0;
  text
    .split('<part id="')
    .slice(1)
    .forEach((partText, p) => {
      let at = bar;
      let n = 0;
      let measure = -1;
      for (const [found] of partText.matchAll(/<measure|<note>.*?<\/note>/gs)) {
        if (found === '<measure') {
          measure += 1;
          continue;
        }
        const duration = Number(/<duration>(\d+)/.exec(found)[1]);
        if (!found.includes('<rest/>')) {
          const [, step, octave] = /<step>(.).*<octave>(\d+)/s.exec(found);
          const midi = 12 * (Number(octave) + 1) + steps[step] + (found.includes('<alter>1') ? 1 : 0);
          notes.push({
            id: `P${p + 1}-n${(n += 1)}`,
            part: `P${p + 1}`,
            rep: 1,
            barIndex: measure,
            time: at * second,
            duration: duration * second,
            midi,
          });
        }
        at += duration;
        last = Math.max(last, at);
      }
    });
  const clicks = [];
  for (let at = 0; at < last; at += beat) clicks.push({ time: at * second });
  return { notes: notes.sort((a, b) => a.time - b.time), clicks };
};

const barsFor = (metre, tempo, seconds) => {
  const [beats, type] = metre.split('/').map(Number);
  return Math.max(4, Math.round(seconds / (((type === 8 ? beats / 3 : beats) * 60) / tempo)));
};

/** Other tempo, other key: one window serves several takes. */
const moved = ({ notes, clicks }, random) => {
  const stretch = random.uniform(0.8, 1.25);
  const shift = random.pick([-3, -2, -1, 0, 1, 2, 3]);
  return {
    notes: notes.map((note) => ({
      ...note,
      time: note.time * stretch,
      duration: note.duration * stretch,
      midi: note.midi === null ? null : note.midi + shift,
    })),
    clicks: clicks.map(({ time }) => ({ time: time * stretch })),
  };
};

/** `{timeline, marks}` of a take; `quartets`: timelines by take. Null where a quartet is not there. */
export const musicFor = (item, quartets) => {
  if (item.score.kind === 'quartet') {
    const random = seeded(`${item.seed}/window`);
    const some = Object.keys(quartets).filter((name) => name.startsWith('fit-'));
    if (item.row !== undefined || some.length === 0)
      return quartets[item.name] === undefined ? null : { timeline: quartets[item.name], marks: undefined };
    return { timeline: moved(quartets[random.pick(some)], random), marks: undefined };
  }
  const { voices, metre, tempo, trills, seed, score } = item;
  const { text, marks } = randomScore(
    {
      voices,
      metre,
      bars: barsFor(metre, tempo, 17),
      texture: score.texture,
      tempo,
      slurred: item.articulation.map((name) => name === 'legato'),
      trilled: trills,
    },
    seeded(`${seed}/score`),
  );
  return { timeline: timelineOf(text, metre, tempo), marks };
};

export const quartetsFrom = (file) => JSON.parse(readFileSync(file, 'utf8'));

if (process.argv[1]?.endsWith('music.mjs')) {
  const { checkItems, fittingItem } = await import('./takes.mjs');
  const out = {};
  const items = [
    ...['check', 'second'].flatMap((round) => checkItems(round)),
    ...Array.from({ length: Number(process.argv[3] ?? 120) }, (_, n) => fittingItem(n)),
  ];
  for (const item of items.filter(({ score }) => score.kind === 'quartet')) {
    try {
      const made = drillFor(item);
      if (made === null) continue;
      const { notes, clicks } = readTimeline(made.at);
      out[item.name] = {
        notes: notes.map(({ id, part, rep, barIndex, time, duration, midi, kept }) => ({
          id,
          part,
          rep,
          barIndex,
          time,
          duration,
          midi,
          kept,
        })),
        clicks: clicks.map(({ time }) => ({ time })),
      };
      writeFileSync(process.argv[2], JSON.stringify(out));
      console.log(item.name, notes.length);
    } catch (error) {
      console.log(item.name, error.message);
    }
  }
}
