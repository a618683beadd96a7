import { beats, F, problem, Refusal, type Beats, type Problem } from '../../../units/index.ts';
import { metreLength, metreText, noMetre, type Metre } from '../../metre.ts';
import type { Bar, Jump } from '../../model.ts';
import { maximumBars } from './limits.ts';
import { Numbering } from './numbering.ts';
import type { BarsStatement, Statement, TextPlace, Where } from './statement.ts';
import { isUsualMetre, plainLabel } from './values.ts';

/** A bar while it is being made. */
export type DraftBar = { -readonly [Key in Exclude<keyof Bar, 'jumps'>]: Bar[Key] } & { jumps: Jump[] };

type Pickup = Extract<Statement, { kind: 'pickup' }>;

const labelsOf = ({ labels }: BarsStatement, numbering: Numbering): string[] => {
  switch (labels.kind) {
    case 'range':
      return Array.from({ length: labels.last - labels.first + 1 }, (_, k) => String(labels.first + k));
    case 'label':
      return [labels.printed ? labels.text : plainLabel(labels.text)];
    case 'count': {
      const { last } = numbering;
      return Array.from({ length: labels.count }, (_, k) => (labels.numbered ? String(last + k + 1) : ''));
    }
  }
};

/** Lays bars end to end as the statements say. */
export class BarLayer {
  readonly bars: DraftBar[] = [];
  readonly problems: Problem[] = [];
  readonly #numbering = new Numbering();
  #metre: Metre | null = null;
  #spoken = 0;
  #end: Beats = beats(F.zero);

  /** The pickup comes first, wherever the plan says it; its metre is that of the bars after it. */
  pickup({ length, place }: Pickup, next: Metre | null): void {
    const full = next === null ? null : metreLength(next);
    if (full !== null && !F.less(length, full))
      throw new Refusal(
        'pickup-too-long',
        `A pickup of ${F.format(length)} fills a bar of ${metreText(next ?? noMetre)}. Give it a bar number instead.`,
        place,
      );
    this.#push('0', next ?? noMetre, length, true);
    this.#numbering.takePickup();
  }

  /** Lays the bars of one statement; or gives back a repeat that it asks for over bars that are there already. */
  take(statement: BarsStatement): Statement | null {
    const { place, repeat } = statement;
    const labels = labelsOf(statement, this.#numbering);
    this.#spoken += labels.length;
    if (this.#spoken > 4 * maximumBars)
      throw new Refusal('too-many-bars', `The plan speaks of more than ${4 * maximumBars} bars.`, place);
    if (repeat !== null && this.#speaksOfOldBars(statement, labels)) return repeatOver(labels, statement);
    this.#checkNumbers(labels, statement);
    const metre = this.#metreFor(statement);
    const length = statement.lasts ?? metreLength(metre);
    if (length === null)
      throw new Refusal(
        'length-missing',
        'Bars without metre need a length: write, for example, "12 free lasts 9/4".',
        place,
      );
    if (this.bars.length + labels.length > maximumBars)
      throw new Refusal('too-many-bars', `The plan has more than ${maximumBars} bars.`, place);
    const first = this.bars.length;
    for (const label of labels) {
      this.#push(label, metre, length, statement.pickup);
      this.#numbering.take(label);
    }
    if (repeat === null || repeat.times < 2) return null;
    return {
      kind: 'repeat',
      from: ordinal(first, place),
      to: ordinal(this.bars.length - 1, place),
      words: repeat,
    };
  }

  #speaksOfOldBars({ metre, lasts, pickup, renumbered }: BarsStatement, labels: readonly string[]): boolean {
    return (
      metre === null &&
      lasts === null &&
      !pickup &&
      !renumbered &&
      labels.every((label) => label !== '' && this.#numbering.has(label))
    );
  }

  #metreFor({ metre, place }: BarsStatement): Metre {
    const value = metre ?? this.#metre;
    if (value === null)
      throw new Refusal('metre-missing', 'The metre is missing. Write, for example, "1-16 4/4".', place);
    if (metre !== null && !isUsualMetre(metre))
      this.problems.push(
        problem('note', 'metre-unusual', `The metre ${metreText(metre)} is unusual; it is kept as written.`, {
          ...place,
        }),
      );
    this.#metre = value;
    return value;
  }

  #checkNumbers(labels: readonly string[], { renumbered, place }: BarsStatement): void {
    const [first] = labels;
    if (renumbered || first === undefined) return;
    const overlap =
      this.#numbering.follows(first) === 'overlap'
        ? first
        : labels.find((label) => label !== '' && this.#numbering.has(label));
    if (overlap !== undefined)
      throw new Refusal(
        'bar-numbers-overlap',
        `Bar ${overlap} comes after bar ${this.#numbering.last}, or twice. If the paper counts anew here, add "renumbered".`,
        place,
      );
    if (this.#numbering.follows(first) === 'gap')
      this.problems.push(
        problem(
          'assumption',
          'bar-numbers-gap',
          `Bar ${first} follows bar ${this.#numbering.last}: taken as a gap in the numbers, not in the music. ` +
            'If the paper has it so, add "renumbered".',
          { ...place, bar: first },
        ),
      );
  }

  #push(number: string, metre: Metre, length: Beats, pickup: boolean): void {
    this.bars.push({
      index: this.bars.length,
      number,
      start: this.#end,
      length,
      metre,
      pickup,
      repeatStart: false,
      repeatEnd: 0,
      repeatAfterJump: false,
      ending: null,
      jumps: [],
      barline: 'regular',
      fermata: false,
    });
    this.#end = beats(F.add(this.#end, length));
  }
}

const ordinal = (index: number, place: TextPlace): Where => ({
  bar: { ordinal: index + 1 },
  offset: F.zero,
  place,
});

const repeatOver = (labels: readonly string[], { repeat, place }: BarsStatement): Statement => ({
  kind: 'repeat',
  from: { bar: { number: labels[0] ?? '' }, offset: F.zero, place },
  to: { bar: { number: labels.at(-1) ?? '' }, offset: F.zero, place },
  words: repeat ?? { times: 2, afterJump: false },
});
