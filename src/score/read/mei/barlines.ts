/** Bar lines and endings. Source: MEI Guidelines 5, data.BARRENDITION; styles are named as in MusicXML 4.0, bar-style. */
import { lookUp, type Place } from '../../../units/index.ts';
import type { Edge, MeasureDraft } from '../drafts/draft.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { endingNumbers } from '../musicxml/barline.ts';
import { attribute, child, collapse, type XmlElement } from '../xml.ts';
import { deepText } from './tree.ts';

const styles: Readonly<Record<string, string>> = {
  single: 'regular',
  dbl: 'light-light',
  end: 'light-heavy',
  rptend: 'light-heavy',
  rptboth: 'light-heavy',
  dashed: 'dashed',
  dotted: 'dotted',
  invis: 'none',
  heavy: 'heavy',
  dblheavy: 'heavy-heavy',
  dbldashed: 'dashed',
  dbldotted: 'dotted',
};

/** Reads one bar line by its form at an edge of the bar. */
export const readLine = (form: string, edge: Edge, out: MeasureDraft, log: Log, place: Place): void => {
  if (form === '') return;
  const repeat = (direction: 'forward' | 'backward'): number =>
    out.repeats.push({ edge, direction, times: 0, afterJump: false });
  if (form === 'rptend' || form === 'rptboth') repeat('backward');
  if (form === 'rptstart' || form === 'rptboth') repeat('forward');
  const style = lookUp(styles, form);
  // A bar line inside a bar has no style of its own in the model.
  if (style !== undefined && edge !== 'middle') {
    if (style !== 'regular') out.styles.push({ edge, style });
  } else if (style === undefined && form !== 'rptstart')
    notKept(log, `barLine/${form.slice(0, 30)}`, `The bar line "${form.slice(0, 30)}"`, place);
};

export interface EndingRead {
  readonly numbers: readonly number[];
  readonly text: string;
  /** How the bracket ends: open where the file says that it has no end. */
  readonly type: 'stop' | 'discontinue';
}

/** Which times through an `ending` is for: by `n`, else by its label. */
export const readEnding = (element: XmlElement, log: Log, place: Place): EndingRead => {
  const inside = child(element, 'label');
  const label = inside === undefined ? collapse(attribute(element, 'label')) : deepText(inside);
  const n = collapse(attribute(element, 'n'));
  const given = endingNumbers(n);
  const numbers = given.length > 0 ? given : endingNumbers(label);
  if (numbers.length === 0)
    log.say(
      'assumption',
      'ending-number-missing',
      `An ending bracket does not tell for which time it is ("${(label || n).slice(0, 60)}"); it is taken as the first.`,
      place,
    );
  return {
    numbers: numbers.length > 0 ? numbers : [1],
    text: label === '' ? n : label,
    type: attribute(element, 'lendsym') === 'none' ? 'discontinue' : 'stop',
  };
};
