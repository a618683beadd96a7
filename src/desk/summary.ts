/** A made drill in a few figures, for people to read. */
import type { Timeline } from '../drill/model.ts';
import { firstStretch } from '../drill/layout.ts';
import { parseStep } from '../drill/steps.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import { paceAt, perMinute } from '../rhythm/tempo.ts';
import { F, note, secondsNumber, type Beats } from '../units/index.ts';

export interface DrillSummary {
  readonly title: string;
  /** The bars as they were asked for. */
  readonly asked: string;
  /** Printed numbers of the bars of one repetition in the order in which they are played, upbeat bar first. */
  readonly bars: readonly string[];
  /** Names of the parts; empty where the score has bars only. */
  readonly parts: readonly string[];
  /** Length of the music before the first full bar, as a fraction of a whole note; null without. */
  readonly upbeat: string | null;
  /** Repetitions in all, over all tempo steps. */
  readonly repetitions: number;
  /** Tempo with which each step begins. */
  readonly tempi: readonly { readonly unit: string; readonly perMinute: number }[];
  /** Whether the tempo changes within the passage. */
  readonly tempoChanges: boolean;
  /** Count words before the first repetition, one text for each counted bar: "one two", "one two three four". */
  readonly countIn: readonly string[];
  /** Clicks in the music, count-ins not among them. */
  readonly clicks: number;
  /** Notes of one repetition that the line filter keeps, and all. */
  readonly kept: number;
  readonly notes: number;
  /** Seconds. */
  readonly duration: number;
}

/** What is counted before a position, a text for each bar. */
const countWords = ({ clicks }: Timeline, until: Beats): readonly string[] => {
  const rows: string[][] = [];
  for (const { kind, at, word, first } of clicks) {
    if (kind !== 'count-in' || word === null || !F.less(at, until)) continue;
    const row = rows.at(-1);
    if (row === undefined || first) rows.push([word]);
    else row.push(word);
  }
  return rows.map((row) => row.join(' '));
};

/** The unit in which a tempo step was asked for; the one that is counted where it names none. */
const unitOf = (step: string | undefined, counted: Beats): Beats => {
  const read = step === undefined ? null : parseStep(step, counted);
  return read?.ok === true && read.value.kind === 'steady' ? read.value.unit : counted;
};

/** What a drill comes to. */
export const summaryOf = (worked: WorkedDrill): DrillSummary => {
  const { drill, score, round, grids, timeline, parts } = worked;
  const { bars, tempo } = timeline;
  const music = bars.filter(({ kind }) => kind === 'bar');
  const repetitions = music.reduce((most, { rep }) => Math.max(most, rep), 0);
  const lead = firstStretch(round);
  const unit = (lead === undefined ? undefined : grids[lead.bar.index])?.tempoUnit ?? note(1, 4);
  const paceOfRep = (rep: number) => {
    const first = music.find((bar) => bar.rep === rep);
    return paceAt(tempo, first?.start ?? note(0));
  };
  const steps = Array.from({ length: Math.max(1, drill.tempo.length) }, (_, i) =>
    paceOfRep(i * drill.times + 1),
  );
  const ofFirst = music.filter(({ rep }) => rep === 1);
  const last = ofFirst.at(-1);
  const end = last === undefined ? note(0) : F.add(last.start, last.length);
  const visits = round.bars.filter((entry) => entry.kind === 'bar');
  const inFirst = timeline.notes.filter(({ rep }) => rep === 1);
  return {
    title: score.title,
    asked: drill.bars,
    bars: visits.filter(({ visit }, i) => visits[i - 1]?.visit !== visit).map(({ bar }) => bar.number),
    parts: parts.map(({ name, id }) => (name === '' ? id : name)),
    upbeat: F.isPositive(round.upbeat) ? F.format(round.upbeat) : null,
    repetitions,
    tempi: steps.map((pace, i) => {
      const asked = unitOf(drill.tempo[i], unit);
      return { unit: F.format(asked), perMinute: F.toNumber(perMinute(pace, asked)) };
    }),
    tempoChanges: tempo.sections.some(
      ({ start, from, to }) =>
        F.less(start, end) && (!F.equal(from, steps[0] ?? from) || !F.equal(to, steps[0] ?? to)),
    ),
    countIn: countWords(timeline, ofFirst[0]?.start ?? note(0)),
    clicks: timeline.clicks.filter(({ kind }) => kind === 'click').length,
    kept: inFirst.filter(({ kept }) => kept).length,
    notes: inFirst.length,
    duration: secondsNumber(timeline.duration),
  };
};
