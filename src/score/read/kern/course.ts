/** Bars from bar line to bar line: their drafts, edges and numbers. */
import { F, Refusal, type Fraction } from '../../../units/index.ts';
import type { Metre } from '../../metre.ts';
import type { Bar } from '../../model.ts';
import { emptyMeasure, type MeasureDraft } from '../drafts/draft.ts';
import type { Column } from '../drafts/layOut.ts';
import type { Log } from '../drafts/log.ts';
import { finishBar } from './bar.ts';
import type { Barline } from './barline.ts';
import { numbersOf, type RawBar } from './numbers.ts';
import type { Desk } from './types.ts';

/** Bars times parts: a million notes stay far below. */
const mostCells = 2_000_000;

const styleNames: Readonly<Record<Bar['barline'], string>> = {
  regular: 'regular',
  double: 'light-light',
  final: 'light-heavy',
  dashed: 'dashed',
  dotted: 'dotted',
  none: 'none',
  other: 'heavy',
};

export interface Course {
  /** Columns begin anew: another movement, or the first. */
  readonly movement: () => void;
  /** A line of data stands in the bar. */
  readonly music: () => void;
  readonly hasMusic: () => boolean;
  /** How far the bar reaches. */
  readonly extent: () => Fraction;
  readonly metre: () => Metre | null;
  /** The bar that a bar line here ends. */
  readonly barBefore: () => number;
  readonly barline: (sign: Barline) => void;
  readonly end: () => void;
  /** All bars, part by part. */
  readonly columns: (log: Log) => readonly Column[];
  readonly count: () => number;
  /** Printed number of the bar that is being read, as far as it is known. */
  readonly number: () => string;
}

/** The drafts of all parts and bars, made when first asked for. */
export const createDrafts = (parts: number): { all: (MeasureDraft | null)[][]; of: Desk['draft'] } => {
  const all = Array.from({ length: parts }, (): (MeasureDraft | null)[] => []);
  return {
    all,
    of: (part, bar) => {
      const own = (all[part] ??= []);
      while (own.length <= bar) own.push(null);
      return (own[bar] ??= emptyMeasure('', false));
    },
  };
};

const same = (a: Fraction, b: Fraction): boolean => a.n === b.n && a.d === b.d;

/** A key that all staves of a part change to at once holds for all of them: staff null. */
const joinKeys = (draft: MeasureDraft, staves: number): void => {
  const { keys } = draft;
  for (let index = keys.length - 1; index >= 0; index -= 1) {
    const key = keys[index];
    if (key === undefined) continue;
    const alike = keys.filter(
      (other) => same(other.at, key.at) && other.fifths === key.fifths && other.mode === key.mode,
    );
    const all = new Set(alike.map(({ staff }) => staff));
    const whole = all.has(null) || all.size === staves;
    const first = keys.indexOf(alike[0] ?? key);
    if (whole) keys[first] = { ...key, staff: null };
    if (
      whole
        ? index !== first
        : keys.findIndex((other) => alike.includes(other) && other.staff === key.staff) !== index
    )
      keys.splice(index, 1);
  }
};

export const createCourse = (desk: Desk, drafts: ReturnType<typeof createDrafts>): Course => {
  const raw: RawBar[] = [];
  let current: Metre | null = null;
  let music = false;
  /** No note of the movement was read yet: bar lines here end nothing. */
  let opening = true;
  let number = '';
  let barred = false;
  let repeatStart = false;
  /** The bar that ends with a double line of which it is not yet known whether more follows. */
  let openDouble = -1;

  const parts = desk.plan.parts.length;
  const here = (part: number): MeasureDraft | null => drafts.all[part]?.[desk.bar] ?? null;

  const extent = (): Fraction => {
    let most = F.zero;
    for (let part = 0; part < parts; part += 1) {
      const draft = here(part);
      if (draft !== null) most = F.max(most, F.max(draft.extent, draft.restExtent));
    }
    return most;
  };
  const metre = (): Metre | null => {
    for (let part = 0; part < parts; part += 1) {
      const own = here(part)?.metres.at(-1);
      if (own !== undefined) return own.metre;
    }
    return current;
  };
  const close = (): void => {
    if ((desk.bar + 1) * parts > mostCells)
      throw new Refusal('file-too-large', 'The file has more bars times parts than any score.');
    const length = extent();
    desk.clock.barEnds(length);
    for (let part = 0; part < parts; part += 1) {
      const draft = here(part);
      if (draft === null) continue;
      finishBar(desk, part, draft);
    }
    current = metre();
    raw.push({ number, barred, length, metre: current });
    desk.lengths.push(length);
    music = false;
    number = '';
    barred = false;
    desk.bar += 1;
  };

  /** Two equals signs at the end of a movement are its closing line. */
  const endDouble = (): void => {
    if (openDouble >= 0) desk.draft(0, openDouble).styles.push({ edge: 'right', style: 'light-heavy' });
    openDouble = -1;
  };

  const course: Course = {
    movement: () => {
      if (music) close();
      endDouble();
      opening = true;
      number = '';
      barred = false;
    },
    music: () => {
      if (music) return;
      music = true;
      opening = false;
      if (openDouble >= 0) desk.draft(0, openDouble).styles.push({ edge: 'right', style: 'light-light' });
      openDouble = -1;
      if (repeatStart)
        desk
          .draft(0, desk.bar)
          .repeats.push({ edge: 'left', direction: 'forward', times: 0, afterJump: false });
      repeatStart = false;
    },
    hasMusic: () => music,
    extent,
    metre,
    barBefore: () => Math.max(0, music ? desk.bar : desk.bar - 1),
    barline: (sign) => {
      if (music) close();
      const before = desk.bar - 1;
      if (sign.number !== '') number = sign.number;
      barred = true;
      repeatStart ||= sign.repeatStart;
      if (before < 0 || opening) {
        if (sign.repeatEnd)
          desk.log.say('repair', 'repeat-nothing', 'A repeat ends before the first bar; it is left out.');
        return;
      }
      const draft = desk.draft(0, before);
      if (sign.repeatEnd)
        draft.repeats.push({ edge: 'right', direction: 'backward', times: 0, afterJump: false });
      if (sign.fermata) draft.fermatas.push({ edge: 'right', shape: '' });
      if (sign.style !== null) draft.styles.push({ edge: 'right', style: styleNames[sign.style] });
      else if (sign.repeatEnd) draft.styles.push({ edge: 'right', style: 'light-heavy' });
      else if (sign.double) openDouble = before;
    },
    end: () => {
      if (music) close();
      endDouble();
      const last = raw.at(-1);
      if (last === undefined) return;
      desk.bar = raw.length - 1;
      desk.clock.end(last.length);
    },
    columns: (log) => {
      const numbers = numbersOf(raw, log);
      return desk.plan.parts.map(({ head, staves }, part): Column => ({
        head,
        staves,
        drafts: raw.map((_, bar): MeasureDraft | null => {
          const draft = drafts.all[part]?.[bar] ?? null;
          const own = numbers[bar];
          if (draft === null || own === undefined) return null;
          joinKeys(draft, staves);
          for (const list of [draft.clefs, draft.keys])
            list.sort((a, b) => F.compare(a.at, b.at) || (a.staff ?? 0) - (b.staff ?? 0));
          return { ...draft, number: own.number, implicit: own.implicit };
        }),
      }));
    },
    count: () => raw.length,
    number: () => number,
  };
  return course;
};
