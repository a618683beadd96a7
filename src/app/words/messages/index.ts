/** The German of every message, by the code of its problem. */
import { translator, type Pair } from '../patterns.ts';
import { abcAndKern } from './abcAndKern.ts';
import { barPlan } from './barplan.ts';
import { drill } from './drill.ts';
import { drillMore } from './drillMore.ts';
import { files } from './files.ts';
import { notKept } from './kept.ts';
import { hearing } from './hearing.ts';
import { midi } from './midi.ts';
import { plans } from './plans.ts';
import { playing } from './playing.ts';
import { reading } from './reading.ts';
import { readingTime } from './readingTime.ts';
import { sound } from './sound.ts';
import { takes } from './takes.ts';
import { kinds } from './values.ts';
import { written } from './written.ts';

const tables = [
  hearing,
  drill,
  drillMore,
  plans,
  playing,
  reading,
  readingTime,
  abcAndKern,
  midi,
  barPlan,
  files,
  sound,
  takes,
  written,
];

/** Said of any code where a reader found it too often to tell each. */
const again: Pair = [
  'The same was found {times} from this bar on.',
  'Dasselbe kommt ab diesem Takt {times:times} vor.',
];

/** Pairs, and the codes that they serve. */
export const pairsOfCodes: readonly (readonly [codes: readonly string[], pairs: readonly Pair[]])[] = tables
  .flatMap((table) => Object.entries(table))
  .map(([codes, pairs]) => [codes.split(' '), pairs]);

const pairsByCode: ReadonlyMap<string, readonly Pair[]> = (() => {
  const all = new Map<string, Pair[]>();
  for (const [codes, pairs] of pairsOfCodes)
    for (const code of codes) all.set(code, [...(all.get(code) ?? []), ...pairs]);
  return all;
})();

const byCode = new Map([...pairsByCode].map(([code, pairs]) => [code, translator(pairs, () => kinds)]));
const ofAny = translator([again], () => kinds);

/** The German of a message; null where the message has no known shape. */
export const germanMessage = (code: string, message: string): string | null =>
  (code === 'not-kept' ? notKept(message) : (byCode.get(code)?.(message) ?? null)) ?? ofAny(message);
