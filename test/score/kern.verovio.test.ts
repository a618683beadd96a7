/**
 * The kern reader against the time map of Verovio, a general engraving library with a kern reader of its own: how many notes begin
 * at which exact quarter. Verovio counts each written note of a tie; grace notes, to which it gives a time, are left out: none
 * of these pieces has any.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import createVerovioModule from 'verovio/wasm-hum';
import { VerovioToolkit } from 'verovio/esm';
import { expect, test } from 'vitest';
import { F } from '../../src/units/index.ts';
import { examples, read, tabbed } from './kern-examples.ts';

const engraver = new VerovioToolkit(await createVerovioModule());
engraver.setOptions({ breaks: 'none', inputFrom: 'humdrum', expandNever: true });

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
  const counts = new Map<string, { readonly at: F.Fraction; count: number }>();
  for (const { written } of read(text).score.parts)
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

const sources: readonly (readonly [string, string])[] = [
  ...Object.entries(examples).map(([name, text]) => [name, tabbed(text)] as const),
  ['the demo', readFileSync(path.resolve('test', 'score', 'formats', 'lanterns.krn'), 'utf8')],
];

test.each(sources)('%s: as many notes begin at each exact place', (_, text) => {
  const ours = own(text);
  expect(ours.length).toBeGreaterThan(1);
  expect(ours).toEqual(engraved(text));
});
