import { F, note, type Fraction, type Problem } from '../../units/index.ts';
import { sameMetre } from '../metre.ts';
import type { Bar, Part, Score } from '../model.ts';
import { plainRest, type WrittenNote } from '../notes.ts';
import { Context, divisionsFor } from './musicxml/context.ts';
import { partIds, writeHeader } from './musicxml/header.ts';
import { jumpNames } from './musicxml/jumps.ts';
import { writeMeasure } from './musicxml/measure.ts';
import { contentsByBar, marksByBar, spokenJumps } from './musicxml/place.ts';
import { XmlLines } from './xmlText.ts';

/** Beyond this many divisions of a quarter, programs that count in 32 bits may go wrong within a long bar. */
const manyDivisions = 2n ** 24n;

/** Every position and length that the part's bars hold, from the bar's start. */
function* lengthsOf(part: Part, bars: readonly Bar[]): Generator<Fraction> {
  const fromBar = (at: Fraction, bar: Bar | undefined): Fraction =>
    bar === undefined ? at : F.sub(at, bar.start);
  for (const bar of bars) {
    yield bar.start;
    yield bar.length;
  }
  for (const { onset, duration, bar } of part.written) {
    yield fromBar(onset, bars[bar]);
    yield duration;
  }
  for (const { at } of [...part.directions, ...part.keys, ...part.clefs, ...part.transpositions]) yield at;
}

const silence = (bar: Bar): WrittenNote => ({
  ...plainRest,
  id: `rest-${bar.index + 1}`,
  bar: bar.index,
  onset: bar.start,
  duration: bar.length,
  wholeBar: true,
});

/** One part that rests in every bar: a MusicXML document needs at least one. */
const silentPart = ({ bars }: Score): Part => ({
  id: 'P1',
  name: '',
  abbreviation: '',
  sound: '',
  program: null,
  staves: 1,
  transpositions: [],
  clefs: [{ at: note(0), staff: 1, sign: 'G', line: 2, octave: 0 }],
  keys: [],
  written: bars.map(silence),
  notes: [],
  directions: [],
});

const writePart = (context: Context, score: Score, part: Part, id: string, first: boolean): void => {
  const { bars } = score;
  const marks = marksByBar(bars, first ? score.marks : []);
  const spoken = spokenJumps(bars, first ? score.parts : []);
  const nameOf = jumpNames(bars);
  const contents = contentsByBar(bars, part);
  const divisions = divisionsFor(
    (function* () {
      yield* lengthsOf(part, bars);
      if (first) for (const { at } of score.marks) yield at;
    })(),
  );
  if (divisions > manyDivisions)
    context.report(
      'note',
      'divisions-large',
      `The notes of this part need ${String(divisions)} divisions of a quarter to be written exactly: other programs may not count that far.`,
      { part: part.id },
    );
  context.out.within('part', { id }, () => {
    bars.forEach((bar, index) => {
      const before = bars[index - 1];
      writeMeasure(context, {
        bar,
        part,
        divisions,
        first,
        metre: before !== undefined && sameMetre(before.metre, bar.metre) ? null : bar.metre,
        notes: contents.notes[index] ?? [],
        directions: contents.directions[index] ?? [],
        changes: {
          keys: [...(contents.keys[index] ?? [])],
          clefs: [...(contents.clefs[index] ?? [])],
          transpositions: [...(contents.transpositions[index] ?? [])],
        },
        marks: marks[index] ?? [],
        spoken: spoken[index] ?? new Set(),
        nameOf,
      });
    });
  });
};

/**
 * Writes a score as MusicXML 4.0, score-partwise (W3C Community Group Final Report 2021), valid against its schema.
 * The same score gives the same text: it holds no date and nothing about the machine. What holds for everyone (tempo,
 * rehearsal marks, jumps) stands in the first part; grace notes take no time; a bar that is shorter or longer than its
 * metre keeps its own length. Never throws; what could not be written as it is, is a Problem.
 */
export const writeMusicXml = (
  score: Score,
): { readonly text: string; readonly problems: readonly Problem[] } => {
  const out = new XmlLines();
  const context = new Context(out);
  if (score.parts.length === 0)
    context.report(
      'note',
      'no-parts',
      'The score has bars but no parts: one silent part was written, with a rest for each bar.',
    );
  const whole = score.parts.length === 0 ? { ...score, parts: [silentPart(score)] } : score;
  const ids = partIds(context, whole.parts);
  out.raw('<?xml version="1.0" encoding="UTF-8" standalone="no"?>');
  out.raw(
    '<!DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd">',
  );
  out.within('score-partwise', { version: '4.0' }, () => {
    writeHeader(context, whole, ids);
    whole.parts.forEach((part, index) => writePart(context, whole, part, ids[index] ?? part.id, index === 0));
  });
  return { text: out.toString(), problems: context.problems };
};
