import { F, notKeptProblem, problem, type Problem } from '../../units/index.ts';
import { metreLength, metreText, parseMetre, sameMetre } from '../metre.ts';
import type { Bar, Jump, Mark, Score } from '../model.ts';
import { maximumBars } from '../read/barplan/limits.ts';
import { Numbering } from '../read/barplan/numbering.ts';
import { endingText } from '../read/barplan/statement.ts';
import { labelPattern } from '../read/barplan/values.ts';

const quote = (text: string): string =>
  `"${text
    .replace(/[\\"\u201c-\u201f]/g, '\\$&')
    .replace(/\n/g, '\\n')
    .replace(/\r/g, '\\r')
    .replace(/\t/g, '\\t')
    .replace(
      /[\u0000-\u001f\u007f]/g,
      (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, '0')}`,
    )}"`;

const bareLabel = new RegExp(`^(?:${labelPattern.source})$`);

/** A label as it stands in the plan: bare where that reads back as the same. */
const labelText = (label: string): string =>
  bareLabel.test(label) && !/^0\d|(?:st|nd|rd|th|x)$|^x/i.test(label) ? label : quote(label);

const textOf = (text: string): string => (/^[A-Za-z0-9]{1,12}$/.test(text) ? text : quote(text));

const ordinalText = (n: number): string => {
  const teen = n % 100 >= 11 && n % 100 <= 13;
  return `${n}${teen ? 'th' : (['th', 'st', 'nd', 'rd'][n % 10] ?? 'th')} bar`;
};

const timesText = (times: number, afterJump: boolean): string =>
  (times === 2 ? 'twice' : `${times} times`) + (afterJump ? ' also after D.C.' : '');

/** Consecutive bars that one statement lays down. */
interface Run {
  readonly first: Bar;
  last: Bar;
  readonly pickup: boolean;
}

const isWhole = (bar: Bar): boolean => {
  const full = metreLength(bar.metre);
  return full !== null && F.equal(full, bar.length) && !bar.pickup;
};

const isCount = (label: string): boolean => /^(?:0|[1-9]\d{0,8})$/.test(label);

const extend = (run: Run, bar: Bar): boolean => {
  const { last } = run;
  const goesOn =
    !run.pickup &&
    isWhole(last) &&
    isWhole(bar) &&
    isCount(last.number) &&
    isCount(bar.number) &&
    Number(bar.number) === Number(last.number) + 1 &&
    sameMetre(last.metre, bar.metre) &&
    last.repeatEnd === 0 &&
    !bar.repeatStart;
  if (goesOn) run.last = bar;
  return goesOn;
};

const runsOf = (bars: readonly Bar[]): Run[] => {
  const runs: Run[] = [];
  for (const bar of bars) {
    const run = runs.at(-1);
    if (run !== undefined && extend(run, bar)) continue;
    const next = bars[1];
    const full = metreLength(bar.metre);
    const pickup =
      bar.index === 0 &&
      bar.pickup &&
      bar.number === '0' &&
      next !== undefined &&
      sameMetre(next.metre, bar.metre) &&
      (full === null || F.less(bar.length, full));
    runs.push({ first: bar, last: bar, pickup });
  }
  return runs;
};

/** Writes plans; remembers what could not be kept. */
class PlanWriter {
  readonly problems: Problem[] = [];
  readonly lines: string[] = [];
  readonly #bars: readonly Bar[];
  readonly #counts = new Map<string, number>();

  constructor(bars: readonly Bar[]) {
    this.#bars = bars;
    for (const { number } of bars) this.#counts.set(number, (this.#counts.get(number) ?? 0) + 1);
  }

  /** The bars, with every repeat whose signs stand at the two ends of one statement. */
  bars(): void {
    const numbering = new Numbering();
    const statements = runsOf(this.#bars).map(({ first, last, pickup }) => {
      if (pickup) {
        numbering.takePickup();
        return `pickup ${F.format(first.length)}`;
      }
      const labels = this.#bars.slice(first.index, last.index + 1).map(({ number }) => number);
      const follows =
        numbering.follows(first.number) === 'on' &&
        labels.every((label) => label === '' || !numbering.has(label));
      for (const label of labels) numbering.take(label);
      const range =
        first === last ? labelText(first.number) : `${labelText(first.number)}-${labelText(last.number)}`;
      const repeat =
        first.repeatStart && last.repeatEnd > 1 ? ` ${timesText(last.repeatEnd, last.repeatAfterJump)}` : '';
      return `${range} ${this.#metre(first)}${first.pickup ? ' pickup' : ''}${follows ? '' : ' renumbered'}${repeat}`;
    });
    let line = '';
    for (const statement of statements) {
      if (line !== '' && line.length + statement.length > 98) {
        this.lines.push(line);
        line = '';
      }
      line += (line === '' ? '' : '; ') + statement;
    }
    if (line !== '') this.lines.push(line);
  }

  /** Repeat signs that `bars` has not said: pairs where a start meets an end, else one sign each. */
  repeats(): void {
    const said = new Set(
      runsOf(this.#bars)
        .filter(({ first, last, pickup }) => !pickup && first.repeatStart && last.repeatEnd > 1)
        .flatMap(({ first, last }) => [`start ${first.index}`, `end ${last.index}`]),
    );
    let open: Bar | null = null;
    for (const bar of this.#bars) {
      if (bar.repeatStart) {
        if (open !== null) this.lines.push(`repeat from ${this.#where(open)}`);
        open = said.has(`start ${bar.index}`) ? null : bar;
      }
      if (bar.repeatEnd < 2 || said.has(`end ${bar.index}`)) continue;
      const words = timesText(bar.repeatEnd, bar.repeatAfterJump);
      const from = open === null ? 'to ' : `${this.#where(open)}-`;
      this.lines.push(`repeat ${from}${this.#where(bar)} ${words}`);
      open = null;
    }
    if (open !== null) this.lines.push(`repeat from ${this.#where(open)}`);
  }

  endings(): void {
    let from: Bar | null = null;
    this.#bars.forEach((bar, index) => {
      const { ending } = bar;
      if (ending === null) return;
      from ??= bar;
      const next = this.#bars[index + 1]?.ending ?? null;
      const goesOn =
        ending.ends === null &&
        next !== null &&
        !next.begins &&
        next.text === ending.text &&
        next.numbers.join() === ending.numbers.join();
      if (goesOn) return;
      const range = from === bar ? this.#where(bar) : `${this.#where(from)}-${this.#where(bar)}`;
      const text = ending.text === endingText(ending.numbers) ? '' : ` printed ${textOf(ending.text)}`;
      const begins = from.ending?.begins === true ? '' : ' continued';
      const ends = { stop: '', discontinue: ' open', none: ' unclosed' }[ending.ends ?? 'none'];
      this.lines.push(`ending ${ending.numbers.join(', ')} at ${range}${text}${begins}${ends}`);
      from = null;
    });
  }

  signs(): void {
    for (const bar of this.#bars) {
      for (const jump of bar.jumps) this.lines.push(`${jumpText(jump)} at ${this.#where(bar)}`);
      const usual = bar === this.#bars.at(-1) ? 'final' : 'regular';
      if (bar.barline !== usual)
        this.lines.push(`${bar.barline === 'none' ? 'no' : bar.barline} line at ${this.#where(bar)}`);
      if (bar.fermata) this.lines.push(`fermata after ${this.#where(bar)}`);
    }
  }

  mark(mark: Mark): void {
    const at = this.#at(mark);
    switch (mark.kind) {
      case 'tempo': {
        const figure = F.format(mark.perMinute);
        const unit = `${String(mark.unit.n)}/${String(mark.unit.d)}`;
        this.lines.push(`tempo ${unit}=${figure}${at}${mark.printed ? '' : ' not printed'}`);
        return;
      }
      case 'relation':
        this.lines.push(`old ${F.format(mark.from)} = new ${F.format(mark.to)}${at}`);
        return;
      case 'tempoWords':
        this.lines.push(`words ${textOf(mark.text)}${at}`);
        return;
      case 'rehearsal':
        this.lines.push(`mark ${textOf(mark.text)}${at}`);
    }
  }

  #metre(bar: Bar): string {
    const text = metreText(bar.metre);
    const read = parseMetre(text);
    if (read === null)
      this.problems.push(
        notKeptProblem(`The metre ${text}`, 'a bar plan cannot write it; the length of the bar is kept', {
          bar: bar.number,
        }),
      );
    if (read === null || text === 'free') return `free lasts ${F.format(bar.length)}`;
    const { symbol } = bar.metre;
    const short = { common: '4/4 C', cut: '2/2 cut', numbers: '' }[symbol];
    const drawn =
      short === `${text} C` ? 'C' : short === `${text} cut` ? 'cut' : symbol === 'numbers' ? text : '';
    const written = drawn === '' ? `${text} as ${symbol === 'common' ? 'C' : 'cut'}` : drawn;
    const full = metreLength(bar.metre);
    return full !== null && F.equal(full, bar.length) ? written : `${written} lasts ${F.format(bar.length)}`;
  }

  #where({ index, number }: Bar): string {
    return number !== '' && this.#counts.get(number) === 1 ? labelText(number) : ordinalText(index + 1);
  }

  /** " at 17+1/8"; nothing at the very beginning. A mark outside its bar moves to the bar that holds its position. */
  #at(mark: Mark): string {
    const within = (bar: Bar | undefined): bar is Bar =>
      bar !== undefined && F.atMost(bar.start, mark.at) && F.atMost(F.sub(mark.at, bar.start), bar.length);
    let bar = this.#bars[mark.bar];
    if (!within(bar)) {
      bar = this.#bars.find(within) ?? this.#bars.at(-1);
      this.problems.push(
        problem(
          'note',
          'mark-moved',
          'A mark stands outside its bar; it is written at the bar that holds it.',
          {
            bar: bar?.number ?? '',
          },
        ),
      );
    }
    if (bar === undefined) return '';
    if (!within(bar)) return ` at ${this.#where(bar)}`;
    const offset = F.sub(mark.at, bar.start);
    if (bar.index === 0 && F.isZero(offset)) return '';
    return ` at ${this.#where(bar)}${F.isZero(offset) ? '' : `+${F.format(offset)}`}`;
  }
}

const jumpText = (jump: Jump): string => {
  switch (jump.kind) {
    case 'daCapo':
      return 'D.C.';
    case 'fine':
      return 'fine';
    case 'segno':
    case 'coda':
    case 'dalSegno':
    case 'toCoda': {
      const word = { segno: 'segno', coda: 'coda', dalSegno: 'D.S.', toCoda: 'to coda' }[jump.kind];
      return jump.name === '' ? word : `${word} ${quote(jump.name)}`;
    }
  }
};

/**
 * Prints the bars and marks of any score as a bar plan, which reads back with the same bars, metres, numbers, repeats,
 * endings, jumps and marks. What a plan has no place for (the notes) is told as problems.
 */
export const writeBarPlan = (
  score: Pick<Score, 'title' | 'bars' | 'parts' | 'marks'>,
): { readonly text: string; readonly problems: readonly Problem[] } => {
  const writer = new PlanWriter(score.bars);
  if (score.title !== '') writer.lines.push(`title ${quote(score.title)}`);
  writer.bars();
  writer.repeats();
  writer.endings();
  writer.signs();
  for (const mark of score.marks) writer.mark(mark);
  if (score.parts.length > 0)
    writer.problems.push(notKeptProblem('What the parts play', 'a bar plan holds bars and marks only'));
  if (score.bars.length > maximumBars)
    writer.problems.push(
      problem(
        'note',
        'too-many-bars',
        `The score has ${score.bars.length} bars; a plan is read up to ${maximumBars}.`,
      ),
    );
  return { text: `${writer.lines.join('\n')}\n`, problems: writer.problems };
};
