import {
  beats,
  bpm,
  countText,
  F,
  figureText,
  lengthText,
  ok,
  problem,
  Refusal,
  type Beats,
  type Place,
  type Problem,
  type Result,
} from '../../../units/index.ts';
import type { Mark, Score } from '../../model.ts';
import { BarLayer, type DraftBar } from './lay.ts';
import { plausibleTempo } from './limits.ts';
import { endingText, type Statement, type Where } from './statement.ts';
import { beatOf } from './values.ts';

const named = (where: Where): string =>
  'ordinal' in where.bar ? `number ${where.bar.ordinal} in the plan` : where.bar.number;

/** Puts signs and marks on bars that are laid. */
class Builder {
  readonly problems: Problem[] = [];
  readonly marks: Mark[] = [];
  readonly #bars: readonly DraftBar[];
  readonly #byNumber = new Map<string, number[]>();
  readonly #until: { readonly kind: 'fine' | 'coda'; readonly place: Place }[] = [];

  constructor(bars: readonly DraftBar[]) {
    this.#bars = bars;
    for (const { number, index } of bars) {
      const known = this.#byNumber.get(number);
      if (known === undefined) this.#byNumber.set(number, [index]);
      else known.push(index);
    }
  }

  put(statement: Statement): void {
    switch (statement.kind) {
      case 'title':
      case 'pickup':
      case 'bars':
        return;
      case 'repeat':
        this.#repeat(statement);
        return;
      case 'ending':
        this.#ending(statement);
        return;
      case 'jump':
        if (statement.until !== null) this.#until.push({ kind: statement.until, place: statement.at.place });
        this.#bar(statement.at).jumps.push(statement.jump);
        return;
      case 'barline':
        this.#bar(statement.at).barline = statement.barline;
        return;
      case 'fermata':
        this.#bar(statement.after).fermata = true;
        return;
      case 'tempo':
        this.#tempo(statement);
        return;
      case 'relation':
        this.marks.push({
          kind: 'relation',
          ...this.#at(statement.at),
          from: statement.from,
          to: statement.to,
        });
        return;
      case 'words':
        this.marks.push({ kind: 'tempoWords', ...this.#at(statement.at), text: statement.text });
        return;
      case 'rehearsal':
        this.marks.push({ kind: 'rehearsal', ...this.#at(statement.at), text: statement.text });
    }
  }

  /** "al fine" and "al coda" say nothing that the signs do not, so the sign has to be there. */
  checkTargets(): void {
    const kinds = new Set(this.#bars.flatMap(({ jumps }) => jumps.map(({ kind }) => kind)));
    for (const { kind, place } of this.#until)
      if (!kinds.has(kind))
        this.problems.push(
          problem(
            'assumption',
            kind === 'fine' ? 'fine-missing' : 'jump-target-missing',
            `This goes on until the ${kind}, but no bar has a ${kind}. Add, for example, "${kind} at 24".`,
            place,
          ),
        );
  }

  #bar(where: Where): DraftBar {
    if ('ordinal' in where.bar) {
      const bar = this.#bars[where.bar.ordinal - 1];
      if (bar !== undefined) return bar;
      throw new Refusal(
        'bar-unknown',
        `The plan has ${countText(this.#bars.length, 'bar', 'bars')}, fewer than that.`,
        where.place,
      );
    }
    const { number } = where.bar;
    const [first, ...others] = this.#byNumber.get(number) ?? [];
    const bar = first === undefined ? undefined : this.#bars[first];
    if (bar === undefined) {
      const last = this.#bars.at(-1)?.number ?? '';
      throw new Refusal(
        'bar-unknown',
        `Bar ${number} is not in the plan, which ends with bar ${last}.`,
        where.place,
      );
    }
    if (others.length > 0)
      this.problems.push(
        problem(
          'assumption',
          'bar-number-ambiguous',
          `Bar ${number} is there ${others.length + 1} times; the first is taken. To mean another, count from the ` +
            `beginning of the plan: "${others[0] === undefined ? '' : String(others[0] + 1)}th bar".`,
          { ...where.place, bar: number },
        ),
      );
    return bar;
  }

  #at(where: Where | null): { readonly at: Beats; readonly bar: number } {
    const bar = where === null ? this.#bars[0] : this.#bar(where);
    if (bar === undefined) throw new Refusal('no-bars', 'The plan has no bars.');
    if (where !== null && F.less(bar.length, where.offset))
      throw new Refusal(
        'position-outside-bar',
        `Bar ${named(where)} lasts ${lengthText(bar.length)}, less than ${F.format(where.offset)}.`,
        where.place,
      );
    return { at: beats(F.add(bar.start, where?.offset ?? F.zero)), bar: bar.index };
  }

  #repeat({ from, to, words }: Extract<Statement, { kind: 'repeat' }>): void {
    const start = from === null ? null : this.#bar(from);
    const end = to === null ? null : this.#bar(to);
    if (start !== null && end !== null && to !== null && end.index < start.index)
      throw new Refusal('bars-reversed', 'This repeat ends before it begins.', to.place);
    if (words.times < 2) return;
    if (start !== null) start.repeatStart = true;
    if (end === null) return;
    end.repeatEnd = words.times;
    end.repeatAfterJump = words.afterJump;
  }

  #ending(statement: Extract<Statement, { kind: 'ending' }>): void {
    const { numbers, begins, ends, from, to } = statement;
    const [first, last] = [this.#bar(from), this.#bar(to)];
    if (last.index < first.index)
      throw new Refusal('bars-reversed', 'This ending stops before it begins.', to.place);
    const text = statement.text ?? endingText(numbers);
    for (const bar of this.#bars.slice(first.index, last.index + 1)) {
      if (bar.ending !== null)
        throw new Refusal('ending-overlap', `Bar ${bar.number} stands under two endings.`, from.place);
      bar.ending = {
        numbers,
        text,
        begins: begins && bar === first,
        ends: bar === last ? ends : null,
      };
    }
  }

  #tempo({ unit, perMinute, printed, at, place }: Extract<Statement, { kind: 'tempo' }>): void {
    const where = this.#at(at);
    const number = this.#bars[where.bar]?.number ?? '';
    const metre = this.#bars[where.bar]?.metre;
    if (unit === null)
      this.problems.push(
        problem(
          'assumption',
          'tempo-unit-assumed',
          `The tempo ${figureText(perMinute)} names no note value; it is taken to count the beats of bar ${number}.`,
          { ...place, bar: number },
        ),
      );
    const counted = unit ?? (metre === undefined ? beats(F.fraction(1, 4)) : beatOf(metre));
    const quarters = F.mul(perMinute, F.mul(counted, F.fraction(4)));
    const { slowest, fastest } = plausibleTempo;
    if (F.less(quarters, F.fraction(slowest)) || F.less(F.fraction(fastest), quarters))
      this.problems.push(
        problem(
          'note',
          'tempo-absurd',
          `A tempo of ${F.format(counted)} = ${figureText(perMinute)} is hardly meant; it is kept as written.`,
          { ...place, bar: number },
        ),
      );
    this.marks.push({ kind: 'tempo', ...where, unit: counted, perMinute: bpm(perMinute), printed });
  }
}

/** Makes a score of statements. Throws Refusal, for `refusable`. */
export const buildScore = (statements: readonly Statement[]): Result<Score> => {
  const layer = new BarLayer();
  const bars = statements.filter((statement) => statement.kind === 'bars');
  const pickups = statements.filter((statement) => statement.kind === 'pickup');
  const titles = statements.filter((statement) => statement.kind === 'title');
  const [pickup, second] = pickups;
  if (second !== undefined)
    throw new Refusal(
      'pickup-twice',
      'The plan has two pickups. A later short bar is written "16b 4/4 lasts 1/4 pickup".',
      second.place,
    );
  if (bars.length === 0)
    throw new Refusal(
      'no-bars',
      'The plan names no bars. Write, for example, "1-16 4/4".',
      pickup?.place ?? {},
    );
  if (pickup !== undefined) layer.pickup(pickup, bars[0]?.metre ?? null);
  const signs: Statement[] = [];
  for (const statement of statements) {
    const sign = statement.kind === 'bars' ? layer.take(statement) : statement;
    if (sign !== null) signs.push(sign);
  }
  const last = layer.bars.at(-1);
  if (last !== undefined) last.barline = 'final';
  const builder = new Builder(layer.bars);
  for (const sign of signs) builder.put(sign);
  builder.checkTargets();
  const marks = [...builder.marks].sort((a, b) => F.compare(a.at, b.at));
  const title = titles.map(({ text }) => text).join(', ');
  return ok({ title, source: 'barplan', bars: layer.bars, parts: [], marks }, [
    ...layer.problems,
    ...builder.problems,
  ]);
};
