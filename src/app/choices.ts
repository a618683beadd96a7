/** Choices among words: what the desk is told, and how a player would write it. */

export interface Choice {
  readonly value: string;
  readonly words: string;
}

export const clickValues = [
  'every',
  'half',
  'weak',
  'after',
  'bar',
  '2bars',
  '4bars',
  '1/8',
  'none',
  'own',
] as const;

export const keepValues = ['all', '1/8', '1/16', '1/8t', '1/8+', '1/4+'] as const;

export const countValues = ['auto', 'first', 'each', '1', '2', 'none'] as const;

export const tacetValues = ['none', '1/1', '2/2', '4/4', '3/1', '2/6'] as const;

export const upbeatValues = ['auto', 'none', '1/8', '1/4', '3/8', '1/2'] as const;

/** Note values that may be counted in place of the metre's own beats. */
export const countedValues = ['auto', '1/8', '1/4', '3/8', '1/2', '3/4'] as const;

/** As players write them. */
export const dynamicValues = ['ppp', 'pp', 'p', 'mp', 'mf', 'f', 'ff', 'sfz', 'cresc.', 'dim.'] as const;

/** In which time through dynamics may count. */
export const timeValues = ['each', '1', '2', '3', '4'] as const;

/** Seconds that a start by touch may wait. */
export const waitValues = [0, 2, 3, 5, 8] as const;

export const octaveValues = ['2', '1', '0', '-1', '-2'] as const;

/**
 * Instruments by the note that sounds where C is written: staff steps and semitones. The usual transposing instruments of
 * the orchestra; common practice, no source.
 */
export const keyValues = ['', '0 0', '-1 -2', '-2 -3', '-4 -7', '-5 -9', '2 3', '1 2', '-3 -5'] as const;

/** Values in this order, each with its words. */
export const choicesOf = <T extends string>(
  values: readonly T[],
  words: Readonly<Record<T, string>>,
): readonly Choice[] => values.map((value) => ({ value, words: words[value] }));
