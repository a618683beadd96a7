/**
 * One part, read measure by measure: keeps the cursor that notes, `backup` and `forward` move. Source: MusicXML 4.0,
 * measure; "the MusicXML format: the counter" of its tutorial for backup and forward.
 */
import { beats, F, type Fraction, lookUp, type Place } from '../../../units/index.ts';
import { metreLength, type Metre } from '../../metre.ts';
import { attribute, childText, type XmlElement } from '../xml.ts';
import { readAttributes, type AttributesState } from './attributes.ts';
import { readBarline } from './barline.ts';
import { readDirection, readSoundAt, type DirectionSpot } from './direction.ts';
import { divisionsByValues } from './divisions.ts';
import { emptyMeasure, type MeasureDraft } from '../drafts/draft.ts';
import { notKept, type Log } from '../drafts/log.ts';
import { readNote } from './note.ts';
import { longestDuration, refuseTooFine } from '../drafts/values.ts';
import { createLengths } from './values.ts';

const unkept: Readonly<Record<string, string>> = {
  harmony: 'A chord symbol or function symbol',
  'figured-bass': 'A figured bass',
  grouping: 'A group marked for analysis',
  listening: 'What a program is to listen for',
};

/** Layout and links, of which docs/formats/musicxml.md says once for all that they are not kept. */
const layout = new Set(['print', 'link', 'bookmark']);

/** The number as printed; `text` is what shows instead, except in implicit measures. */
const printedNumber = (element: XmlElement, implicit: boolean): string => {
  const text = attribute(element, 'text');
  return text !== '' && !implicit ? text : attribute(element, 'number');
};

/**
 * Reads a part's measures one after the other; state such as divisions goes on from measure to measure. `measures`: all
 * of them, in which it looks ahead where the file does not say how it counts.
 */
export const createPartReader = (part: string, measures: readonly (XmlElement | null)[], log: Log) => {
  let reading = 0;
  const state: AttributesState = {
    lengths: createLengths(),
    divisionsKnown: false,
    byValues: (attributes) => divisionsByValues(measures, reading, attributes),
    staves: 1,
  };
  /** Holds until divisions are stated. */
  const atFirst = divisionsByValues(measures, 0, null);
  if (atFirst !== null) state.lengths.set(atFirst);
  let metre: Metre | null = null;

  const read = (element: XmlElement, bar: number): MeasureDraft => {
    reading = bar;
    const implicit = attribute(element, 'implicit') === 'yes';
    const number = printedNumber(element, implicit);
    const place: Place = { part, bar: number };
    const out = emptyMeasure(number, implicit);
    let cursor: Fraction = F.zero;
    let anchor: Fraction | null = null;
    let count = 0;

    const reach = (to: Fraction): void => {
      out.extent = F.max(out.extent, to);
    };
    const takeNote = (item: XmlElement): void => {
      count += 1;
      if (!state.divisionsKnown && childText(item, 'duration') !== '') {
        state.divisionsKnown = true;
        log.say(
          'repair',
          'divisions-missing',
          `The file does not say into how many parts it divides a quarter; ${atFirst === null ? 'it is read as 1, so a duration of 4 is a whole note' : `by the printed values of the notes it is ${F.format(atFirst)}`}.`,
          place,
        );
      }
      const id = `${part}-m${bar}-n${count}`;
      const fullBar = metre === null ? null : metreLength(metre);
      const { note, chord } = readNote(item, { id, bar, lengths: state.lengths, place, fullBar }, log);
      if (note === null) return;
      if (chord && anchor === null)
        log.say(
          'repair',
          'chord-alone',
          'A chord note has no note before it in its bar; it is read by itself.',
          place,
        );
      const follows = chord && anchor !== null;
      const onset = follows && anchor !== null ? anchor : cursor;
      const end = F.add(onset, note.duration);
      refuseTooFine(end, place);
      const wholeBar = note.wholeBar && !F.isPositive(onset);
      state.staves = Math.max(state.staves, note.staff);
      out.notes.push({ ...note, chord: follows, wholeBar, onset: beats(onset) });
      if (!follows) {
        anchor = cursor;
        cursor = end;
      }
      if (wholeBar) out.restExtent = F.max(out.restExtent, end);
      else reach(end);
    };
    const move = (item: XmlElement, sign: 1 | -1): void => {
      const text = childText(item, 'duration');
      const length = text === '' ? null : state.lengths.read(text);
      if (length === null || !F.isPositive(length) || F.less(longestDuration, length)) {
        if (length?.n === 0n) return;
        log.say(
          'repair',
          'duration-out-of-range',
          `A "${item.name}" has the duration "${text.slice(0, 30)}", which can not be; it is passed over.`,
          place,
        );
        return;
      }
      const next = sign === 1 ? F.add(cursor, length) : F.sub(cursor, length);
      refuseTooFine(next, place);
      if (next.n < 0n)
        log.say(
          'repair',
          'backup-too-far',
          'A voice begins before its bar does; it is moved to the bar line.',
          place,
        );
      cursor = next.n < 0n ? F.zero : next;
      reach(sign === 1 ? cursor : F.zero);
    };
    const spot = (): DirectionSpot => ({ at: cursor, bar, lengths: state.lengths, place });

    for (const item of element.children) {
      switch (item.name) {
        case 'note':
          takeNote(item);
          break;
        case 'backup':
          move(item, -1);
          break;
        case 'forward':
          move(item, 1);
          break;
        case 'attributes':
          readAttributes(item, cursor, state, out, log, place);
          metre = out.metres.at(-1)?.metre ?? metre;
          break;
        case 'direction':
          readDirection(item, spot(), out, log);
          break;
        case 'sound':
          readSoundAt(item, spot(), cursor, out, log);
          break;
        case 'barline':
          readBarline(item, cursor, out, log, place);
          break;
        default:
          if (!layout.has(item.name))
            notKept(log, item.name, lookUp(unkept, item.name) ?? `The element "${item.name}"`, place);
      }
    }
    return out;
  };
  return { read, staves: (): number => state.staves };
};
