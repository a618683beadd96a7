/**
 * Single-voice tunes against the time map of Verovio, a general engraving library with an ABC reader of its own. It is
 * asked only about what it reads: it joins voices in silence, so tunes of several are for count_abc.py.
 */
import createVerovioModule from 'verovio/wasm';
import { VerovioToolkit } from 'verovio/esm';
import { expect, test } from 'vitest';
import { F } from '../../src/units/index.ts';
import { readText } from './abc-fragments.ts';

/** Lengths of chords stand inside their brackets, since Verovio passes over those behind. Tunes of section 13 of the ABC standard, repeats left out; the last two our own. */
const tunes: Readonly<Record<string, string>> = {
  'The Dusty Miller (traditional)': `X:1
T:Dusty Miller, The
M:3/4
L:1/8
K:G
B>cd BAG|FA Ac BA|B>cd BAG|DG GB AG|
Bdd gfg|aA Ac BA|Bdd gfa|gG GB AG|
BG G/2G/2G BG|FA Ac BA|BG G/2G/2G BG|DG GB AG|]
`,
  "A. A. Cameron's (traditional)": `X:1
T:A. A. Cameron's
M:4/4
L:1/8
K:D
e<A A2 B>G d>B|e<A A2 d>g (3fed|e<A A2 B>G d>B|B<G G>B d>g (3fed|
B<e e>f g>e a>f|B<e e>f g>e (3fed|B<e e>f g>e a>f|d<B G>B d>g (3fed|]
`,
  'Untitled Reel (traditional)': `X:1
T:Untitled Reel
M:4/4
L:1/8
K:D
a2ab ageg|agbg agef|g2g2 fgag|f2d2 d2ed|cecA B2ed|cAcA E2ed|cecA B2ed|c2A2 A4|]
`,
  'keys and octaves': `X:1
T:Keys
M:4/4
L:1/4
K:Ebmin
C,D,E,F,|G,A,B,C|DEFG|ABcd|efga|bc'd'e'|]
`,
  'accidentals, chords and rests': `X:1
T:Accidentals
M:6/8
L:1/8
K:F
^FGz _ABc|[C3E3G3] [F2A2c2] z|=B3/2c/d e3|z3 ^c2 d|]
`,
};

test.each(Object.entries(tunes))('%s: onsets and keys as Verovio has them', async (_, text) => {
  const engraver = new VerovioToolkit(await createVerovioModule());
  engraver.setOptions({ inputFrom: 'abc', breaks: 'none', expandNever: true });
  expect(engraver.loadData(text)).toBeTruthy();
  const theirs = engraver
    .renderToTimemap({ useFractions: true })
    .flatMap(({ on = [], qfrac: [n, d] }) =>
      on.map((id): [number, number] => [n / d, engraver.getMIDIValuesForElement(id).pitch]),
    );
  const byPlace = (a: readonly [number, number], b: readonly [number, number]): number =>
    a[0] - b[0] || a[1] - b[1];
  const ours = readText(text).part.notes.map(({ onset, midi }): [number, number] => [
    F.toNumber(F.mul(onset, F.fraction(4))),
    midi ?? -1,
  ]);
  expect(ours.length).toBeGreaterThan(15);
  expect(ours.map(([, key]) => key)).toEqual(theirs.sort(byPlace).map(([, key]) => key));
  ours.forEach(([onset], index) => {
    expect(onset).toBeCloseTo(theirs[index]?.[0] ?? -1, 4);
  });
});
