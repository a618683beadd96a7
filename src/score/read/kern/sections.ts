/**
 * Section labels and expansion lists: "*>[A,A1,A,A2,B]". Source: Humdrum User's Guide, chapter 20. The model tells the order of
 * bars by repeat signs, endings and jumps. Where the file has repeat signs they are followed, and labels that add a digit to
 * another label ("A1", "A2" after "A") are endings; without signs the list is translated as far as it goes. That a minuet is
 * played again after its trio stands in the list alone as a rule: it becomes a da capo either way. The order that comes of
 * it all is compared with the list, and a difference is told.
 */
import { F } from '../../../units/index.ts';
import type { Score } from '../../model.ts';
import { playingOrder } from '../../playing.ts';
import { notKept, type Log } from '../drafts/log.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import type { Desk } from './types.ts';

interface Section {
  readonly name: string;
  readonly from: number;
  to: number;
  readonly whole: boolean;
}

export interface Sections {
  /** What stands behind "*>". */
  readonly take: (text: string, line: number) => void;
  /** Puts what labels and lists say into the drafts. */
  readonly apply: (bars: number) => void;
  /** Compares the order in which the bars are played with the list. */
  readonly check: (score: Score, log: Log) => void;
}

/** Longer lists and more labels than any piece has are not followed. */
const mostItems = 1000;

export const createSections = (
  desk: Desk,
  drafts: readonly (readonly (MeasureDraft | null)[])[],
): Sections => {
  const sections: Section[] = [];
  const byName = new Map<string, number>();
  const lists: { readonly name: string; readonly items: readonly string[] }[] = [];
  let lost = false;

  const take = (text: string, line: number): void => {
    const list = /^([^[\]]*)\[([^\]]*)\]$/.exec(text);
    const place = desk.place(null, line);
    if (list !== null) {
      const [, name = '', items = ''] = list;
      if (lists.some((one) => one.name === name)) return;
      lists.push({ name, items: items.split(',').map((item) => item.trim()) });
      return;
    }
    if (text.includes('>')) {
      notKept(desk.log, 'section/type', 'A section of an analysis', place);
      return;
    }
    desk.clock.before((at) => {
      if (byName.has(text) || sections.length >= mostItems) {
        lost = true;
        return;
      }
      byName.set(text, sections.length);
      sections.push({ name: text, from: desk.bar, to: desk.bar, whole: F.isZero(at) });
    });
  };

  /** The order to follow, as indices of sections; null where there is none or where it names what is not there. */
  const orderOf = (): readonly number[] | null => {
    const list = lists.find(({ name }) => name === '') ?? lists[0];
    if (list === undefined || lost || list.items.length > mostItems) return null;
    const order = list.items.map((item) => byName.get(item) ?? -1);
    const sound =
      order.every((one) => one >= 0) && sections.every(({ whole, from, to }) => whole && from <= to);
    return sound ? order : null;
  };

  /** The section of which this one is an ending; -1 where it is none. */
  const baseOf = (index: number): number => {
    const base = /^(.+?)\d+$/.exec(sections[index]?.name ?? '')?.[1];
    const found = base === undefined ? undefined : byName.get(base);
    return found === undefined || found >= index ? -1 : found;
  };

  const repeat = (bar: number, direction: 'forward' | 'backward', times: number): void => {
    const edge = direction === 'forward' ? 'left' : 'right';
    desk.draft(0, bar).repeats.push({ edge, direction, times, afterJump: false });
  };

  /** Brackets over the endings, numbered by the times at which the list plays them. */
  const putEndings = (order: readonly number[]): void => {
    const plays = new Map<number, number>();
    const numbers = new Map<number, number[]>();
    order.forEach((section, index) => {
      plays.set(section, (plays.get(section) ?? 0) + 1);
      const base = baseOf(section);
      if (base < 0 || order[index - 1] !== base) return;
      const own = numbers.get(section) ?? [];
      numbers.set(section, [...own, plays.get(base) ?? 1]);
    });
    for (const [index, own] of numbers) {
      const section = sections[index];
      if (section === undefined) continue;
      const text = `${own.join(', ')}.`;
      const next = baseOf(index + 1) === baseOf(index) && baseOf(index) >= 0;
      const ends = next ? 'stop' : 'discontinue';
      desk.draft(0, section.from).endings.push({ edge: 'left', type: 'start', numbers: own, text });
      desk.draft(0, section.to).endings.push({ edge: 'right', type: ends, numbers: own, text });
    }
  };

  const fromOf = (index: number): number => sections[index]?.from ?? 0;
  const toOf = (index: number): number => sections[index]?.to ?? 0;

  /** Takes a section with its endings off the list: A A1 A A2. Where it goes on; null where it does not stand there. */
  const takeEndings = (order: readonly number[], at: number, base: number): number | null => {
    let next = at;
    let last = base;
    while (order[next] === base && baseOf(order[next + 1] ?? -1) === base) {
      last = Math.max(last, order[next + 1] ?? base);
      next += 2;
    }
    if (next - at < 4) return null;
    repeat(fromOf(base), 'forward', 0);
    for (let ending = base + 1; ending < last; ending += 1) repeat(toOf(ending), 'backward', 0);
    return next;
  };

  /** Takes sections that are played several times over off the list: A A, or A B A B. */
  const takeRepeat = (
    order: readonly number[],
    at: number,
    base: number,
  ): { at: number; base: number } | null => {
    for (let size = 1; size <= Math.min(8, sections.length - base); size += 1) {
      let times = 0;
      const fits = (from: number): boolean =>
        Array.from({ length: size }, (_, n) => order[from + n] === base + n).every(Boolean);
      while (fits(at + times * size)) times += 1;
      // A da capo also plays the first sections again: a repeat of all that was played so far at the very end is one.
      const daCapo =
        base === 0 && size > 1 && times === 2 && at + 2 * size >= order.length && size < sections.length;
      if (times < 2 || daCapo) continue;
      repeat(fromOf(base), 'forward', 0);
      repeat(toOf(base + size - 1), 'backward', times);
      return { at: at + times * size, base: base + size };
    }
    return null;
  };

  const hasJump = (...kinds: readonly string[]): boolean =>
    drafts.some((part) =>
      part.some((draft) => draft?.jumps.some(({ kind }) => kinds.includes(kind)) === true),
    );

  /** From the end of one section back to the beginning, up to the end of another; null for the whole piece. */
  const putDaCapo = (from: number, fine: number | null): void => {
    const put = (bar: number, kind: 'daCapo' | 'fine'): void => {
      const draft = desk.draft(0, bar);
      draft.jumps.push({ name: '', from: 'sound', text: '', kind, at: draft.extent });
    };
    put(toOf(from), 'daCapo');
    if (fine !== null && !hasJump('fine')) put(toOf(fine), 'fine');
  };

  const translate = (order: readonly number[]): void => {
    let at = 0;
    let base = 0;
    while (at < order.length && order[at] === base) {
      const afterEndings = takeEndings(order, at, base);
      if (afterEndings !== null) {
        base = Math.max(...order.slice(at, afterEndings)) + 1;
        at = afterEndings;
        continue;
      }
      const repeated = takeRepeat(order, at, base);
      if (repeated !== null) ({ at, base } = repeated);
      else {
        at += 1;
        base += 1;
      }
    }
    const rest = order.slice(at);
    if (base !== sections.length || rest.length === 0 || rest.some((one, index) => one !== index)) return;
    putDaCapo(base - 1, rest.length < base ? rest.length - 1 : null);
  };

  /** Beside repeat signs: what the list plays behind the last section, from the first on, is a da capo. */
  const translateDaCapo = (order: readonly number[]): void => {
    const last = sections.length - 1;
    const at = order.findLastIndex((one, index) => one === 0 && order[index - 1] === last);
    if (at < 0 || last < 1 || hasJump('daCapo', 'dalSegno')) return;
    const head = order.slice(0, at);
    // A repeat sign at the end goes back as well, and is what the list means where the section stands there once.
    const repeats = desk.draft(0, toOf(last)).repeats.some(({ direction }) => direction === 'backward');
    if (repeats && head.filter((one) => one === last).length === 1) return;
    const again = order.slice(at);
    const rising = again.every((one, index) => index === 0 || one > (again[index - 1] ?? 0));
    const alike = again.every((one, index) => one === head[index]);
    if (!rising && !alike) return;
    const end = Math.max(...again);
    putDaCapo(last, end < last ? end : null);
    if (rising) return;
    // The repeats are played once more too.
    for (let bar = 0; bar <= toOf(end); bar += 1) {
      const { repeats: own } = desk.draft(0, bar);
      own.splice(0, own.length, ...own.map((one) => ({ ...one, afterJump: true })));
    }
  };

  let wanted: readonly number[] | null = null;

  const apply = (bars: number): void => {
    sections.forEach((section, index) => {
      section.to = (sections[index + 1]?.from ?? bars) - 1;
    });
    for (const { name } of lists.slice(lists[0]?.name === '' ? 1 : 0))
      // "norep" is the piece without repeats, which any passage can be played without.
      if (name !== '' && name !== 'norep' && lists.length > 1)
        notKept(
          desk.log,
          `list ${name.slice(0, 40)}`,
          `Another order of the sections (*>${name.slice(0, 40)})`,
          {},
        );
    if (lists.length === 0) {
      sections.forEach(() => notKept(desk.log, 'section', 'A label of a section', {}));
      return;
    }
    const order = orderOf();
    if (order === null) {
      desk.log.say(
        'repair',
        'expansion-differs',
        'The file lists the order of its sections, but the list does not fit the labels in it; repeat signs are followed as they stand.',
      );
      return;
    }
    putEndings(order);
    let signs = false;
    for (let bar = 0; bar < bars && !signs; bar += 1)
      signs = desk.draft(0, bar).repeats.some(({ direction }) => direction === 'backward');
    if (signs) translateDaCapo(order);
    else translate(order);
    const before = Array.from({ length: fromOf(0) }, (_, bar) => bar);
    wanted = [
      ...before,
      ...order.flatMap((one) =>
        Array.from({ length: toOf(one) - fromOf(one) + 1 }, (_, bar) => fromOf(one) + bar),
      ),
    ];
  };

  const check = (score: Score, log: Log): void => {
    if (wanted === null) return;
    const played = playingOrder(score).order.visits.map(({ barIndex }) => barIndex);
    const same = played.length === wanted.length && wanted.every((bar, index) => bar === played[index]);
    if (same) return;
    const list = lists.find(({ name }) => name === '') ?? lists[0];
    log.say(
      'repair',
      'expansion-differs',
      `The file lists the order of its sections as ${(list?.items ?? []).join(', ').slice(0, 200)}; by its repeat signs, as read, ${played.length} bars are played in another order than these ${wanted.length}.`,
    );
  };

  return { take, apply, check };
};
