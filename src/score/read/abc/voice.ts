/**
 * One voice as it grows: bars, notes with their lengths and accidentals, ties, slurs, tuplets and what waits for the next
 * note. Source: ABC 2.1, section 4.
 */
import { F, type Fraction } from '../../../units/index.ts';
import { metreLength, type Metre } from '../../metre.ts';
import type { WrittenNote } from '../../notes.ts';
import type { Log } from '../drafts/log.ts';
import { notKept } from '../drafts/log.ts';
import { longestDuration } from '../drafts/values.ts';
import { emptyMarks, plainTuplet, type Group, type Head, type Marks, type Put } from './events.ts';
import type { KeySignature } from './key.ts';
import { noKey } from './key.ts';
import type { ClefShape } from './properties.ts';
import type { Slur } from './slurs.ts';
import { headOf } from './pitches.ts';
import { contentOf } from './place.ts';
import { midiOf } from '../../pitch.ts';
import { Tuplets } from './tuplets.ts';
import { Walk } from './walk.ts';
import {
  joinTies,
  type EndingName,
  type HeadRead,
  type Progress,
  type Reach,
  type Sung,
  type TextPlace,
} from './layer.ts';

export class Voice extends Walk {
  readonly id: string;
  name = '';
  abbreviation = '';
  program: number | null = null;
  channel: number | null = null;
  unit: Fraction = F.fraction(1, 8);
  metre: Metre;
  key: KeySignature = noKey;
  clef: ClefShape = { sign: 'G', line: 2, octave: 0 };
  middle: number | null = null;
  /** Octaves by which notes are drawn lower than the file writes them, for a middle line's sake. */
  drawnLower = 0;
  octave = 0;
  transpose = 0;
  midiTranspose = 0;
  stem: WrittenNote['stem'] = null;

  readonly sung: Sung[] = [];
  readonly slurs: Slur[] = [];
  /** Where the next words begin, and how words before went on: see lyrics.ts. */
  readonly words: Progress = { from: 0, fromBar: 0, next: 0, nextBar: 0, stacked: 0 };
  readonly symbols: Progress = { from: 0, fromBar: 0, next: 0, nextBar: 0, stacked: 0 };
  /** Where the last line of music began. */
  lineFrom = 0;
  lineBar = 0;
  lineGoesOn = false;
  /** The last line of music ended with a full bar that no bar line ends. */
  lineFull = false;
  readonly metres: { readonly bar: number; readonly metre: Metre }[] = [];
  readonly sections: { readonly bar: number; readonly label: string }[] = [];
  marks: Marks | null = null;
  /** The ending bracket that is open, and the one begun last. */
  openEnding: EndingName | null = null;
  lastEnding: EndingName | null = null;
  /** How often the section is played that began last; 0 where its beginning does not say. */
  repeatTimes = 0;
  readonly tuplets: Tuplets;

  readonly #log: Log;
  readonly #reach: () => Reach;
  #groups = 0;

  constructor(id: string, metre: Metre, log: Log, reach: () => Reach) {
    super();
    this.id = id;
    this.metre = metre;
    this.#log = log;
    this.#reach = reach;
    this.tuplets = new Tuplets(log);
  }

  /** Sets the metre from here on: inside a bar from the next. */
  setMetre(metre: Metre): void {
    this.metre = metre;
    this.metres.push({ bar: this.barIndex + (this.bar.filled ? 1 : 0), metre });
  }

  /** A line of music begins; whether the one before went on behind a backslash decides where its words begin. */
  beginLine(goesOn: boolean): void {
    if (!this.lineGoesOn) {
      this.lineFrom = this.sung.length;
      this.lineBar = this.textBar;
    }
    this.lineGoesOn = goesOn;
    this.words.stacked = 0;
    this.symbols.stacked = 0;
  }

  /** A line of music ends, and does not go on behind a backslash. */
  endLine(): void {
    const full = metreLength(this.metre);
    const content = this.overlaid || !this.bar.filled || full === null ? null : contentOf(this.bar);
    this.lineFull = content !== null && full !== null && F.equal(content, full);
  }

  put(put: Put): void {
    this.events.push(put);
  }

  mark(): Marks {
    return (this.marks ??= emptyMarks());
  }

  /** Signs that wait for a note, at a place where none comes. */
  dropMarks(place: TextPlace): void {
    if (this.marks !== null) notKept(this.#log, 'mark-without-note', 'A sign that stands on no note', place);
    this.marks = null;
  }

  /** A note, a chord or a run of grace heads on one stem. `length`: whole notes, as written. */
  notes(
    reads: readonly HeadRead[],
    length: Fraction,
    place: TextPlace,
    grace: { slash: boolean } | null = null,
  ): void {
    const heads: Head[] = [];
    const kept: HeadRead[] = [];
    for (const read of reads) {
      const head = headOf(read, grace !== null, this, this.now, this.#reach(), this.#log);
      if (head === null) {
        this.#log.say(
          'repair',
          'pitch-unreadable',
          `A note lies beyond all instruments (octave ${read.octave}, altered by ${read.alter ?? 0}); it is left out.`,
          place,
        );
        continue;
      }
      heads.push(head);
      kept.push(read);
    }
    if (heads.length === 0) {
      if (grace === null) this.rest(length, false, place);
      return;
    }
    const before = this.now.last;
    const group = this.#add(
      grace === null ? 'note' : 'grace',
      heads,
      length,
      false,
      place,
      grace?.slash ?? false,
    );
    const layer = this.now;
    const index = this.#groups;
    const [first] = heads;
    if (first !== undefined) layer.slurs.attach({ head: first, group: index, bar: this.barIndex });
    if (grace === null) {
      this.#tieAsSlur(before, group, place);
      joinTies(this.now, heads);
      layer.ties = heads.flatMap((head, at) => (kept[at]?.tie === true ? [{ head, whole: false }] : []));
      this.sung.push({ group, bar: this.textBar });
    }
    heads.forEach((head, at) => {
      const read = kept[at];
      for (let count = read?.slurStart ?? 0; count > 0; count -= 1) {
        this.slur(place);
        layer.slurs.attach({ head, group: index, bar: this.barIndex });
      }
      for (let count = read?.slurEnd ?? 0; count > 0; count -= 1) this.#endSlur(head, place);
    });
  }

  /** A tie from one note to another of a different pitch: many old files write slurs of two notes so. */
  #tieAsSlur(before: Group | null, after: Group, { line }: TextPlace): void {
    const { ties } = this.now;
    const [from, to] = [before?.heads[0], after.heads[0]];
    if (ties.length !== 1 || before?.heads.length !== 1 || after.heads.length !== 1) return;
    if (from === undefined || to === undefined || ties[0]?.head !== from) return;
    if (from.pitch === null || to.pitch === null || midiOf(from.pitch) === midiOf(to.pitch)) return;
    this.now.ties = [];
    this.slurs.push({
      from: { head: from, ...this.now.tieFrom },
      to: { head: to, group: this.#groups, bar: this.barIndex },
      voice: `${this.id} ${this.layer}`,
    });
    this.#log.tally(
      'repair',
      'tie-not-ended',
      'slur',
      (many) =>
        `A tie leads to a note of another pitch (${many}); it is read as the slur that it is on paper.`,
      { line },
    );
  }

  rest(length: Fraction, hidden: boolean, place: TextPlace): void {
    this.#add('rest', [], length, hidden, place, false);
    joinTies(this.now, []);
  }

  #add(
    kind: Group['kind'],
    heads: readonly Head[],
    length: Fraction,
    hidden: boolean,
    place: TextPlace,
    slash: boolean,
    wholeBar = false,
  ): Group {
    const layer = this.now;
    const timed = kind !== 'grace' && !wholeBar;
    const tuplet = timed ? this.tuplets.take() : { ratio: plainTuplet, starts: null, finish: null };
    let written = length;
    if (timed && layer.broken !== null) {
      written = F.mul(written, layer.broken);
      layer.broken = null;
    }
    if (F.less(longestDuration, written)) {
      this.#log.say(
        'repair',
        'duration-out-of-range',
        'A note is longer than any music; it lasts one unit.',
        place,
      );
      written = this.unit;
    }
    const group: Group = {
      kind,
      heads,
      hidden,
      wholeBar,
      length: written,
      tuplet: tuplet.ratio,
      tupletMarks: tuplet.starts,
      apart: this.spaced,
      marks: this.marks,
      lyrics: null,
      slash,
      stem: kind === 'rest' ? null : this.stem,
      puts: null,
    };
    if (tuplet.finish !== null) group.tupletMarks = [...(group.tupletMarks ?? []), ...tuplet.finish];
    this.marks = null;
    this.spaced = false;
    this.#groups += 1;
    this.events.push(group);
    layer.lastAny = group;
    if (kind !== 'grace') {
      this.bar.filled = true;
      layer.last = group;
    }
    return group;
  }

  /** Where the transposition changes, what sounded and what will are different notes: ties that wait find none. */
  loosenTies(): void {
    joinTies(this.now, []);
  }

  /** A tie behind the last note or chord. False where there is no note. */
  tie(): boolean {
    const { last } = this.now;
    if (last === null || last.kind !== 'note') return false;
    this.now.tieFrom = { group: this.#groups, bar: this.barIndex };
    const already = new Set(this.now.ties.map(({ head }) => head));
    for (const head of last.heads)
      if (!already.has(head)) this.now.ties.push({ head, whole: last.heads.length > 1 });
    return true;
  }

  slur(place: TextPlace): void {
    if (!this.now.slurs.begin()) notKept(this.#log, 'slur-deep', 'A slur within sixteen others', place);
  }

  endSlur(place: TextPlace): void {
    const { lastAny, last } = this.now;
    const head = lastAny?.heads[0] ?? last?.heads[0];
    if (head === undefined) {
      this.#log.say('repair', 'slur-unpaired', 'A slur ends before any note; it is left out.', place);
      return;
    }
    this.#endSlur(head, place);
  }

  #endSlur(head: Head, place: TextPlace): void {
    const slur = this.now.slurs.end(
      { head, group: this.#groups, bar: this.barIndex },
      `${this.id} ${this.layer}`,
    );
    if (slur === null)
      this.#log.say(
        'repair',
        'slur-unpaired',
        'A slur ends that did not begin on an earlier note; it is left out.',
        place,
      );
    else this.slurs.push(slur);
  }

  /** "a>b": `count` signs of it; "<" where `longer` is false. False where no note stands before. */
  breakRhythm(count: number, longer: boolean): boolean {
    const layer = this.now;
    const { last } = layer;
    if (last === null || last.wholeBar || count > 8) return false;
    const short = F.fraction(1, 2 ** count);
    const long = F.sub(F.fraction(2), short);
    last.length = F.mul(last.length, longer ? long : short);
    layer.broken = F.mul(layer.broken ?? F.one, longer ? short : long);
    return true;
  }

  /** A rest for `count` whole bars; each but the last ends with a plain bar line. */
  barRests(count: number, hidden: boolean, place: TextPlace): void {
    if (this.bar.filled && this.layer === 0) {
      this.#log.say(
        'repair',
        'bar-rest-mid-bar',
        'A rest for whole bars stands behind notes of its bar; it begins with the next.',
        place,
      );
      this.advance(place.line);
    }
    for (let n = 0; n < count; n += 1) {
      if (n > 0) this.advance(place.line);
      this.#add('rest', [], F.zero, hidden, place, false, true);
      joinTies(this.now, []);
    }
  }

  /** Ends the voice: what stands behind the last bar line goes to the bar before it. */
  finish(): void {
    for (const layer of this.layers.values()) {
      for (const { head } of layer.ties) head.tieStart = true;
      const open = layer.slurs.finish();
      if (open > 0)
        this.#log.say(
          'repair',
          'slur-unpaired',
          `${open === 1 ? 'A slur begins and never ends' : `${open} slurs begin and never end`}; left out.`,
          {
            line: this.bars.at(-1)?.line ?? 1,
          },
        );
    }
    this.tuplets.finish({ line: this.bars.at(-1)?.line ?? 1, column: 1 });
    const last = this.bars.at(-1);
    if (last === undefined || last.filled) return;
    this.bars.pop();
    const before = this.bars.at(-1);
    for (const events of last.layers) for (const event of events) before?.layers[0]?.push(event);
    if (before !== undefined)
      for (const repeat of last.repeats)
        if (repeat.direction === 'backward') before.repeats.push({ ...repeat, edge: 'right' });
    if (last.endings.length > 0 || last.repeats.some(({ direction }) => direction === 'forward'))
      this.#log.say(
        'repair',
        'repeat-nothing',
        'A repeat or an ending begins behind the last bar; it is left out.',
        {
          line: last.line,
        },
      );
  }
}
