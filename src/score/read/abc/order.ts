/**
 * The playing order of a tune's sections, "P:ABAB" (ABC 2.1, section 3.1.9), as repeats and a da capo where these can say
 * it. The model has no other way to play sections in another order than they stand in.
 */

/** Labels beyond are no playing order. */
const mostLabels = 1000;

/** "(AB)2A" as A B A B A; null where it makes no sense or is too long. */
export const expandOrder = (text: string): readonly string[] | null => {
  const stack: string[][] = [[]];
  const plain = text.replace(/[\s.]+/g, '');
  if (plain.length > mostLabels) return null;
  for (let at = 0; at < plain.length;) {
    const sign = plain.charAt(at);
    at += 1;
    let piece: string[];
    if (sign === '(') {
      stack.push([]);
      continue;
    } else if (sign === ')') {
      const inner = stack.pop();
      if (inner === undefined || stack.length === 0) return null;
      piece = inner;
    } else if (/[A-Za-z]/.test(sign)) piece = [sign];
    else return null;
    const digits = /^\d{1,4}/.exec(plain.slice(at, at + 4))?.[0] ?? '';
    at += digits.length;
    const times = digits === '' ? 1 : Number(digits);
    const top = stack.at(-1);
    if (top === undefined || times * piece.length + top.length > mostLabels) return null;
    for (let n = 0; n < times; n += 1) top.push(...piece);
  }
  return stack.length === 1 ? (stack[0] ?? null) : null;
};

export interface Section {
  readonly label: string;
  /** Bars of the tune, both included. */
  readonly from: number;
  readonly to: number;
  /** How often it is played by its own repeat signs; null where they do not cover exactly the section. */
  readonly times: number | null;
}

export interface Course {
  /** Sections to repeat that have no signs for it. */
  readonly repeats: readonly { readonly from: number; readonly to: number; readonly times: number }[];
  /** The bar with which the piece ends after a da capo from its last bar. */
  readonly fine: number | null;
  /** Sections that have repeats of their own are among those that the da capo plays again. */
  readonly unrepeated?: boolean;
}

const same = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((label, index) => label === b[index]);

/** Each section's count where the order plays each so often in a row; null where it does not. */
const runs = (labels: readonly string[], sections: readonly Section[]): readonly number[] | null => {
  let at = 0;
  const counts: number[] = [];
  for (const { label } of sections) {
    const from = at;
    while (labels[at] === label) at += 1;
    if (at === from) return null;
    counts.push(at - from);
  }
  return at === labels.length ? counts : null;
};

/** The order as repeats and a da capo; null where it can not be said so. */
export const courseOf = (labels: readonly string[], sections: readonly Section[]): Course | null => {
  const [first, last] = [sections[0], sections.at(-1)];
  if (first === undefined || last === undefined) return null;
  const written = sections.map(({ label }) => label);
  if (same(labels, written)) return { repeats: [], fine: null };
  const plain = sections.every(({ times }) => times === 1);
  const counts = runs(labels, sections);
  if (
    counts !== null &&
    sections.every(({ times }, index) => counts[index] === 1 || times === 1 || times === counts[index])
  ) {
    const repeats = sections.flatMap(({ from, to, times }, index) =>
      (counts[index] ?? 1) > 1 && times === 1 ? [{ from, to, times: counts[index] ?? 1 }] : [],
    );
    return { repeats, fine: null };
  }
  const rounds = labels.length / written.length;
  const whole =
    Number.isInteger(rounds) && labels.every((label, index) => label === written[index % written.length]);
  if (plain && whole) return { repeats: [{ from: first.from, to: last.to, times: rounds }], fine: null };
  const again = labels.slice(written.length);
  const end = sections[again.length - 1];
  // Repeats within the sections stay as they are, and are not played again after a da capo (common practice).
  if (
    sections.every(({ times }) => times !== null) &&
    end !== undefined &&
    again.length < written.length &&
    same(labels, [...written, ...written.slice(0, again.length)])
  )
    return {
      repeats: [],
      fine: end.to,
      unrepeated: sections.slice(0, again.length).some(({ times }) => times !== 1),
    };
  return null;
};
