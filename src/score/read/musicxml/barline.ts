/** The `barline` element: repeats, endings, style, signs. Source: MusicXML 4.0, barline, ending, repeat. */
import { F, type Fraction, type Place } from '../../../units/index.ts';
import { mostPasses } from '../../playing/brackets.ts';
import { attribute, child, collapse, type XmlElement } from '../xml.ts';
import type { Edge, EndingDraft, MeasureDraft } from '../drafts/draft.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { integerWithin } from './values.ts';

/** "1, 2", "1-3", "1." and "1. 2." as numbers in order; empty where there is none. */
export const endingNumbers = (text: string): readonly number[] => {
  const numbers = new Set<number>();
  for (const match of text.matchAll(/(\d{1,9})(?:\s*[-\u2010-\u2015]\s*(\d{1,9}))?/g)) {
    const from = Number(match[1]);
    const to = match[2] === undefined ? from : Number(match[2]);
    for (let n = Math.max(1, from); n <= Math.min(to, mostPasses); n += 1) numbers.add(n);
    // What nobody plays is kept, for the playing order to tell.
    if (to > mostPasses) numbers.add(to);
  }
  return [...numbers].sort((a, b) => a - b);
};

const readEnding = (element: XmlElement, edge: Edge, log: Log, place: Place): EndingDraft | null => {
  const type = attribute(element, 'type');
  if (type !== 'start' && type !== 'stop' && type !== 'discontinue') return null;
  const number = collapse(attribute(element, 'number'));
  const text = collapse(element.text);
  const given = endingNumbers(number);
  const numbers = given.length > 0 ? given : endingNumbers(text);
  if (numbers.length === 0 && type === 'start')
    log.say(
      'assumption',
      'ending-number-missing',
      `An ending bracket does not tell for which time it is ("${text === '' ? number : text}"); it is taken as the first.`,
      place,
    );
  return { edge, type, numbers: numbers.length > 0 ? numbers : [1], text: text === '' ? number : text };
};

const edgeOf = (element: XmlElement, at: Fraction): Edge => {
  const location = attribute(element, 'location');
  if (location === 'left') return 'left';
  // A "middle" bar line before any music is at the left edge after all.
  if (location === 'middle') return F.isPositive(at) ? 'middle' : 'left';
  return 'right';
};

/** Reads one `barline` met at a position of its bar. */
export const readBarline = (
  element: XmlElement,
  at: Fraction,
  out: MeasureDraft,
  log: Log,
  place: Place,
): void => {
  const edge = edgeOf(element, at);
  for (const item of element.children) {
    switch (item.name) {
      case 'bar-style':
        out.styles.push({ edge, style: item.text.trim() });
        break;
      case 'repeat': {
        const direction = attribute(item, 'direction');
        if (direction !== 'forward' && direction !== 'backward') break;
        const text = attribute(item, 'times');
        if (direction === 'backward' && integerWithin(text, 1, 1) === 1) {
          // MusicXML 4.0, repeat: times is "the number of times the repeated section is played".
          log.say(
            'note',
            'repeat-once',
            'A repeat sign says it is played once, so it repeats nothing.',
            place,
          );
          break;
        }
        const times = integerWithin(text, 2, 999_999_999);
        if (text !== '' && times === null)
          log.say(
            'repair',
            'repeat-times',
            `A repeat sign says it is played "${text}" times; it is read as twice.`,
            place,
          );
        out.repeats.push({
          edge,
          direction,
          times: times ?? 0,
          afterJump: attribute(item, 'after-jump') === 'yes',
        });
        break;
      }
      case 'ending': {
        const ending = readEnding(item, edge, log, place);
        if (ending !== null) out.endings.push(ending);
        break;
      }
      case 'segno':
      case 'coda': {
        const name = attribute(element, item.name);
        out.jumps.push({
          // Beyond any bar: the right edge, wherever that will be.
          at: edge === 'right' ? rightEdge : at,
          kind: item.name,
          name,
          from: name === '' ? 'sign' : 'sound',
          text: `the ${item.name} sign`,
        });
        break;
      }
      case 'fermata':
        if (edge === 'middle') notKept(log, 'barline/fermata', 'A fermata on a bar line inside a bar', place);
        else out.fermatas.push({ edge, shape: item.text.trim() });
        break;
      case 'wavy-line':
        notKept(log, 'barline/wavy-line', 'A wavy line at a bar line', place);
        break;
      default:
        break;
    }
  }
  for (const kind of ['segno', 'coda'] as const) {
    const name = attribute(element, kind);
    if (name !== '' && child(element, kind) === undefined)
      out.jumps.push({ at: edge === 'right' ? rightEdge : at, kind, name, from: 'sound', text: '' });
  }
};

/** A position that lies after the end of every bar. */
const rightEdge: Fraction = F.fraction(1_000_000_000);
