/**
 * Writes the candidates for every note of the bench's tuning half, or of the further takes that widen.mjs made, with the truth, for
 * fit.py:
 *
 *     npm run build && node bench/hear/run.mjs --half tuning --methods null && node training/onsets/widen.mjs --rounds 3
 *     node training/onsets/gather.mjs tuning.jsonl && node training/onsets/gather.mjs --wide wide.jsonl
 *     node training/onsets/gather.mjs --check check.jsonl
 *
 * `--build FOLDER`: another build than dist; `--share 1/2`: every second item, from the first. Only items of the tuning half and
 * the further takes are opened.
 */
import { appendFileSync, existsSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { cache } from '../../bench/hear/cache.mjs';

const { values: given, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    wide: { type: 'boolean', default: false },
    check: { type: 'boolean', default: false },
    build: { type: 'string', default: fileURLToPath(new URL('../../dist', import.meta.url)) },
    share: { type: 'string', default: '1/1' },
    only: { type: 'string', default: '' },
  },
});
const from = (name) => import(path.resolve(given.build, name));
const { clickSound, taskOf } = await from('desk/hearTask.js');
const { readPiece } = await from('desk/readOnce.js');
const { parseDrill } = await from('drill/format.js');
const { workOut } = await from('drill/workOut.js');
const { locate } = await from('listen/locate.js');
const { listeningRate } = await from('listen/model.js');
const { resampled } = await from('listen/resample.js');
const { chooseRegister } = await from('sound/registers.js');
const { readWav } = await from('sound/wav/read.js');

const valueOf = (result) => {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};
const bytesOf = (...names) => new Uint8Array(readFileSync(path.join(...names)));
const instrumentOf = (truth, part) => truth.parts.find(({ id }) => id === part).instrument;
const rounded6 = (value) => Math.round(value * 1e6) / 1e6;
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

writeFileSync(positionals[0], '');
const items = path.join(cache, given.wide || given.check ? 'training' : 'items');
const [share, shares] = given.share.split('/').map(Number);
const kept = given.check ? /^check-\d+$/ : given.wide ? /^wide-\d+-\d+$/ : /^tuning-\d+-[0-9a-f]+$/;
for (const name of readdirSync(items)
  .filter((item) => kept.test(item) && new RegExp(given.only).test(item))
  .sort()
  .filter((_, k) => k % shares === share - 1)) {
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
    for (const { event, judged, chosen, coarse, choice, visited, likeness } of take.located)
      for (const { id } of event.notes)
        appendFileSync(
          positionals[0],
          `${JSON.stringify({
            item: name,
            row: truth.row,
            // What it sounds like: sounds are left out one by one.
            sound:
              truth.voices?.[truth.parts.findIndex(({ id: own }) => own === part)] ??
              instrumentOf(truth, part),
            part,
            coarse,
            duration: event.duration,
            visited,
            likeness: likeness === null ? null : rounded(likeness),
            curves: Buffer.from(choice.curves.bytes).toString('base64'),
            event: [
              event.repeated ? 1 : 0,
              event.slurred ? 1 : 0,
              chosen === null ? 0 : 1,
              chosen === null ? -1 : judged.indexOf(chosen),
            ],
            truth: truthOf(
              truth.notes.filter((note) => note.part === part && note.id === id),
              chosen?.perceived ?? coarse,
            ),
            candidates: judged.map(
              ({
                candidate,
                reference,
                known,
                surroundings,
                odds,
                physical,
                perceived,
                physicalScale,
                perceivedScale,
              }) => ({
                ref: reference,
                at: candidate.at,
                frame: candidate.frame,
                f: known.map(rounded),
                s: surroundings.map(rounded),
                // What the model in the build makes of it.
                now: [odds, physical, perceived, physicalScale, perceivedScale].map(rounded6),
              }),
            ),
          })}\n`,
        );
  }
  console.log(name);
}
