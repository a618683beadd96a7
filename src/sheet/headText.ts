/** What stands above the music on the first page, in the words of players. */
import { plainValue } from '../drill/rests.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import { beats, F, note, type Beats } from '../units/index.ts';
import type { PlayerLine } from './pencil.ts';
import { englishSheet, type HeadWords, type SheetWords } from './sheetWords.ts';

export interface HeadText {
  readonly title: string;
  /** "Flute"; "Score" where several parts stand. */
  readonly part: string;
  /** "bars 10–17, second time". */
  readonly bars: string;
  /** The value counted, drawn in the music font, and "72 · 80 · 88". */
  readonly tempo: { readonly sign: string; readonly figures: string };
  /** "eighths only · click on the weak beats · 3 times". */
  readonly manner: string;
  /** What the lines on the page mean: a row of its own. */
  readonly key?: readonly { readonly words: string; readonly line: PlayerLine | null }[];
}

const barsText = ({ drill, round, order }: WorkedDrill, said: HeadWords): string => {
  const row = round.bars.filter((entry) => entry.kind === 'bar');
  const again =
    new Set(row.map(({ visit }) => visit.index)).size > new Set(row.map(({ bar }) => bar.index)).size;
  const repeats = again ? `, ${said.withRepeats}` : '';
  if (drill.bars.trim().toLowerCase() === 'all') return `${said.allBars}${repeats}`;
  const full = row.filter(({ barCount }) => barCount !== null);
  const first = full[0] ?? row[0];
  const last = full.at(-1) ?? row.at(-1);
  if (first === undefined || last === undefined) return '';
  const name = said.bars(first.bar.number, last.bar.number);
  if (again) return `${name}${repeats}`;
  const repeated = order.visits.filter(({ barIndex }) => barIndex === first.bar.index).length > 1;
  return repeated ? `${name}, ${said.time(first.visit.pass)}` : name;
};

/** "1/8+" as "eighths and longer"; what has no such name as it was written. */
const keepText = (keep: string, said: HeadWords): string =>
  keep
    .split(',')
    .map((piece) => {
      const match = /^\s*([\d/]+)(t?)([+-]?)\s*$/.exec(piece);
      return said.keep(match?.[1] ?? '', match?.[2] === 't', match?.[3] ?? '') ?? piece.trim();
    })
    .join(', ');

const clickText = (click: string, said: HeadWords): string => {
  const bars = /^(\d+)bars$/.exec(click)?.[1];
  const hemiola = /^hemiola:(.+)$/.exec(click)?.[1];
  if (bars !== undefined) return said.clickInBars(bars);
  if (hemiola !== undefined) return said.hemiola(hemiola.replace('-', '–'));
  return said.clicks[click] ?? said.click(click);
};

const timesText = ({ drill }: WorkedDrill, said: HeadWords): string =>
  drill.times < 2 ? '' : said.times(drill.times, drill.tempo.length > 1);

/** SMuFL 1.4, "Metronome marks": metNoteWhole U+ECA2, then half, quarter ..., every second code stem down. */
const metronomeSign: Readonly<Record<string, number>> = {
  breve: 0xeca0,
  whole: 0xeca2,
  half: 0xeca3,
  quarter: 0xeca5,
  eighth: 0xeca7,
  '16th': 0xeca9,
  '32nd': 0xecab,
};
const augmentationDot = 0xecb7;

const signOf = (unit: Beats): string => {
  const value = plainValue(unit);
  const code = value === null ? undefined : metronomeSign[value.type];
  if (value === null || code === undefined) return '';
  return String.fromCodePoint(code) + String.fromCodePoint(augmentationDot).repeat(value.dots);
};

/** A tempo to a tenth, without needless zeros. */
const figureOf = (perMinute: F.Fraction): string => String(Math.round(F.toNumber(perMinute) * 10) / 10);

/** Beats a minute with which each tempo step begins its first repetition. */
const tempoText = (
  { drill, grids, round, timeline }: WorkedDrill,
  { point }: HeadWords,
): HeadText['tempo'] => {
  const lead = round.bars.find((entry) => entry.kind === 'bar' && entry.barCount === 0) ?? round.bars[0];
  const unit = (lead === undefined ? undefined : grids[lead.bar.index])?.tempoUnit ?? note(1, 4);
  const { sections } = timeline.tempo;
  const figures = Array.from({ length: Math.max(1, drill.tempo.length) }, (_, step) => {
    const rep = step * drill.times + 1;
    const at = timeline.bars.find((bar) => bar.rep === rep && bar.kind === 'bar')?.start ?? note(0);
    const section = sections.findLast(({ start }) => F.atMost(start, at)) ?? sections[0];
    const pace = section?.from ?? F.one;
    return figureOf(F.div(F.fraction(60), F.mul(pace, unit))).replace('.', point);
  });
  const sign = signOf(unit);
  return { sign, figures: `${sign === '' ? `${F.format(beats(unit))} ` : ''}= ${figures.join(' · ')}` };
};

/** The head of a page; `part` is null for a score of several. */
export const headText = (
  worked: WorkedDrill,
  part: string | null,
  { head: said }: SheetWords = englishSheet,
): HeadText => ({
  title: worked.score.title,
  part: part ?? said.score,
  bars: barsText(worked, said),
  tempo: tempoText(worked, said),
  manner: [
    worked.drill.keep === 'all' ? '' : keepText(worked.drill.keep, said),
    clickText(worked.drill.click, said),
    timesText(worked, said),
  ]
    .filter((text) => text !== '')
    .join(' · '),
});
