/**
 * Into how many parts a quarter is divided, where the file does not say, or says nonsense. Source: MusicXML 4.0,
 * divisions and type. With none stated the agreed default is 1 (the public MusicXML test suite, 03e); but a printed value beside
 * each duration tells more than a default does.
 */
import { F, type Fraction } from '../../../units/index.ts';
import { attribute, child, childText, type XmlElement } from '../xml.ts';
import { noteType, valueLength } from '../drafts/values.ts';
import { decimal, integerWithin } from './values.ts';

/** The largest number of divisions that is believed. */
const mostDivisions = F.fraction(1_000_000_000);

/** A number of divisions that can be meant; null else. */
export const readableDivisions = (text: string): Fraction | null => {
  const value = decimal(text);
  return value !== null && F.isPositive(value) && F.atMost(value, mostDivisions) ? value : null;
};

/** The share of a tuplet note in its value; null where the tuplet can not be read. */
const tupletShare = (note: XmlElement): Fraction | null => {
  const element = child(note, 'time-modification');
  if (element === undefined) return F.one;
  const actual = integerWithin(childText(element, 'actual-notes'), 1, 10_000);
  const normal = integerWithin(childText(element, 'normal-notes'), 1, 10_000);
  return actual === null || normal === null ? null : F.fraction(normal, actual);
};

/** Divisions of a quarter by one note's duration and printed value; null for a note that does not tell. */
const byNote = (note: XmlElement): Fraction | null => {
  const rest = child(note, 'rest');
  const type = noteType(childText(note, 'type'));
  // A rest for the whole bar is drawn as a whole rest in any metre.
  const drawsBar = rest !== undefined && (attribute(rest, 'measure') === 'yes' || type === 'whole');
  if (drawsBar || child(note, 'grace') !== undefined) return null;
  const duration = decimal(childText(note, 'duration'));
  const share = tupletShare(note);
  if (type === null || duration === null || share === null || !F.isPositive(duration)) return null;
  const dots = note.children.filter(({ name }) => name === 'dot').length;
  const value = F.mul(valueLength({ type, dots: Math.min(dots, 8) }), share);
  return F.div(duration, F.mul(value, F.fraction(4)));
};

/**
 * The divisions on which all notes with a printed value agree, up to the next statement of divisions: from the beginning
 * of a measure (by its place among all measures of the part), or behind its item `after`. Null where they do not agree
 * or none tells.
 */
export const divisionsByValues = (
  measures: readonly (XmlElement | null)[],
  from: number,
  after: XmlElement | null,
): Fraction | null => {
  let agreed: Fraction | null = null;
  for (let bar = from; bar < measures.length; bar += 1) {
    const items = measures[bar]?.children ?? [];
    const first = bar === from && after !== null ? items.indexOf(after) + 1 : 0;
    for (const item of items.slice(first)) {
      if (item.name === 'attributes' && childText(item, 'divisions') !== '') return agreed;
      const found = item.name === 'note' ? byNote(item) : null;
      if (found === null) continue;
      if (F.less(mostDivisions, found) || (agreed !== null && !F.equal(agreed, found))) return null;
      agreed = found;
    }
  }
  return agreed;
};
