/** Metronome marks and changes of beat. Source: MusicXML 4.0, metronome. */
import { beats, bpm, F, type Beats, type Bpm, type Fraction, type Place } from '../../../units/index.ts';
import { attribute, child, childText, collapse, type XmlElement } from '../xml.ts';
import type { MarkDraft } from '../drafts/draft.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { noteType, valueLength } from '../drafts/values.ts';
import { decimal, integerWithin } from './values.ts';

/** Slower and faster than anyone plays: beats per minute of whatever unit. */
const tempoRange = { least: F.fraction(1), most: F.fraction(10_000) } as const;

/** A tempo that can be meant; null else. */
export const believable = (value: Fraction | null): Bpm | null =>
  value !== null && F.atMost(tempoRange.least, value) && F.atMost(value, tempoRange.most) ? bpm(value) : null;

const lengthOf = (typeText: string, dots: number): Fraction | null => {
  const type = noteType(typeText);
  return type === null ? null : valueLength({ type, dots: Math.min(dots, 8) });
};

/** The beat units of a mark in order: each type with its dots, and with what is tied to it. */
const beatUnits = (element: XmlElement): (Fraction | null)[] => {
  const units: (Fraction | null)[] = [];
  let type = '';
  let dots = 0;
  let tiedTo: Fraction | null = null;
  const finish = (): void => {
    if (type === '') return;
    const own = lengthOf(type, dots);
    units.push(own === null ? null : tiedTo === null ? own : F.add(tiedTo, own));
    type = '';
    dots = 0;
    tiedTo = null;
  };
  for (const item of element.children) {
    if (item.name === 'beat-unit') {
      finish();
      type = item.text.trim();
    } else if (item.name === 'beat-unit-dot') dots += 1;
    else if (item.name === 'beat-unit-tied') {
      const [more] = beatUnits(item);
      const before = type === '' ? null : lengthOf(type, dots);
      if (more !== undefined && more !== null && before !== null) {
        tiedTo = tiedTo === null ? more : F.add(tiedTo, more);
      }
    }
  }
  finish();
  return units;
};

/** Sum of the notes on each side of a relation written with metronome-note; null for a value that is none. */
const relationSides = (element: XmlElement): { sides: (Fraction | null)[]; counts: number[] } => {
  const sides: (Fraction | null)[] = [F.zero];
  const counts = [0];
  for (const item of element.children) {
    if (item.name === 'metronome-relation') {
      sides.push(F.zero);
      counts.push(0);
    }
    if (item.name !== 'metronome-note') continue;
    const dots = item.children.filter(({ name }) => name === 'metronome-dot').length;
    const own = lengthOf(childText(item, 'metronome-type'), dots);
    const tuplet = child(item, 'metronome-tuplet');
    const actual = tuplet === undefined ? 1 : integerWithin(childText(tuplet, 'actual-notes'), 1, 999);
    const normal = tuplet === undefined ? 1 : integerWithin(childText(tuplet, 'normal-notes'), 1, 999);
    const last = sides.length - 1;
    const sum = sides[last] ?? null;
    // Only single notes make a change of beat, so a tuplet over several notes need not be followed through.
    sides[last] =
      own === null || sum === null || actual === null || normal === null
        ? null
        : F.add(sum, F.mul(own, F.fraction(normal, actual)));
    counts[last] = (counts[last] ?? 0) + 1;
  }
  return { sides, counts };
};

const number = String.raw`\d{1,9}(?:[.,]\d{1,9})?`;
/** Words and signs for "about", and the letters that stand before or behind such figures. Common practice, no source. */
const about = String.raw`(?:(?:circa|ca|c|approximately|approx|about|around|etwa|um|environ|env|mm|m\.m|bpm)(?![a-z])\.?|[~\u2248=])`;
const figures = new RegExp(
  String.raw`^[([]? ?(?:${about} ?){0,3}(${number})(?: ?(?:[-\u2010-\u2015/]|(?:to|bis|a|\u00e0|or|oder|ou)(?![a-z])) ?(${number}))?(?: ?${about}){0,2} ?[)\]]?$`,
  'i',
);
/** No such figure is longer. Characters. */
const longestFigure = 60;

/**
 * The figure of a mark. MusicXML 4.0, per-minute: "a number, or a text description including numbers". Read are a plain decimal;
 * a figure with "c." or the like before or behind it; and a range such as "100-110", of which the middle is taken.
 * Null for every other text: half of a text that is not understood is no tempo.
 */
const figureOf = (text: string): { value: Fraction | null; vague: boolean } => {
  const plain = /e/i.test(text) ? null : decimal(text.replace(',', '.'));
  if (plain !== null) return { value: plain, vague: false };
  const match = text.length > longestFigure ? null : figures.exec(text);
  const [first = null, second = null] = [match?.[1], match?.[2]].map((part) =>
    part === undefined ? null : decimal(part.replace(',', '.')),
  );
  if (first === null) return { value: null, vague: true };
  return { value: second === null ? first : F.div(F.add(first, second), F.fraction(2)), vague: true };
};

const readFigure = (
  element: XmlElement,
  unit: Beats,
  at: Beats,
  bar: number,
  log: Log,
  place: Place,
): MarkDraft | null => {
  const text = collapse(childText(element, 'per-minute'));
  const { value, vague } = figureOf(text);
  const perMinute = believable(value);
  if (perMinute === null) {
    const why = value === null ? 'which is not understood' : 'which is no tempo that can be played';
    log.say(
      'repair',
      'tempo-unreadable',
      `A metronome mark says "${text.slice(0, 40)}" beats a minute, ${why}; it is left out.`,
      place,
    );
    return null;
  }
  const printed = attribute(element, 'print-object') !== 'no';
  return { mark: { kind: 'tempo', at, bar, unit, perMinute, printed }, vague: vague ? text : null };
};

/**
 * Reads one `metronome`. A change of beat is read as musicians write it: the old beat first, then the new one of the
 * same duration. Null, with a problem, where it says nothing that can be used.
 */
export const readMetronome = (
  element: XmlElement,
  at: Beats,
  bar: number,
  log: Log,
  place: Place,
): MarkDraft | null => {
  const unreadable = (): null => {
    log.say(
      'repair',
      'tempo-unreadable',
      'A metronome mark has no note value that can be read; it is left out.',
      place,
    );
    return null;
  };
  if (child(element, 'metronome-note') !== undefined) {
    const { sides, counts } = relationSides(element);
    const [from, to] = sides;
    if (from === undefined || to === undefined || counts.some((count) => count > 1)) {
      notKept(
        log,
        'metronome-note',
        'A mark that tells how a group of notes is to be played (such as swing)',
        place,
      );
      return null;
    }
    if (from === null || to === null || !F.isPositive(from) || !F.isPositive(to)) return unreadable();
    return { mark: { kind: 'relation', at, bar, from: beats(from), to: beats(to) }, vague: null };
  }
  const [from, to] = beatUnits(element);
  if (from === undefined || from === null) return unreadable();
  if (child(element, 'per-minute') !== undefined)
    return readFigure(element, beats(from), at, bar, log, place);
  if (to === undefined || to === null) return unreadable();
  return { mark: { kind: 'relation', at, bar, from: beats(from), to: beats(to) }, vague: null };
};
