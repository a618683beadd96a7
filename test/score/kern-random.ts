/** Pieces of kern made up at random: columns that split and join, tuplets, ties, chords, grace notes; each bar fills its metre. */
import type { Random } from '../../src/units/index.ts';

const below = (random: Random, count: number): number => Math.floor(random() * count);
const pick = <T>(random: Random, from: readonly [T, ...T[]]): T =>
  from[below(random, from.length)] ?? from[0];

/** Ways to fill a quarter, in twenty-fourths of it and as lengths. */
const quarters: readonly [
  readonly (readonly [number, string])[],
  ...(readonly (readonly [number, string])[])[],
] = [
  [[24, '4']],
  [
    [12, '8'],
    [12, '8'],
  ],
  [
    [18, '8.'],
    [6, '16'],
  ],
  [
    [8, '12'],
    [8, '12'],
    [8, '12'],
  ],
  [
    [16, '6'],
    [8, '12'],
  ],
  [
    [12, '8'],
    [4, '24'],
    [4, '24'],
    [4, '24'],
  ],
  [
    [6, '16'],
    [12, '8'],
    [6, '16'],
  ],
];

const letters: readonly [string, ...string[]] = ['CC', 'F#', 'A-', 'c', 'dn', 'e-', 'g', 'bb', 'cc#', 'aa'];

/** The events of one voice in a bar: when each begins, and its token. */
const voice = (random: Random, beats: number, ties: { open: string }): Map<number, string> => {
  const events = new Map<number, string>();
  let at = 0;
  for (let beat = 0; beat < beats; beat += 1)
    for (const [length, recip] of pick(random, quarters)) {
      const last = ties.open;
      ties.open = '';
      if (last !== '') events.set(at, `${recip}${last}]`);
      else if (random() < 0.2) events.set(at, `${recip}r`);
      else if (random() < 0.2)
        events.set(at, `${recip}${pick(random, letters)} ${recip}${pick(random, letters)}z`);
      else if (random() < 0.2) {
        ties.open = pick(random, letters);
        events.set(at, `[${recip}${ties.open}`);
      } else events.set(at, `${recip}${pick(random, letters)}`);
      at += length;
    }
  return events;
};

/** A piece of one to four columns that differ in name, so that each is a part. */
export const randomKern = (random: Random): string => {
  const columns = 1 + below(random, 4);
  const lines: string[] = [];
  const row = (cell: (column: number) => string): number =>
    lines.push(Array.from({ length: columns }, (_, column) => cell(column)).join('\t'));
  row(() => '**kern');
  row((column) => `*I"Part ${column}`);
  const ties = Array.from({ length: columns }, () => ({ open: '' }));
  const bars = 2 + below(random, 6);
  for (let bar = 1; bar <= bars; bar += 1) {
    const beats = 2 + below(random, 3);
    row(() => `=${bar}`);
    row(() => `*M${beats}/4`);
    // Ties end with their bar where a column splits, so that they are found again.
    const split = bar % 2 === 0 ? below(random, columns) : -1;
    const voices = Array.from({ length: columns }, (_, column) => [
      voice(random, beats, ties[column] ?? { open: '' }),
      ...(column === split ? [voice(random, beats, { open: '' })] : []),
    ]);
    if (split >= 0) row((column) => (column === split ? '*^' : '*'));
    const flat = voices.flat();
    const times = [...new Set(flat.flatMap((events) => [...events.keys()]))].sort((a, b) => a - b);
    for (const time of times) {
      if (random() < 0.1)
        lines.push(
          flat
            .map((events) =>
              events.has(time) ? `${pick(random, ['8', '16'])}${pick(random, letters)}q` : '.',
            )
            .join('\t'),
        );
      lines.push(flat.map((events) => events.get(time) ?? '.').join('\t'));
    }
    if (split >= 0)
      lines.push(voices.flatMap((all) => all.map(() => (all.length > 1 ? '*v' : '*'))).join('\t'));
  }
  row(() => '==');
  row(() => '*-');
  return `${lines.join('\n')}\n`;
};
