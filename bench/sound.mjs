/** Rendering against real time: how many seconds of sound a second of computing makes. */
import { readScore } from '../dist/score/read/recognise.js';
import { workOut } from '../dist/drill/workOut.js';
import { noteShapes } from '../dist/sound/parts/shapes.js';
import { clickWav } from '../dist/sound/wav/clicks.js';
import { fullWav } from '../dist/sound/wav/full.js';
import { partsWav } from '../dist/sound/wav/parts.js';
import { toNumber } from '../dist/units/fraction.js';
import { plainDrill, value } from './drills.mjs';
import { inTurn } from './measure.mjs';
import { demo, largestQuartet } from './scores.mjs';

const drain = (result) => {
  let bytes = 0;
  for (const chunk of value(result)) bytes += chunk.length;
  return bytes;
};

const measure = async (name, bytes, bars) => {
  const worked = value(workOut(value(readScore(bytes)), plainDrill(bars), 48_000));
  const { timeline, parts } = worked;
  const seconds = toNumber(timeline.duration);
  const shapes = noteShapes(parts);
  const times = await inTurn(
    {
      'click.wav': () => drain(clickWav(timeline)),
      'parts.wav': () => drain(partsWav(timeline, parts, { shapes })),
      'full.wav': () => drain(fullWav(timeline, parts, { shapes })),
    },
    3,
  );
  console.log(`\n${name}: ${parts.length} parts, ${seconds.toFixed(1)} s of sound at 48 kHz`);
  for (const [file, ms] of Object.entries(times)) {
    console.log(`  ${file.padEnd(12)} ${((seconds * 1000) / ms).toFixed(0).padStart(6)} times real time`);
  }
};

export const benchSound = async () => {
  await measure('The demo', demo, 'all');
  const quartet = largestQuartet();
  if (quartet !== null) await measure('Quartet', quartet, '@0-@99');
};
