/**
 * Sets the parts' measures side by side. As a rule the nth measures of all parts belong together; where a part has
 * fewer than others, its measures go where their numbers stand ("the number attribute should be the same for
 * measures in different parts that share the same left barline": MusicXML 4.0, measure).
 */
import { attribute, type XmlElement } from '../xml.ts';
import type { Log } from '../drafts/log.ts';
import type { PartShape } from './shape.ts';

type Column = readonly (XmlElement | null)[];

const numberOf = (measure: XmlElement | null): string =>
  measure === null ? '' : attribute(measure, 'number');

/** Places a short column by its numbers; null where they do not all occur in order. */
const byNumber = (column: Column, reference: Column): Column | null => {
  const placed: (XmlElement | null)[] = reference.map(() => null);
  let from = 0;
  for (const measure of column) {
    const number = numberOf(measure);
    while (from < reference.length && numberOf(reference[from] ?? null) !== number) from += 1;
    if (from >= reference.length) return null;
    placed[from] = measure;
    from += 1;
  }
  return placed;
};

/** All columns of equal length; the shorter ones filled with null, each with a problem. */
export const aligned = (parts: readonly PartShape[], log: Log): readonly Column[] => {
  const count = parts.reduce((most, { measures }) => Math.max(most, measures.length), 0);
  const reference = parts.find(({ measures }) => measures.length === count)?.measures ?? [];
  return parts.map(({ id, measures }): Column => {
    const column =
      measures.length === count
        ? measures
        : (byNumber(measures, reference) ??
          Array.from({ length: count }, (_, index) => measures[index] ?? null));
    const missing = column.flatMap((measure, index) =>
      measure === null ? [numberOf(reference[index] ?? null)] : [],
    );
    const [first] = missing;
    if (first !== undefined)
      log.say(
        'repair',
        'part-lacks-bars',
        `This part has no content in ${missing.length} of the ${count} bars, from bar ${first} on; it is silent there.`,
        { part: id, bar: first },
      );
    const differing = column.findIndex(
      (measure, index) => measure !== null && numberOf(measure) !== numberOf(reference[index] ?? null),
    );
    if (differing >= 0)
      log.say(
        'repair',
        'bar-numbers-differ',
        `This part calls a bar "${numberOf(column[differing] ?? null)}" that the first part calls "${numberOf(reference[differing] ?? null)}"; bars are taken in order.`,
        { part: id, bar: numberOf(reference[differing] ?? null) },
      );
    return column;
  });
};
