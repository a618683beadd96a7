/**
 * The MEI reader against the time map of Verovio, a general engraving library that MEI is the own format of: how many notes begin at
 * which exact quarter. Verovio counts each written note of a tie; the odd piece is not
 * held against it: it reads the first movement only and gives grace notes a time.
 */
import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { expect, test } from 'vitest';
import { readMei } from '../../src/score/read/mei/index.ts';
import { F } from '../../src/units/index.ts';
import { sharedData } from '../shared.ts';
import { examples } from './mei-examples.ts';

const engraver = new VerovioToolkit(await createVerovioModule());
engraver.setOptions({ breaks: 'none', inputFrom: 'mei', expandNever: true });

/** "quarter: count" in order. */
const engraved = (text: string): string[] => {
  if (!engraver.loadData(text)) throw new Error('Verovio does not read it.');
  return engraver
    .renderToTimemap({ useFractions: true })
    .flatMap(({ on = [], qfrac }) =>
      on.length === 0 ? [] : [`${F.format(F.fraction(qfrac[0], qfrac[1]))}: ${on.length}`],
    );
};

const own = (text: string): string[] => {
  const result = readMei(text);
  if (!result.ok) throw new Error(result.error.message);
  const counts = new Map<string, { readonly at: F.Fraction; count: number }>();
  for (const { written } of result.value.parts)
    for (const { kind, onset } of written) {
      if (kind !== 'note') continue;
      const key = F.format(onset);
      const entry = counts.get(key) ?? { at: F.mul(onset, F.fraction(4)), count: 0 };
      counts.set(key, entry);
      entry.count += 1;
    }
  return [...counts.values()]
    .sort((a, b) => F.compare(a.at, b.at))
    .map(({ at, count }) => `${F.format(at)}: ${count}`);
};

/** Where Verovio does not give the beginnings that the Guidelines ask for, and why; these have their checks in mei.test.ts. */
const differing: Readonly<Record<string, string>> = {
  ties: 'it takes no duration from the note before (Guidelines 5.1, 4.2.5.1.1)',
  barRepeats: 'it does not play signs that repeat bars, nor take durations from before',
  halfBarRepeats: 'it does not play signs that repeat half bars',
  graces: 'it gives grace notes a time of their own',
  ossiaLayer: 'it does not look into an ossia inside a staff',
};

const formats = path.resolve('test', 'score', 'formats');
const folder = sharedData === null ? null : path.join(sharedData, 'scores', 'mei');
const sources: readonly (readonly [string, string])[] = [
  ...Object.entries(examples).filter(([name]) => differing[name] === undefined),
  ['the demo', readFileSync(path.join(formats, 'lanterns.mei'), 'utf8')],
  ...(folder === null ? [] : readdirSync(folder).filter((name) => name.endsWith('.mei'))).map(
    (name): [string, string] => [name, readFileSync(path.join(folder ?? '', name), 'utf8')],
  ),
];

test('what is left out is still an example, and still differs', () => {
  for (const [name, text] of Object.entries(examples))
    if (differing[name] !== undefined) expect(own(text), name).not.toEqual(engraved(text));
  expect(Object.keys(differing).filter((name) => !(name in examples))).toEqual([]);
});

test.each(sources)('%s: as many notes begin at each exact place', (_, text) => {
  expect(own(text)).toEqual(engraved(text));
});
