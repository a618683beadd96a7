/** Random ABC tunes that make sense: what the counter in Python and the reader must agree on. */
import type { Random } from '../../src/units/index.ts';

const below = (random: Random, count: number): number => Math.floor(random() * count);
const oneOf = <T>(random: Random, choices: readonly T[], other: T): T =>
  choices[below(random, choices.length)] ?? other;

const note = (random: Random): string =>
  oneOf(random, ['', '', '', '', '', '^', '_', '=', '^^', '__', '^/'], '') +
  oneOf(random, ['A', 'B', 'C', 'D', 'E', 'F', 'G', 'a', 'b', 'c', 'd', 'e', 'f', 'g'], 'A') +
  oneOf(random, ['', '', '', ',', "'", ',,'], '');

const length = (random: Random): string =>
  oneOf(random, ['', '', '', '2', '3', '/', '3/2', '/4', '4', '//', '7/4'], '');

const chord = (random: Random): string => {
  const heads = Array.from({ length: 2 + below(random, 3) }, () => note(random));
  const own = oneOf(random, ['', '', '2', '/'], '');
  return `[${heads.map((head) => head + own + (random() < 0.15 ? '-' : '')).join('')}]${length(random)}`;
};

const group = (random: Random): string =>
  random() < 0.2 ? chord(random) : `${note(random)}${length(random)}`;

/** One thing in a bar. */
const piece = (random: Random): string => {
  const roll = random();
  const tie = random() < 0.15 ? '-' : '';
  if (roll < 0.45) return `${group(random)}${tie} `;
  if (roll < 0.55) return `${oneOf(random, ['z', 'x'], 'z')}${length(random)} `;
  if (roll < 0.65) return `${note(random)}${oneOf(random, ['>', '<', '>>', '<<'], '>')}${note(random)} `;
  if (roll < 0.75) return `{${note(random)}${note(random)}}${group(random)}${tie}`;
  if (roll < 0.9) {
    const p = 2 + below(random, 8);
    const spec = random() < 0.5 ? '' : oneOf(random, [':', ':2', ':4', '::', ':3:'], '');
    return `(${p}${spec}${Array.from({ length: p }, () => group(random)).join(' ')} `;
  }
  if (roll < 0.95) return `!f!"^words"(${group(random)} ${group(random)})`;
  return `"Gm7".${group(random)}`;
};

const barOf = (random: Random): string => {
  if (random() < 0.08) return `Z${oneOf(random, ['', '2', '3'], '')}`;
  const main = Array.from({ length: 1 + below(random, 5) }, () => piece(random)).join('');
  if (random() < 0.08) return `${main}& ${group(random)} ${group(random)}`;
  return main;
};

const fields = [
  '[M:3/4]',
  '[M:6/8]',
  '[M:C|]',
  '[M:2+3/8]',
  '[K:D]',
  '[K:Ebmin]',
  '[K:F#phr]',
  '[K:AMix]',
  '[L:1/4]',
  '[L:1/16]',
  '[K:bass]',
  '[K:treble-8]',
  '[K:G clef=alto transpose=-3]',
  '[K:octave=1]',
] as const;

const line = (random: Random): string => {
  let text = '';
  for (let bar = 1 + below(random, 5); bar > 0; bar -= 1) {
    if (random() < 0.15) text += oneOf(random, fields, '[M:3/4]');
    text += `${barOf(random)}${oneOf(random, ['|', '|', '|', '||', ':|', '::', '|]', '|1 ', ':|2 ', '[|'], '|')} `;
  }
  return text.trimEnd();
};

/** A file of one to three tunes of one to three voices. */
export const randomAbc = (random: Random): string => {
  const reach = oneOf(random, ['', '%%propagate-accidentals octave\n', 'I:propagate-accidentals not\n'], '');
  const voices = ['1', 'Alt', 'b2'].slice(0, 1 + below(random, 3));
  const tunes = Array.from({ length: 1 + below(random, 3) }, (_, index) => {
    const metre = oneOf(
      random,
      ['M:4/4\n', 'M:C|\n', 'M:2/4\n', 'M:9/8\n', 'M:(3+2)/8\n', 'M:none\n', ''],
      '',
    );
    const unit = oneOf(random, ['', '', 'L:1/8\n', 'L:1/4\n', 'L:1/16\n'], '');
    const key = oneOf(random, ['C', 'Gm', 'Bb', 'E', 'ADor', 'none', ''], 'C');
    const body = Array.from({ length: 1 + below(random, 4) }, () =>
      voices.length === 1
        ? line(random)
        : voices
            .filter(() => random() < 0.9)
            .map((id) => `[V:${id}] ${line(random)}`)
            .join('\n'),
    ).filter((text) => text !== '');
    return `X:${index + 1}\nT:Tune ${index + 1}\n${metre}${unit}K:${key}\n${body.join('\n')}\n`;
  });
  return `%abc-2.1\n${reach}\n${tunes.join('\n')}`;
};
