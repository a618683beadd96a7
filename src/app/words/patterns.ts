/**
 * Sentences with holes. An English pattern is written as the sources write a message: "{name}" is any text, "[a|b]" one of
 * these texts. A German pattern has the same holes: "{name}" puts the text in as it is, "{name:kind}" translates it,
 * "{name|one|several}" chooses a word by a count. A hole whose name begins with "_" holds the words of some machine and may
 * be left out.
 */

/** Makes German of a text of one kind; null where it does not know the text. */
export type Kinds = Readonly<Record<string, (text: string) => string | null>>;

/** English pattern, German pattern. */
export type Pair = readonly [english: string, german: string];

interface Shape {
  /** Fixed texts before, between and behind the holes. */
  readonly fixed: readonly string[];
  readonly holes: readonly string[];
}

/** All texts that "[a|b]" stands for. */
const alternatives = (pattern: string): readonly string[] => {
  const found = /\[([^[\]]*)\]/.exec(pattern);
  if (found === null) return [pattern];
  const before = pattern.slice(0, found.index);
  const behind = pattern.slice(found.index + found[0].length);
  const ends = alternatives(behind);
  return (found[1] ?? '').split('|').flatMap((text) => ends.map((end) => `${before}${text}${end}`));
};

const shapeOf = (pattern: string): Shape => {
  const pieces = pattern.split(/\{([^{}]*)\}/);
  return {
    fixed: pieces.filter((_, i) => i % 2 === 0),
    holes: pieces.filter((_, i) => i % 2 === 1),
  };
};

/** The shapes of an English pattern. */
export const shapesOf = (english: string): readonly Shape[] => alternatives(english).map(shapeOf);

/**
 * What stands in the holes, each as short as can be; null where the text has another shape. Looks for each fixed text
 * behind the one before, so the work grows with the length of the text alone.
 */
export const matched = ({ fixed, holes }: Shape, text: string): ReadonlyMap<string, string> | null => {
  const [first = ''] = fixed;
  if (holes.length === 0) return text === first ? new Map() : null;
  if (!text.startsWith(first)) return null;
  const found = new Map<string, string>();
  let at = first.length;
  for (const [i, hole] of holes.entries()) {
    const next = fixed[i + 1] ?? '';
    const end = i === holes.length - 1 ? text.length - next.length : text.indexOf(next, at);
    if (end < at || !text.startsWith(next, end)) return null;
    const value = text.slice(at, end);
    // A hole that stands twice holds the same text twice.
    if ((found.get(hole) ?? value) !== value) return null;
    found.set(hole, value);
    at = end + next.length;
  }
  return found;
};

/** A German pattern with its holes filled; null where a text is none of its kind. */
export const filled = (german: string, values: ReadonlyMap<string, string>, kinds: Kinds): string | null => {
  const lacking: string[] = [];
  const text = german.replace(/\{([^{}|:]+)(?::([^{}|]+))?(?:\|([^{}|]*)\|([^{}|]*))?\}/g, (_, ...parts) => {
    const [name, kind, one, several] = parts.map((part) => (typeof part === 'string' ? part : undefined));
    const value = values.get(name ?? '');
    if (value === undefined) lacking.push(name ?? '');
    if (several !== undefined) return value === '1' ? (one ?? '') : several;
    const made = kind === undefined ? value : kinds[kind]?.(value ?? '');
    if (made === undefined || made === null) lacking.push(name ?? '');
    return made ?? '';
  });
  return lacking.length === 0 ? text : null;
};

/** Translates by the first of the pairs that fits; null where none does. */
export const translator = (pairs: readonly Pair[], kinds: () => Kinds): ((text: string) => string | null) => {
  const known = pairs.flatMap(([english, german]) => shapesOf(english).map((shape) => ({ shape, german })));
  return (text) => {
    for (const { shape, german } of known) {
      const values = matched(shape, text);
      const made = values === null ? null : filled(german, values, kinds());
      if (made !== null) return made;
    }
    return null;
  };
};
