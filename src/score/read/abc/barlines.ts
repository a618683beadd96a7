/** Bar lines, repeats and ending numbers. Source: ABC 2.1, sections 4.8 to 4.10. */

export interface BarLine {
  /** How many dots-pairs end a repeat here: ":|" 1, "::|" 2. */
  readonly ends: number;
  readonly starts: number;
  /** As MusicXML calls it. */
  readonly style: string;
  /** Signs in the middle that mean nothing. */
  readonly odd: boolean;
}

const styles: Readonly<Record<string, string>> = {
  '|': 'regular',
  '||': 'light-light',
  '|]': 'light-heavy',
  '[|': 'heavy-light',
  '[|]': 'none',
  ']': 'light-heavy',
};

/** How long the run of bar-line signs at `at` is; 0 where there is none. A bracket that opens something else is no part. */
export const barRun = (text: string, at: number): number => {
  let end = at;
  for (;;) {
    const sign = text.charAt(end);
    const opens = sign === '[' && /[|:\]]/.test(text.charAt(end + 1)) && text.charAt(end + 1) !== '';
    if (sign !== '|' && sign !== ']' && sign !== ':' && !opens) break;
    end += 1;
  }
  const run = text.slice(at, end);
  // One colon alone is no bar line.
  return run === ':' ? 0 : run.length;
};

export const readBarLine = (run: string, dotted: boolean): BarLine => {
  if (/^:+$/.test(run)) {
    const half = Math.ceil(run.length / 2);
    return { ends: half, starts: half, style: 'light-heavy', odd: false };
  }
  let ends = 0;
  while (run.charAt(ends) === ':') ends += 1;
  let back = run.length;
  while (run.charAt(back - 1) === ':') back -= 1;
  const core = run.slice(ends, back);
  const bars = core.replaceAll(':', '');
  // "[|]:|" and "|:|": dots behind a stroke and before another end a repeat, as dots on the left of a thick line do.
  const inner = ends === 0 && back === run.length ? /^(.*[|\]])(:+)[|\]]+$/.exec(run)?.[2] : undefined;
  if (inner !== undefined) return { ends: inner.length, starts: 0, style: 'light-heavy', odd: false };
  const starts = run.length - back;
  const style =
    ends > 0
      ? 'light-heavy'
      : dotted && bars === '|'
        ? 'dotted'
        : (styles[bars] ?? (bars.endsWith(']') ? 'light-heavy' : 'light-light'));
  return { ends, starts, style, odd: bars.length !== core.length };
};

/** Numbers beyond are a slip of digits. */
const mostEndings = 99;

/** "1", "1,3", "1-3", "1,3,5-7"; null where a number makes no sense. */
export const readEndingNumbers = (text: string): readonly number[] | null => {
  const numbers = new Set<number>();
  for (const piece of text.split(',')) {
    if (piece === '') continue;
    const match = /^(\d{1,9})(?:-(\d{1,9}))?$/.exec(piece);
    const from = Number(match?.[1] ?? 0);
    const to = Number(match?.[2] ?? from);
    if (match === null || from < 1 || to < from || to > mostEndings) return null;
    for (let n = from; n <= to; n += 1) numbers.add(n);
  }
  return numbers.size === 0 ? null : [...numbers].sort((a, b) => a - b);
};
