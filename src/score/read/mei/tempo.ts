/** Tempo: the `tempo` element and playback tempi. Source: MEI Guidelines 5, 4.3.11.1; att.mmTempo; att.midiTempo. */
import { beats, bpm, F, note, type Beats, type Fraction, type Place } from '../../../units/index.ts';
import type { MeasureDraft } from '../drafts/draft.ts';
import type { Log } from '../drafts/log.ts';
import { believable, readMetronome } from '../musicxml/metronome.ts';
import { attribute, type XmlElement } from '../xml.ts';
import { deepText } from './tree.ts';
import { plainDecimal, readWritten } from './values.ts';

const element = (name: string, text: string, children: readonly XmlElement[] = []): XmlElement => ({
  name,
  attributes: {},
  children,
  text,
  line: 0,
});

/** Note signs as text: Unicode 2669 to 266B and 1D15D to 1D161, and those of SMuFL's metronome marks (ECA2 ...) and notes (E1D2 ...). */
const signs: readonly (readonly [RegExp, string])[] = [
  [/[\u{1D15D}\uECA2\uE1D2]/u, 'whole'],
  [/[\u{1D15E}\uECA3\uECA4\uE1D3\uE1D4]/u, 'half'],
  [/[\u2669\u{1D15F}\uECA5\uECA6\uE1D5\uE1D6]/u, 'quarter'],
  [/[\u266A\u{1D160}\uECA7\uECA8\uE1D7\uE1D8]/u, 'eighth'],
  [/[\u{1D161}\uECA9\uECAA\uE1D9\uE1DA]/u, '16th'],
];

const anySign = /[\u2669-\u266B\u{1D15D}-\u{1D164}\uECA0-\uECBF\uE1D0-\uE1EF]/gu;

/** The words of a tempo without its figure: "Allegro (♩ = 120)" is "Allegro". */
const wordsOf = (text: string): string =>
  text
    .replace(anySign, ' ')
    .replace(/[([]?[\s.]*=\s*(c\.|ca\.?|circa)?\s*[\d.,]*(\s*[-\u2013]\s*[\d.,]+)?\s*[.)\]]?/giu, ' ')
    .replace(/[([]\s*[)\]]/g, ' ')
    .replace(/\s+/g, ' ')
    .trim();

/** A note sign with its dots, as the beat units of a metronome mark; null where the text does not begin with one. */
const unitIn = (text: string): readonly XmlElement[] | null => {
  const found =
    /^[\s([]*([\u2669\u266A\u{1D15D}-\u{1D161}\uECA2-\uECAA\uE1D2-\uE1DA])\s*([.\uE1E7\uECB7\u{1D16D}]?)/u.exec(
      text,
    );
  const type = signs.find(([sign]) => sign.test(found?.[1] ?? ''))?.[1];
  if (found === null || type === undefined) return null;
  return [element('beat-unit', type), ...(found[2] === '' ? [] : [element('beat-unit-dot', '')])];
};

/** The figure of a tempo that is given in its text only, or a change of beat, as a metronome mark. */
const figureIn = (text: string): XmlElement | null => {
  const equals = text.indexOf('=');
  if (equals < 0) return null;
  const sign = text.search(anySign);
  const from = unitIn(text.slice(Math.max(0, sign)));
  if (from === null) return null;
  const behind = text.slice(equals + 1);
  const to = unitIn(behind);
  if (to !== null && sign < equals) return element('metronome', '', [...from, ...to]);
  const figure = /^\s*((?:c\.|ca\.?|circa)?\s*\d[\d.,]*(?:\s*[-\u2013]\s*\d[\d.,]*)?)/i.exec(behind)?.[1];
  if (figure === undefined) return null;
  return element('metronome', '', [...from, element('per-minute', figure.replace(/[.,]$/, ''))]);
};

/** Whether a text gives a figure or a change of beat: "♩ = 104", "♩ = ♩.". */
export const holdsFigure = (text: string): boolean => figureIn(text) !== null;

const unreadable = (log: Log, text: string, place: Place): void =>
  log.say(
    'repair',
    'tempo-unreadable',
    `A metronome mark says "${text.slice(0, 40)}" beats a minute, which is no tempo that can be played; it is left out.`,
    place,
  );

const markAt = (
  out: MeasureDraft,
  at: Beats,
  bar: number,
  unit: Fraction,
  rate: Fraction,
  printed: boolean,
): void =>
  void out.marks.push({
    mark: { kind: 'tempo', at, bar, unit: beats(unit), perMinute: bpm(rate), printed },
    vague: null,
  });

/** `midi.bpm` is in quarters a minute; `midi.mspb` in microseconds for a quarter; `midi.tempo` is the first's name in MEI 3. */
export const readPlayback = (
  source: XmlElement,
  at: Beats,
  bar: number,
  out: MeasureDraft,
  log: Log,
  place: Place,
): void => {
  const text = attribute(source, 'midi.bpm') || attribute(source, 'midi.tempo');
  const micro = attribute(source, 'midi.mspb');
  if (text === '' && micro === '') return;
  const value = plainDecimal(text || micro);
  const quarters =
    value === null || !F.isPositive(value)
      ? null
      : text !== ''
        ? value
        : F.div(F.fraction(60_000_000), value);
  const rate = believable(quarters);
  if (rate === null) {
    log.say(
      'repair',
      'tempo-unreadable',
      `The file's playback tempo is "${(text || micro).slice(0, 40)}", which is no tempo that can be played; it is left out.`,
      place,
    );
    return;
  }
  markAt(out, at, bar, note(1, 4), rate, false);
};

/** Reads one `tempo` that takes effect at `at` of its bar. */
export const readTempo = (
  source: XmlElement,
  at: Beats,
  bar: number,
  out: MeasureDraft,
  log: Log,
  place: Place,
): void => {
  const text = deepText(source);
  const words = wordsOf(text);
  if (words !== '') out.marks.push({ mark: { kind: 'tempoWords', at, bar, text: words }, vague: null });
  const mm = attribute(source, 'mm');
  if (mm !== '') {
    const unitText = attribute(source, 'mm.unit') || '4';
    const unit = readWritten(unitText, attribute(source, 'mm.dots'), log, place);
    const rate = believable(plainDecimal(mm));
    if (unit === null || rate === null) unreadable(log, mm, place);
    else markAt(out, at, bar, unit.length, rate, true);
  } else {
    const figure = figureIn(text);
    const mark = figure === null ? null : readMetronome(figure, at, bar, log, place);
    if (mark !== null) out.marks.push(mark);
  }
  readPlayback(source, at, bar, out, log, place);
};
