/**
 * Words over the music. In **kern they stand in layout remarks, "!LO:TX:a:t=dolce" (they belong to the next note of their
 * spine), and in OMD records ("Movement designation": User's Guide, appendix I). A metronome mark inside them is written
 * "[quarter] = 92", with "-dot" for a dotted value. Layout remarks and that spelling: later practice, from memory.
 */
import { beats, bpm, F, type Fraction, lookUp, type Place } from '../../../units/index.ts';
import { jumpOfWords } from '../drafts/jumpWords.ts';
import { notKept } from '../drafts/log.ts';
import { isTempoWords } from '../drafts/tempoWords.ts';
import { noteType, valueLength } from '../drafts/values.ts';
import type { Desk, LayoutText } from './types.ts';

/** "!LO:TX:a:t=dolce" or, over all, "!!LO:TX:t=dolce"; null for any other remark. */
export const readLayout = (comment: string, line: number): LayoutText | null => {
  const match = /^!{1,2}LO:([A-Za-z]{1,20})(?::(.*))?$/s.exec(comment);
  if (match === null) return null;
  const fields = (match[2] ?? '').split(':');
  // "P:problem:why": what follows is the editor's, for other editors.
  const editor = fields.includes('problem');
  const text = fields.find((field) => field.startsWith('t='))?.slice(2) ?? '';
  return {
    kind: editor ? 'problem' : (match[1] ?? ''),
    text: text.replaceAll('&colon;', ':').replace(/\\n/g, ' ').replace(/\s+/g, ' ').trim(),
    above: fields.some((field) => /^a+$/.test(field))
      ? true
      : fields.some((field) => /^b+$/.test(field))
        ? false
        : null,
    line,
  };
};

const value = String.raw`\[([a-z0-9]+)((?:-dot)*)\]`;
const relationPattern = new RegExp(`${value}\\s*=\\s*${value}\\s*$`);
const tempoPattern = new RegExp(`${value}\\s*=\\s*([^[\\]]*)$`);

const unitOf = (name: string, dots: string): Fraction | null => {
  const type = noteType({ sixteenth: '16th', thirtysecond: '32nd' }[name] ?? name);
  return type === null ? null : valueLength({ type, dots: Math.min(dots.length / 4, 8) });
};

/** Slower and faster than anyone plays: beats per minute of whatever unit, as in MusicXML. */
const believable = (value: Fraction | null): boolean =>
  value !== null && F.atMost(F.one, value) && F.atMost(value, F.fraction(10_000));

/** A figure of beats a minute and, where it is not plain ("c. 92", "92-96"), what it says. */
export const readFigure = (
  text: string,
): { readonly figure: Fraction; readonly vague: string | null } | null => {
  const plain = text
    .trim()
    .replace(',', '.')
    .replace(/^\((.*)\)$/, '$1');
  const exact = /^\d{1,9}(\.\d{1,9})?$/.test(plain) ? F.parse(plain) : null;
  if (exact !== null) return believable(exact) ? { figure: exact, vague: null } : null;
  const [first, second] = (plain.match(/\d{1,9}(?:\.\d{1,9})?/g) ?? []).flatMap((one) => F.parse(one) ?? []);
  if (first === undefined || text.length > 30) return null;
  const figure = second === undefined ? first : F.div(F.add(first, second), F.fraction(2));
  return believable(figure) ? { figure, vague: text.trim() } : null;
};

export interface Spot {
  readonly part: number;
  readonly staff: number;
  readonly at: Fraction;
  readonly bar: number;
  readonly line: number;
}

/** Takes a metronome mark or a change of beat off the end of words; what is left. */
const takeTempo = (desk: Desk, text: string, spot: Spot): string => {
  const { marks } = desk.draft(spot.part, spot.bar);
  const relation = relationPattern.exec(text);
  if (relation !== null) {
    const [, fromName = '', fromDots = '', toName = '', toDots = ''] = relation;
    const from = unitOf(fromName, fromDots);
    const to = unitOf(toName, toDots);
    if (from !== null && to !== null) {
      const mark = {
        kind: 'relation',
        at: beats(spot.at),
        bar: spot.bar,
        from: beats(from),
        to: beats(to),
      } as const;
      marks.push({ mark, vague: null });
      return text.slice(0, relation.index).trim();
    }
  }
  const tempo = tempoPattern.exec(text);
  if (tempo === null) return text;
  const [, name = '', dots = '', said = ''] = tempo;
  const unit = unitOf(name, dots);
  const read = readFigure(said);
  if (unit === null || read === null) {
    desk.log.say(
      'repair',
      'tempo-unreadable',
      `The metronome mark "${text.slice(0, 60)}" can not be read; it is left out.`,
      desk.place(spot.part, spot.line),
    );
    return text.slice(0, tempo.index).trim();
  }
  marks.push({
    mark: {
      kind: 'tempo',
      at: beats(spot.at),
      bar: spot.bar,
      unit: beats(unit),
      perMinute: bpm(read.figure),
      printed: true,
    },
    vague: read.vague,
  });
  return text
    .slice(0, tempo.index)
    .replace(/\(\s*$/, '')
    .trim();
};

const signs: Readonly<Record<string, 'segno' | 'coda'>> = {
  '\u{1D10B}': 'segno',
  '\ue047': 'segno',
  '[segno]': 'segno',
  segno: 'segno',
  '\u{1D10C}': 'coda',
  '\ue048': 'coda',
  '[coda]': 'coda',
};

/** Words where they stand: tempo for all, an order to jump, or a direction of the part. */
export const putWords = (desk: Desk, text: string, above: boolean | null, spot: Spot): void => {
  const draft = desk.draft(spot.part, spot.bar);
  const sign = lookUp(signs, text.toLowerCase());
  if (sign !== undefined) {
    draft.jumps.push({ at: spot.at, kind: sign, name: '', from: 'sign', text: `the ${sign} sign` });
    return;
  }
  const words = takeTempo(desk, text, spot);
  if (words === '') return;
  const jump = jumpOfWords(words);
  if (jump !== null) draft.jumps.push({ at: spot.at, kind: jump, name: '', from: 'words', text: words });
  else if (isTempoWords(words)) {
    draft.marks.push({
      mark: { kind: 'tempoWords', at: beats(spot.at), bar: spot.bar, text: words },
      vague: null,
    });
    return;
  }
  draft.directions.push({
    at: beats(spot.at),
    bar: spot.bar,
    staff: spot.staff,
    kind: 'words',
    value: words,
    number: 1,
    above: above ?? true,
  });
};

/** Breaks of lines and pages, and where dynamics, slurs, ties, notes, beams, rests and tuplets are drawn. */
const looks = new Set([
  'LB',
  'PB',
  'DY',
  'S',
  'SL',
  'T',
  'TI',
  'N',
  'B',
  'R',
  'TUP',
  'HP',
  'GLISS',
  'CL',
  'MO',
  'VIR',
]);

/** Tells of a layout remark that is not read, unless it is of looks alone. */
export const tellLayout = (desk: Desk, { kind }: LayoutText, place: Place): void => {
  if (looks.has(kind)) return;
  notKept(
    desk.log,
    `LO:${kind}`,
    kind === 'problem'
      ? "An editor's remark on a doubtful place (!LO: ... :problem)"
      : `How something is laid out on the page (!LO:${kind})`,
    place,
  );
};

/** What a layout remark says at its place; of the others, what is not plainly looks is told once. */
export const putLayout = (desk: Desk, remark: LayoutText, spot: Spot): void => {
  if (remark.kind === 'TX' && remark.text !== '') {
    putWords(desk, remark.text, remark.above, spot);
    return;
  }
  if (remark.kind === 'REH' && remark.text !== '') {
    desk.draft(spot.part, spot.bar).marks.push({
      mark: { kind: 'rehearsal', at: beats(spot.at), bar: spot.bar, text: remark.text },
      vague: null,
    });
    return;
  }
  tellLayout(desk, remark, desk.place(spot.part, remark.line));
};
