/**
 * Writes the candidates for every note of the bench's tuning half, with the truth, for fit.py:
 *
 *     npm run build && node bench/hear/run.mjs --half tuning --methods null && node training/onsets/gather.mjs OUT.json
 *
 * Only items of the tuning half are opened.
 */
import { existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { cache } from '../../bench/hear/cache.mjs';
import { clickSound, taskOf } from '../../dist/desk/hearTask.js';
import { readPiece } from '../../dist/desk/readOnce.js';
import { parseDrill } from '../../dist/drill/format.js';
import { workOut } from '../../dist/drill/workOut.js';
import { locate } from '../../dist/listen/locate.js';
import { listeningRate } from '../../dist/listen/model.js';
import { resampled } from '../../dist/listen/resample.js';
import { chooseRegister } from '../../dist/sound/registers.js';
import { readWav } from '../../dist/sound/wav/read.js';

const valueOf = (result) => {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};
const bytesOf = (...names) => new Uint8Array(readFileSync(path.join(...names)));
const rounded = (value) => Math.round(value * 1e4) / 1e4;

const truthOf = (tries, here) => {
  const played = tries
    .filter(({ state }) => ['played', 'abandoned', 'wrong'].includes(state))
    .sort((a, b) => Math.abs(a.perceived.file - here) - Math.abs(b.perceived.file - here))[0];
  if (played === undefined) return null;
  return {
    physical: played.time.file,
    perceived: played.perceived.file,
    state: played.state,
    ornament: played.ornament,
  };
};

const out = [];
const items = path.join(cache, 'items');
for (const name of readdirSync(items)
  .filter((item) => /^tuning-\d+-[0-9a-f]+$/.test(item))
  .sort()) {
  const at = path.join(items, name);
  if (!existsSync(path.join(at, 'truth.json'))) continue;
  const truth = JSON.parse(readFileSync(path.join(at, 'truth.json'), 'utf8'));
  if (truth.clock[0].part === null) continue;
  const drill = valueOf(parseDrill(JSON.parse(readFileSync(path.join(at, 'drill', 'drill.json'), 'utf8'))));
  const worked = valueOf(
    workOut(valueOf(readPiece(bytesOf(at, 'drill', drill.score.file))).score, drill, 48_000),
  );
  const click = valueOf(clickSound(48_000, chooseRegister(worked.timeline.notes, 48_000)));
  for (const { file, part } of truth.clock) {
    const { channels, sampleRate } = valueOf(readWav(bytesOf(at, 'takes', file)));
    const take = locate(
      resampled(channels[0], sampleRate, listeningRate),
      taskOf(worked, part, click, drill.click !== 'none'),
    );
    for (const { event, judged, chosen, coarse } of take.located)
      for (const { id } of event.notes)
        out.push({
          item: name,
          truth: truthOf(
            truth.notes.filter((note) => note.part === part && note.id === id),
            chosen?.perceived ?? coarse,
          ),
          candidates: judged.map(({ reference, features }) => ({ ref: reference, f: features.map(rounded) })),
        });
  }
  console.log(name);
}
writeFileSync(process.argv[2], JSON.stringify(out));
