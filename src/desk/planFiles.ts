/** A rehearsal plan for people: as lines to print, as a list to change by hand. */
import {
  planRehearsal,
  planRemarks,
  type PlanAsked,
  type PlanPlace,
  type PlanRemark,
  type Planned,
  type RehearsalPlan,
} from '../plan/index.ts';
import { z } from 'zod';
import { textPages, type TextLine } from '../sheet/textPages.ts';
import { usualSheet, type SheetOptions } from '../sheet/index.ts';
import { fail, ok, type Result } from '../units/index.ts';
import { chosenParts, toldPlaces, type FindTexts } from './find.ts';
import { journalOf, mainSteps, standing, takesAt, type Records } from './journal/journal.ts';
import { placeKey, stepKey } from './journal/keys.ts';
import { pieceHash } from './makeDrill.ts';
import { readPiece } from './readOnce.ts';
import { firstEnsemble, pieceId } from './shelf/records.ts';
import type { SheetPorts } from './sheet.ts';
import type { FileToWrite } from './ports.ts';
import { planWords } from './words/plan.ts';
import type { TellingLanguage } from './words/language.ts';

export {
  planRehearsal,
  planRemarks,
  type PlanAsked,
  type PlanPlace,
  type Planned,
  type PlanRemark,
  type RehearsalPlan,
};

/** One line of a plan as it is printed and kept: "levare.plan/1". */
const itemSchema = z.strictObject({
  kind: z.enum(['retest', 'work', 'break', 'free']),
  minutes: z.int().min(1).max(1440),
  piece: z.string().describe('Id of the piece; empty for breaks and the free end'),
  place: z.string().describe('Key of the place in the journal; empty where it is none'),
  bars: z.string().describe('Bars as a drill names them; empty where none are meant'),
  step: z.string().describe('Key of the step to begin with; empty where it is none'),
  words: z.string().describe('What is printed there'),
});

export const planSchema = z
  .strictObject({
    format: z.literal('levare.plan/1'),
    title: z.string(),
    minutes: z.int().min(1).max(1440).describe('The time there is'),
    items: z.array(itemSchema).max(500).readonly(),
  })
  .describe('A plan for a rehearsal, to be changed by hand');

export type PrintedPlan = z.infer<typeof planSchema>;

/** The places of a piece as a plan needs them, with where they stand by the journal. Errors: the readers' and those of `toldPlaces`. */
export const planPlaces = (
  bytes: Uint8Array,
  asked: FindTexts,
  records: Records,
  ensemble: string = firstEnsemble,
): Result<{ title: string; places: readonly PlanPlace[]; words: ReadonlyMap<string, string> }> => {
  const read = readPiece(bytes);
  if (!read.ok) return read;
  const told = toldPlaces(read.value, asked);
  if (!told.ok) return told;
  const piece = pieceId(ensemble, pieceHash(bytes));
  const journal = journalOf(records.values());
  const words = new Map<string, string>();
  const places = told.value.flatMap(({ printed }): PlanPlace[] => {
    const steps = mainSteps(printed.steps);
    const key = placeKey(printed);
    const takes = takesAt(journal, piece, key);
    const stands = standing(takes, printed.steps);
    const step = steps[stands.step] ?? steps[0];
    if (step === undefined) return [];
    words.set(key, printed.why);
    return [
      {
        piece,
        place: key,
        bars: step.bars,
        step: stepKey(step),
        players: printed.parts,
        weight: printed.weight,
        standing: stands.kind,
        last: takes.at(-1)?.day ?? '',
      },
    ];
  });
  return ok({ title: read.value.score.title, places, words }, told.problems);
};

/**
 * Who is there, as ids of parts: names of players by the journal, or ids or names of parts, with commas. Errors: the readers', `part-unknown`.
 */
export const presentParts = (
  bytes: Uint8Array,
  records: Records,
  text: string,
  ensemble: string = firstEnsemble,
): Result<ReadonlySet<string> | null> => {
  const read = readPiece(bytes);
  if (!read.ok) return read;
  const home = records.get(`ensemble:${ensemble}`);
  const piece = records.get(`piece:${pieceId(ensemble, pieceHash(bytes))}`);
  const players = home?.kind === 'ensemble' ? Object.entries(home.value.players) : [];
  const plays = piece?.kind === 'piece' ? Object.entries(piece.value.players) : [];
  const parts = text.split(',').flatMap((item) => {
    const wanted = item.trim().toLowerCase();
    const ids = players.flatMap(([id, player]) => (player?.name.toLowerCase() === wanted ? [id] : []));
    const own = plays.flatMap(([part, id]) => (ids.includes(id) ? [part] : []));
    return own.length === 0 ? [item] : own;
  });
  return chosenParts(read.value.score, parts.join(','));
};

/** A plan as it is kept and printed. `why`: what is to be said of a place, by its key. */
export const printedPlan = (
  title: string,
  minutes: number,
  plan: RehearsalPlan,
  why: ReadonlyMap<string, string>,
): PrintedPlan => ({
  format: 'levare.plan/1',
  title,
  minutes,
  items: plan.items.map(({ kind, minutes: some, place }, i) => ({
    kind,
    minutes: some,
    piece: place?.piece ?? '',
    place: place?.place ?? '',
    bars: place?.bars ?? '',
    step: place?.step ?? '',
    // Said once; the next turn is known by its bars.
    words:
      place === null || plan.items.slice(0, i).some((item) => item.place === place)
        ? ''
        : (why.get(place.place) ?? ''),
  })),
});

/** Reads a plan that was changed by hand. Errors: `plan-damaged`, `format-newer`. */
export const parsePlan = (json: unknown): Result<PrintedPlan> => {
  const format = z.looseObject({ format: z.string() }).safeParse(json);
  const version = /^levare\.plan\/(\d{1,9})$/.exec(format.success ? format.data.format : '')?.[1];
  if (version === undefined)
    return fail('plan-damaged', 'This is not a plan: its "format" should be "levare.plan/1".');
  if (Number(version) > 1)
    return fail(
      'format-newer',
      `This plan has format version ${version}; this Levare reads up to 1. A newer Levare wrote it: bring this one up to date.`,
    );
  const read = planSchema.safeParse(json);
  if (read.success) return ok(read.data);
  const [issue] = read.error.issues;
  return fail(
    'plan-damaged',
    `The plan is damaged: its field "${issue?.path.map(String).join('.') ?? ''}" is missing or is not what it should be.`,
  );
};

/** What a changed plan does not keep to. */
export const remarksOn = ({ items, minutes }: PrintedPlan): readonly PlanRemark[] =>
  planRemarks(
    items.map(({ kind, minutes: some, piece, place, bars, step }): Planned => ({
      kind,
      minutes: some,
      place:
        place === ''
          ? null
          : { piece, place, bars, step, players: [], weight: 0, standing: 'open', last: '' },
    })),
    minutes,
  );

/** A change by hand. Indices that are not there change nothing. */
export type PlanEdit =
  | { readonly kind: 'move'; readonly from: number; readonly to: number }
  | { readonly kind: 'remove'; readonly at: number }
  | { readonly kind: 'minutes'; readonly at: number; readonly minutes: number }
  | { readonly kind: 'words'; readonly at: number; readonly words: string }
  | { readonly kind: 'add'; readonly at: number; readonly item: PrintedPlan['items'][number] };

export const editPlan = (plan: PrintedPlan, edit: PlanEdit): PrintedPlan => {
  const items = [...plan.items];
  const at = edit.kind === 'move' ? edit.from : edit.at;
  const item = items[at];
  if (edit.kind === 'add') items.splice(Math.max(0, Math.min(items.length, at)), 0, edit.item);
  else if (item === undefined) return plan;
  else if (edit.kind === 'remove') items.splice(at, 1);
  else if (edit.kind === 'move') {
    items.splice(at, 1);
    items.splice(Math.max(0, Math.min(items.length, edit.to)), 0, item);
  } else if (edit.kind === 'minutes')
    items[at] = { ...item, minutes: Math.max(1, Math.min(1440, Math.round(edit.minutes))) };
  else items[at] = { ...item, words: edit.words };
  return { ...plan, items };
};

/** The plan as lines: to print, and for a terminal. */
export const planLines = (plan: PrintedPlan, language: TellingLanguage): readonly TextLine[] => {
  const words = planWords[language];
  let minute = 0;
  const rows = plan.items.map((item): TextLine => {
    const lead = words.time(minute);
    minute += item.minutes;
    const bars = item.bars === '' ? '' : `${words.bars(item.bars)}. `;
    const click = item.step === '' ? '' : ` ${words.click(item.step.split(' ')[1] ?? '')}`;
    return {
      kind: 'row',
      lead,
      text: `${words.minutes(item.minutes)}. ${words.kinds[item.kind]} ${bars}${item.words}${click}`
        .replace(/\s+/g, ' ')
        .trim(),
    };
  });
  return [
    { kind: 'title', text: plan.title === '' ? words.title : `${plan.title} – ${words.title}` },
    { kind: 'text', text: words.head(plan.minutes) },
    ...rows,
    ...remarksOn(plan).map((remark): TextLine => ({ kind: 'small', text: words.remarks[remark] })),
    { kind: 'small', text: words.yours },
  ];
};

/** plan.json and, where pages are made, plan.pdf. Errors: the PDF maker's. */
export const planFiles = async (
  plan: PrintedPlan,
  sheets: SheetPorts | null,
  language: TellingLanguage,
  sheet: Pick<SheetOptions, 'paper' | 'orientation'> = usualSheet,
): Promise<Result<readonly FileToWrite[]>> => {
  const json = new TextEncoder().encode(`${JSON.stringify(plan, null, 2)}\n`);
  const files: FileToWrite[] = [{ name: 'plan.json', chunks: [json], size: json.length }];
  if (sheets === null) return ok(files);
  const text = textPages(planLines(plan, language), sheet, sheets.pdf.textFaces);
  if (!text.ok) return text;
  const { page, pages } = text.value;
  const pdf = await sheets.pdf.make(
    pages.map((svg) => ({ svg })),
    { title: plan.title, language, ...page },
  );
  if (!pdf.ok) return pdf;
  files.push({ name: 'plan.pdf', chunks: [pdf.value], size: pdf.value.length });
  return ok(files, [...text.problems, ...pdf.problems]);
};
