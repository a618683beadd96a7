/**
 * Examples of the Humdrum User's Guide and Reference (D. Huron, https://www.humdrum.org/guide and /rep), as printed there, some
 * of them only in part; each is named by its place. Columns are written with spaces here and set apart by tabs below.
 */
import type { Score } from '../../src/score/model.ts';
import { readKern } from '../../src/score/read/kern/index.ts';
import { F, type Problem } from '../../src/units/index.ts';

/** One line of columns a token each; "~" stands for a space within a token. Lines that begin with "!!" stay as they are. */
export const tabbed = (text: string): string =>
  text
    .trim()
    .split('\n')
    .map((line) =>
      line.trim().startsWith('!!') ? line.trim() : line.trim().split(/\s+/).join('\t').replaceAll('_~_', ' '),
    )
    .join('\n') + '\n';

export interface Read {
  readonly score: Score;
  readonly problems: readonly Problem[];
  readonly codes: readonly string[];
}

export const read = (text: string): Read => {
  const result = readKern(text);
  if (!result.ok) throw new Error(`${result.error.code}: ${result.error.message}`);
  const { value: score, problems } = result;
  return { score, problems, codes: problems.map(({ code }) => code) };
};

/** Columns as above, read. */
export const columns = (text: string): Read => read(tabbed(text));

/** "bar onset-in-bar duration midi" of each sounding note of a part. */
export const notes = ({ score }: Read, part = 0): string[] =>
  (score.parts[part]?.notes ?? []).map((note) => {
    const bar = score.bars[note.bar];
    return `${bar?.number ?? ''} ${F.format(F.sub(note.onset, bar?.start ?? F.zero))} ${F.format(note.duration)} ${note.midi ?? 'x'}`;
  });

/** Guide, example 2.1: Bach, Die Kunst der Fuge. */
export const artOfFugue = `
**kern
*clefG2
*k[b-]
*M2/2
=-
2d/
2a/
=
2f/
2d/
=
2c#/
4d/
4e/
=
2f/
2r
*-`;

/** Guide, example 2.2: Bach, Praeambulum BWV 390. */
export const praeambulum = String.raw`
**kern **kern
*staff2 *staff1
*clefF4 *clefG2
*k[b-] *k[b-]
*M3/4 *M3/4
=1- =1-
2.rr 8r
. 8d/L
. 8g/
. 8b-/
. 8g/
. 8d/J
=2 =2
8r 4dd\
8GG/L .
8BB-/ 4r
8D/ .
8BB-/ 4r
8GG/J .
=3 =3
4GWw\ 8r
. 8dd\L
8GG/L 8b-\
8BB-/ 8g\
8D/ 8gg\
8G/J 8b-\J
=4 =4
4D\ 8a/L
. 8gg/
4d\ 8ff/
. 8ee/
4D\ 8ff/
. 8a-/J
=5 =5
*- *-`;

/** Guide, example 2.3: Nun danket alle Gott, arranged by Bach. */
export const chorale = `
**kern **kern **kern **kern
*staff2 *staff2 *staff1 *staff1
*clefF4 *clefF4 *clefG2 *clefG2
*k[f#c#g#] *k[f#c#g#] *k[f#c#g#] *k[f#c#g#]
*M4/4 *M4/4 *M4/4 *M4/4
4AA 4c# 4a 4ee
=1 =1 =1 =1
8A 4c# 4a 4ee
8B . . .
8c# 4c# 4a 4ee
8A . . .
8D 4d 4a 4ff#
8E . . .
8F# 4d 4a 4ff#
8D . . .
=2 =2 =2 =2
2A; 2c#; 2a; 2ee;
4r 4r 4r 4r
4A 4e 4a 4cc#
=3 =3 =3 =3
4G# 4e 4b 4dd
4A 4e 4a 4cc#
8E 4e 4g# 4b
8D . . .
8C# 4e [4a 8.cc#
8AA . . .
. . . 16dd
=4 =4 =4 =4
2E 8e 8a] 2b
. 16d 8f# .
. 16c# . .
. 4d 4g# .
4AA; 4c#; 4e; 4a;
=:|! =:|! =:|! =:|!
*- *- *- *-`;

/** Guide, example 2.4: Haydn, Sonata in C major Hob. XVI:35, bars 1 and 3. */
export const sonata = String.raw`
**kern **kern **kern
*staff2 *staff2 *staff1
*clefG2 *clefG2 *clefG2
*k[] *k[] *k[]
*M3/4 *M3/4 *M3/4
=1- =1- =1-
4r 4r [4ee\
4c/ 4g/ 8.ee]\L
. . 16ff\Jk
4f/ 4g 8.dd\L
. . 16ee\Jk
=3 =3 =3
(2B\ ([2.g/ (8gg\L
. . 8ff)\J
. . (8ff\L
. . 8ee)\J
4c\ . (8ee\L
. . 8dd)\J
=4 =4 =4
4G\) 4g])/ 4dd\
4r 4r 4b\
4r 4r 4g/
=5 =5 =5
*- *- *-`;

/** Guide, example 6.1: Karg-Elert, Caprices op. 107 no. 23. */
export const caprice = `
**kern
*clefG2
*k[f#c#g#d#]
*M3/4
=1
(8f#L
8e#J
4en)
(36d#L
36e#
36c#
36a
36f##
36g#
36dd#
36aa
36cc#J
=2
8b~L
8a#~J
4an)
(20gg#L
20ff#
20dd#
20cc#
20aJ
=3
8g#)L
(40b
40a#
40an
40e
40dd#J
8g#)L
(40b
40a#
40an
40e
40dd#J
16g#)
=-
*-`;

/** Guide, example 6.3: which signs stand at each note of a double stop, and which once. */
export const doubleStops = `
**kern
{4c_~_4e
8dL_~_8f
8eJ_~_8g
(8f'_~_8a'
8g'_~_8b')
8.a_~_8.ccL
16b_~_16ddk
[4cc_~_[4ee
4cc]_~_4ee]}
*-`;

/** Reference, **recip, sample document: Holst. Notes are added, since a score needs some. */
export const holst = `
**kern
*M5/4
=1
12c
12d
12e
4f
4g
8a
8b
4cc
=2
*-`;

/** Reference, trans: what *ITr means, for a trumpet in B flat. */
export const trumpet = `
**kern
*Itromp
*ITrd1c2
*k[b-e-]
*M2/4
=1
4b-
4cc
==
*-`;

/** Guide, example 28.1. */
export const dynamics = `
**dynam **kern
*staff1 *staff1
* *M4/4
= =
p 2c_~_2e_~_2g_~_2cc
< .
( 2G_~_2d_~_2g_~_2b
= =
( 2A_~_2c_~_2e_~_2a
[ .
pp 2E_~_2B_~_2e_~_2g
= =
*- *-`;

/** All of them, by name. */
export const examples: Readonly<Record<string, string>> = {
  'example 2.1': artOfFugue,
  'example 2.2': praeambulum,
  'example 2.3': chorale,
  'example 2.4': sonata,
  'example 6.1': caprice,
  'example 6.3': doubleStops,
  'recip sample': holst,
  'trans ITr': trumpet,
  'example 28.1': dynamics,
};
