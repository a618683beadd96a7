/** Puts an ABC file together: its tunes follow each other as movements of one score. */
import { F, refusable, type Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';
import { emptyMeasure, type MeasureDraft } from '../drafts/draft.ts';
import { createIds, fitId } from '../drafts/ids.ts';
import { layOut, type Column } from '../drafts/layOut.ts';
import { createLog, notKept, type Log } from '../drafts/log.ts';
import { barsOf, completeRepeats, tellDifferences, type TuneBar } from './bars.ts';
import { isStrict, readDirective } from './directives.ts';
import { assumeKey, endHeader, readField } from './fields.ts';
import { closeTune, joinStrains, remember, settle, type Growing } from './growing.ts';
import { readMusic } from './music.ts';
import { courseOf, expandOrder, type Section } from './order.ts';
import { partsOf, unnamed, type TunePart } from './parts.ts';
import { placeBar } from './place.ts';
import { numberSlurs } from './slurs.ts';
import { sourceOf, type Line } from './source.ts';
import { Tune } from './tune.ts';
import { readSymbols, readWords } from './words.ts';

const readHeaderLine = (tune: Tune, line: Line): void => {
  const place = { line: line.line, column: line.column };
  if (line.letter === '%') readDirective(tune, line.text, place);
  else readField(tune, line.letter, line.text, place);
};

/** Reads one tune; `header` is what the file says for all of them, if there are `several`. */
const readTune = (
  lines: readonly Line[],
  header: readonly Line[],
  several: boolean,
  strict: boolean,
  log: Log,
): Tune => {
  const tune = new Tune(log, strict);
  for (const line of header)
    if (line.letter !== 'T' && line.letter !== 'K' && line.letter !== '') readHeaderLine(tune, line);
  if (several) tune.share();
  let history = false;
  for (const line of lines) {
    const { letter, text } = line;
    const place = { line: line.line, column: line.column };
    if (tune.inHeader) {
      if (letter !== '') {
        readHeaderLine(tune, line);
        history = letter === 'H';
        if (letter === 'K') endHeader(tune);
        continue;
      }
      // A history once went on over lines without a letter (section 10.1).
      if (history) continue;
      assumeKey(tune, place);
    }
    if (letter === '') {
      readMusic(line, tune, (inner, content, at) => {
        readField(tune, inner, content, at);
      });
    } else if (letter === '%') readDirective(tune, text, place);
    else if (letter === 'w') readWords(line, tune);
    else if (letter === 's') readSymbols(line, tune);
    else readField(tune, letter, text, place);
  }
  if (tune.inHeader) endHeader(tune);
  for (const voice of tune.voices.values()) {
    voice.dropMarks({ line: lines.at(-1)?.line ?? 1, column: 1 });
    voice.finish();
  }
  return tune;
};

class Assembly {
  readonly parts = new Map<string, Growing>();
  readonly titles: string[] = [];
  bars = 0;
  readonly #log: Log;
  /** The first part of each voice id, and parts that were named later, by id and name. */
  readonly #first = new Map<string, Growing>();
  readonly #renamed = new Map<string, Growing>();
  #before: ReadonlySet<Growing> = new Set();
  readonly #uniqueId = createIds();
  #tunes = 0;

  constructor(log: Log) {
    this.#log = log;
  }

  add(tune: Tune): void {
    const log = this.#log;
    const parts = partsOf(tune);
    const voices = parts.flatMap(({ staves }) => staves.flat());
    const [title = '', ...others] = tune.titles;
    if (others.length > 0) notKept(log, 'title', 'A further title of a piece', {});
    if (voices.length === 0) {
      notKept(log, 'empty-tune', `A piece without music ("${title.slice(0, 60)}" and the like)`, {});
      return;
    }
    this.titles.push(title);
    for (const { bars } of voices) completeRepeats(bars, this.#tunes === 0);
    const bars = barsOf(voices, tune.firstBar);
    tellDifferences(voices, bars, log);
    let first: Growing | null = null;
    const taken = new Set<Growing>();
    for (const [index, part] of parts.entries()) {
      const growing = this.#partFor(part, tune, index, taken);
      taken.add(growing);
      this.#place(part, growing, bars);
      first ??= growing;
    }
    if (first !== null) this.#follow(tune, first, bars);
    closeTune([...this.#before].flatMap(({ drafts }) => drafts[this.bars - 1] ?? []));
    joinStrains([...taken].map(({ drafts }) => drafts.slice(this.bars, this.bars + bars.length)));
    this.#before = taken;
    this.bars += bars.length;
    this.#tunes += 1;
  }

  #nameless(voice: string): Growing | undefined {
    const known = this.parts.get(`${voice}\n`);
    return known?.head.name === '' ? known : undefined;
  }

  /** `taken`: the parts that others of this tune's parts are already. */
  #partFor(part: TunePart, tune: Tune, index: number, taken: ReadonlySet<Growing>): Growing {
    // Music that names no voice is that of voice 1. One that has a name in one tune only is the same voice.
    const voice = part.id === unnamed ? '1' : part.id;
    const key = `${voice}\n${part.name}`;
    const free = (one: Growing | undefined): Growing | undefined =>
      one === undefined || taken.has(one) ? undefined : one;
    const known =
      free(this.parts.get(key) ?? this.#renamed.get(key)) ??
      free(part.name === '' ? this.#first.get(voice) : this.#nameless(voice));
    if (known !== undefined) {
      if (known.head.name === '' && part.name !== '') {
        known.head = { ...known.head, name: part.name, abbreviation: part.abbreviation };
        this.#renamed.set(key, known);
      }
      return known;
    }
    const channel = part.staves.flat().find((voice) => voice.channel !== null)?.channel ?? index + 1;
    const wish = fitId(part.id);
    const id = this.#uniqueId(wish);
    // A number alone becomes an id as it should; anything else is worth a word.
    if (wish !== part.id && id !== `P${part.id}`)
      this.#log.say(
        'repair',
        'part-id-changed',
        `The voice id "${part.id}" has signs that an id can not have; it is "${id}" here.`,
        { part: id },
      );
    const growing: Growing = {
      head: {
        id,
        name: part.name,
        abbreviation: part.abbreviation,
        sound: '',
        program: part.program ?? tune.programs.get(channel) ?? null,
      },
      staves: 1,
      drafts: [],
      count: 0,
      clefs: new Map(),
      keys: new Map(),
      transposition: null,
      voices: new Map(),
    };
    // A second voice of this id in one tune is another part.
    this.parts.set(this.parts.has(key) ? `${key}\n${id}` : key, growing);
    if (!this.#first.has(voice)) this.#first.set(voice, growing);
    return growing;
  }

  #place(part: TunePart, growing: Growing, bars: readonly TuneBar[]): void {
    const voices = part.staves.flatMap((staff, index) => staff.map((voice) => ({ voice, staff: index + 1 })));
    growing.staves = Math.max(growing.staves, part.staves.length);
    while (growing.drafts.length < this.bars) growing.drafts.push(null);
    numberSlurs(voices.flatMap(({ voice }) => voice.slurs));
    const { id } = growing.head;
    for (const { voice } of voices)
      if (!growing.voices.has(voice.id)) growing.voices.set(voice.id, String(growing.voices.size + 1));
    let lacking = 0;
    let lacksFrom = '';
    bars.forEach(({ number, implicit, wholeBar }, index) => {
      const bar = this.bars + index;
      if (voices.every(({ voice }) => voice.bars[index] === undefined)) {
        growing.drafts.push(null);
        if (lacking === 0) lacksFrom = number;
        lacking += 1;
        return;
      }
      const out = emptyMeasure(number, implicit);
      // Overlays are named behind all voices of the part.
      let overlays = growing.voices.size;
      for (const { voice, staff } of voices) {
        const own = voice.bars[index];
        if (own === undefined) continue;
        const before = overlays;
        placeBar(own, out, {
          bar,
          staff,
          voices: (layer) => (layer === 0 ? (growing.voices.get(voice.id) ?? '1') : String(before + layer)),
          wholeBar,
          nextId: () => {
            growing.count += 1;
            return `${id}-m${bar}-n${growing.count}`;
          },
          place: { part: id, bar: number },
        });
        overlays += own.layers.length - 1;
      }
      if (index === 0) settle(growing, out);
      remember(growing, out);
      growing.drafts.push(out);
    });
    if (lacking > 0)
      this.#log.say(
        'repair',
        'part-lacks-bars',
        `This part has no content in ${lacking} of the ${bars.length} bars, from bar ${lacksFrom} on; it is silent there.`,
        { part: id, bar: lacksFrom },
      );
  }

  /** Lets the bars follow the order in which the header has the tune's sections played. */
  #follow(tune: Tune, first: Growing, bars: readonly TuneBar[]): void {
    const { order } = tune;
    if (order === null) return;
    const marks = [...tune.voices.values()].find(({ sections }) => sections.length > 0)?.sections ?? [];
    const draft = (bar: number): MeasureDraft | null => first.drafts[this.bars + bar] ?? null;
    const kept = marks.filter(({ bar }, index) => bar < bars.length && bar !== marks[index + 1]?.bar);
    const sections = kept.map(({ bar, label }, index): Section => {
      const from = index === 0 ? 0 : bar;
      const to = (kept[index + 1]?.bar ?? bars.length) - 1;
      let own = 0;
      let times = 1;
      for (let n = from; n <= to; n += 1) {
        for (const repeat of draft(n)?.repeats ?? []) {
          if (repeat.direction === 'forward') continue;
          own += 1;
          times = Math.max(
            2,
            repeat.times,
            ...(draft(n)?.endings ?? []).flatMap(({ numbers }) => numbers),
            times,
          );
        }
        for (const { numbers } of draft(n)?.endings ?? []) times = Math.max(times, ...numbers);
      }
      const closed =
        own === 0 ||
        (draft(to)?.repeats ?? []).some(({ direction }) => direction === 'backward') ||
        times > 2;
      return { label, from, to, times: closed ? times : null };
    });
    const labels = expandOrder(order);
    const course = labels === null ? null : courseOf(labels, sections);
    if (course === null) {
      this.#log.say(
        'note',
        'order-not-followed',
        `The piece${tune.titles[0] === undefined ? '' : ` "${tune.titles[0].slice(0, 60)}"`} says "P:${order.trim().slice(0, 60)}" for the order in which its sections are played, which repeats and a da capo can not say; it is read as it stands.`,
        tune.orderPlace,
      );
      return;
    }
    if (course.unrepeated === true)
      this.#log.say(
        'assumption',
        'order-repeats-once',
        `The piece says "P:${order.trim().slice(0, 60)}" for the order in which its sections are played; those that are played again at the end are read as after a da capo, without their repeats.`,
        tune.orderPlace,
      );
    for (const { from, to, times } of course.repeats) {
      draft(from)?.repeats.push({ edge: 'left', direction: 'forward', times: 0, afterJump: false });
      draft(to)?.repeats.push({ edge: 'right', direction: 'backward', times, afterJump: false });
    }
    if (course.fine === null) return;
    draft(course.fine)?.jumps.push({
      at: F.fraction(1_000_000),
      kind: 'fine',
      name: '',
      from: 'sound',
      text: '',
    });
    draft(bars.length - 1)?.jumps.push({
      at: F.fraction(1_000_000),
      kind: 'daCapo',
      name: '',
      from: 'sound',
      text: '',
    });
  }
}

/** Titles of several pieces as one. Characters. */
const longestTitle = 120;

const titleOf = (titles: readonly string[]): string => {
  const all = titles.filter((title) => title !== '').join('; ');
  return all.length <= longestTitle ? all : `${all.slice(0, longestTitle)} ...`;
};

/**
 * The score in the text of an ABC file. Errors: `no-bars` where no tune has music, `file-too-large`, `divisions-absurd`.
 */
export const scoreOf = (text: string): Result<Score> =>
  refusable(() => {
    const log = createLog();
    const { version, header, tunes, freeText } = sourceOf(text);
    const assembly = new Assembly(log);
    const strict = version !== null && isStrict(version);
    for (const lines of tunes) assembly.add(readTune(lines, header, tunes.length > 1, strict, log));
    if (freeText > 0)
      log.say(
        'note',
        'not-kept',
        `Text that stands between the pieces is not kept (${freeText === 1 ? 'one line' : `${freeText} lines`}).`,
      );
    if (assembly.titles.length > 1)
      log.say(
        'note',
        'several-pieces',
        `The file holds ${assembly.titles.length} pieces, which follow each other as movements: ${assembly.titles
          .slice(0, 12)
          .map((title) => (title === '' ? 'one without title' : `"${title.slice(0, 40)}"`))
          .join(', ')}${assembly.titles.length > 12 ? ' and more' : ''}.`,
      );
    const columns = [...assembly.parts.values()].map(({ head, staves, drafts }): Column => {
      while (drafts.length < assembly.bars) drafts.push(null);
      return { head, staves, drafts };
    });
    return layOut({ title: titleOf(assembly.titles), source: 'abc', columns }, log);
  });
