/**
 * Puts an MEI document together: its scores one after the other as movements, each read measure by measure. Source: MEI
 * Guidelines 5, chapter 2 "Shared concepts" (mdiv, score, parts, section, ending, expansion).
 */
import { beats, F, refusable, Refusal, type Result } from '../../../units/index.ts';
import type { Score } from '../../model.ts';
import { createIds } from '../drafts/ids.ts';
import { layOut, type Column } from '../drafts/layOut.ts';
import { createLog, notKept, type Log } from '../drafts/log.ts';
import { child, childrenOf, type XmlElement } from '../xml.ts';
import { applyDefinition } from './changes.ts';
import { readControls } from './controls.ts';
import { compareExpansions, tellFurther, type Expansion } from './expansions.ts';
import { applyImplied } from './implied.ts';
import { readMeasure } from './measure.ts';
import { refuseOtherNotation, titleOf } from './head.ts';
import { collect, spreadOut, type Sequence } from './sequence.ts';
import { partsWithMusic, tellMissing } from './silent.ts';
import { tupletSpans } from './spans.ts';
import { mostWork, placeIn, type PartState, type World } from './state.ts';
import { readPlayback } from './tempo.ts';
import { plainTree } from './tree.ts';
import { troupeOf } from './troupe.ts';

/** Several performer parts are read side by side; a score is the only one of its movement. */
type Movement = readonly XmlElement[];

const movementsIn = (element: XmlElement, log: Log): Movement[] => {
  const score = child(element, 'score');
  const parts = child(element, 'parts');
  const own: Movement[] = [];
  if (score !== undefined) {
    own.push(...childrenOf(element, 'score').map((one) => [one]));
    if (parts !== undefined) notKept(log, 'parts', 'The single parts beside the score', {});
  } else if (parts !== undefined) own.push(childrenOf(parts, 'part'));
  const inner = element.children
    .filter(({ name }) => name !== 'score' && name !== 'parts' && name !== 'meiHead')
    .flatMap((one) => movementsIn(one, log));
  return [...own, ...inner];
};

/** Reads one score or performer part from bar `start` on. */
const readContainer = (
  container: XmlElement,
  start: number,
  taken: Set<PartState>,
  world: World,
): readonly Expansion[] => {
  const sequence: Sequence = { items: [], stretches: new Map(), expansions: [] };
  collect(container, sequence, world.log);
  const troupe = troupeOf(container, taken, world);
  let bar = start;
  const barOfItem: number[] = [];
  for (const [item, position] of spreadOut(sequence.items)) {
    if (position >= 0) barOfItem[position] = bar;
    if (item.kind === 'definition') {
      applyDefinition(item.element, troupe.staves, world.log, placeIn(world, Math.max(start, bar - 1)));
      world.tempi.push({ element: item.element, bar });
      continue;
    }
    readMeasure(item, bar, troupe, world);
    bar += 1;
  }
  barOfItem[sequence.items.length] = bar;
  for (let index = sequence.items.length - 1; index >= 0; index -= 1)
    barOfItem[index] ??= barOfItem[index + 1] ?? bar;
  for (const [id, [from, to]] of sequence.stretches) {
    const [first, end] = [barOfItem[from] ?? bar, barOfItem[to] ?? bar];
    if (!world.barsById.has(id)) world.barsById.set(id, [first, end]);
  }
  return sequence.expansions;
};

const settleBarRests = (world: World): void => {
  const content = world.bars.map((_, bar) =>
    world.parts.reduce((most, { drafts }) => F.max(most, drafts[bar]?.extent ?? F.zero), F.zero),
  );
  for (const { note, draft, bar, full } of world.barRests) {
    const filled = content[bar] ?? F.zero;
    const length = F.isPositive(filled) ? filled : full;
    if (note !== null) note.duration = beats(length);
    draft.restExtent = F.max(draft.restExtent, length);
  }
};

const settleAccidentals = (world: World): void => {
  const tied = new Map<string, number>();
  for (const staff of world.staves)
    for (let bar = 0; bar < world.bars.length; bar += 1) {
      const altered = applyImplied(staff, bar, tied);
      for (let count = 0; count < altered; count += 1)
        world.log.tally(
          'assumption',
          'accidentals-implied',
          '',
          (many) =>
            `The file does not say how notes without an accidental of their own are altered; key signature and the accidentals before in the bar are applied (${many}).`,
          placeIn(world, bar, staff.part),
        );
    }
};

const timed = new Set(['note', 'chord', 'rest', 'space']);

/** Whether notes begin at a time stamp 0: then time stamps count ticks, since beats are counted from 1. */
const countsTicks = (root: XmlElement): boolean => {
  const open = [root];
  for (let element = open.pop(); element !== undefined; element = open.pop()) {
    if (timed.has(element.name) && element.attributes['tstamp'] === '0') return true;
    for (const one of element.children) open.push(one);
  }
  return false;
};

const gestural = (root: XmlElement): boolean => {
  const open = [root];
  for (let element = open.pop(); element !== undefined; element = open.pop()) {
    if ('accid.ges' in element.attributes) return true;
    for (const one of element.children) open.push(one);
  }
  return false;
};

/** In a file that numbers no bar: from 1, or from 0 where it begins with a bar that does not fill its metre. */
const countBars = (world: World): void => {
  if (world.bars.some(({ number }) => number !== '')) return;
  const upbeat = world.bars[0]?.incomplete === true;
  world.log.say(
    'assumption',
    'bars-counted',
    `The file does not number its bars; they are counted from ${upbeat ? '0, the upbeat' : '1'}.`,
  );
  world.bars.forEach((bar, index) => {
    const number = String(index + (upbeat ? 0 : 1));
    world.bars[index] = { ...bar, number };
    for (const part of world.parts) {
      const draft = part.drafts[index];
      if (draft !== undefined && draft !== null) part.drafts[index] = { ...draft, number, implicit: false };
    }
  });
};

const columnsOf = (parts: readonly PartState[], world: World): readonly Column[] =>
  parts.map(({ head, staves, drafts }) => ({
    head,
    staves,
    drafts: world.bars.map((_, bar) => drafts[bar] ?? null),
  }));

/** The score in a document whose root is `mei` or `meiCorpus`. Errors: `no-bars`, `not-a-score`, `divisions-absurd`, `xml-too-deep`, `file-too-large`. */
export const scoreOf = (document: XmlElement): Result<Score> =>
  refusable(() => {
    const log = createLog();
    const root = plainTree(document, log);
    const movements = movementsIn(root, log);
    refuseOtherNotation(root, log);
    const world: World = {
      log,
      parts: [],
      bars: [],
      events: new Map(),
      waiting: [],
      barRests: [],
      directions: [],
      tempi: [],
      staves: [],
      spans: tupletSpans(root, { log }),
      barsById: new Map(),
      implied: !gestural(root),
      ticks: countsTicks(root),
      order: 0,
      budget: mostWork,
      newId: createIds(),
    };
    const expansions = movements.flatMap((movement) => {
      const start = world.bars.length;
      const taken = new Set<PartState>();
      const found = movement.flatMap((container) => readContainer(container, start, taken, world));
      const draft = world.parts
        .find(({ drafts }) => (drafts[world.bars.length - 1] ?? null) !== null)
        ?.drafts.at(-1);
      // A movement ends, whether its last bar line is drawn or not.
      if (movement !== movements.at(-1)) draft?.styles.push({ edge: 'right', style: 'light-heavy' });
      return found;
    });
    if (world.bars.length === 0)
      throw new Refusal('no-bars', 'The file is MEI but has no bars: there is no music in it.');
    if (movements.length > 1)
      log.say(
        'note',
        'several-pieces',
        `The file holds ${movements.length} movements or pieces; they follow each other as one score.`,
      );
    readControls(world);
    for (const { element, bar } of world.tempi) {
      const draft = world.parts[0]?.drafts[Math.min(bar, world.bars.length - 1)];
      if (draft !== undefined && draft !== null)
        readPlayback(
          element,
          beats(F.zero),
          Math.min(bar, world.bars.length - 1),
          draft,
          log,
          placeIn(world, bar),
        );
    }
    if (world.implied) settleAccidentals(world);
    settleBarRests(world);
    for (const staff of world.staves)
      for (const [bar, drawn] of staff.drawn)
        for (const { note } of drawn) staff.part.drafts[bar]?.notes.push(note);
    countBars(world);
    const parts = partsWithMusic(world);
    tellMissing(parts, world);
    tellFurther(expansions, log);
    const result = layOut({ title: titleOf(root), source: 'mei', columns: columnsOf(parts, world) }, log);
    return compareExpansions(result, expansions, world.barsById);
  });
