/** From what was heard of each player to the reading that is printed. */
import type { Drill } from '../drill/model.ts';
import type { WorkedDrill } from '../drill/workOut.ts';
import type { PlayerHeard } from '../listen/player.ts';
import { secondsNumber, type Problem } from '../units/index.ts';
import type { Assigned } from './hearAssign.ts';
import { findingsOf } from './findings/index.ts';
import { freeSaid } from './freeTimes.ts';
import { leftOutOf, standing } from './hearSaid.ts';
import { togetherOnly } from './hearTogether.ts';
import type { Reading, ReadingFigures, ReadingNote } from './reading.ts';
import { figuresOf } from './readingFigures.ts';
import { eachOnce } from './readOnce.ts';

/** A player whose recording was heard. */
export interface Heard {
  readonly assigned: Assigned;
  readonly heard: PlayerHeard;
  /** One standard deviation in seconds of how late all beginnings of the player may be heard, where it is known. */
  readonly lagError?: number;
}

const notesOf = ({ timeline }: WorkedDrill, part: string, heard: PlayerHeard): readonly ReadingNote[] => {
  const byId = new Map(heard.notes.map((note) => [note.id, note]));
  return timeline.notes.flatMap((note): readonly ReadingNote[] => {
    const found = byId.get(note.id);
    if (note.part !== part || found === undefined) return [];
    return [
      {
        id: note.id,
        part,
        bar: note.bar,
        barIndex: note.barIndex,
        beat: note.beat,
        pass: note.pass,
        rep: note.rep,
        expected: secondsNumber(note.time),
        onset: found.onset,
        perceived: found.perceived,
        offset: found.offset,
        level: found.level,
        cents: found.cents,
        uncertainty: found.uncertainty,
        perceivedUncertainty: found.perceivedUncertainty,
        state: found.state,
      },
    ];
  });
};

const clicksPerBar = ({ timeline: { bars, clicks } }: WorkedDrill): number => {
  const played = bars.filter(({ kind }) => kind === 'bar').length;
  return clicks.filter(({ kind }) => kind === 'click').length / Math.max(1, played);
};

/** `free`: the players did not hold to the click. `assumed`: what was said of the recordings on the way. */
export const readingOf = (
  players: readonly Heard[],
  worked: WorkedDrill,
  { score: { title }, bars, click: placement }: Drill,
  free: boolean,
  assumed: readonly Problem[],
): Reading => {
  const order = new Map(worked.timeline.notes.map(({ id }, i) => [id, i]));
  const oneFile = players.length > 1 && new Set(players.map(({ assigned }) => assigned.file)).size === 1;
  const clocked = players.filter(({ heard }) => oneFile || heard.clock.by === 'clicks');
  const notes = togetherOnly(
    players
      .flatMap(({ assigned, heard }) => notesOf(worked, assigned.part.id, heard))
      .sort((a, b) => (order.get(a.id) ?? 0) - (order.get(b.id) ?? 0)),
    new Set(clocked.map(({ assigned }) => assigned.part.id)),
  );
  const clock = players.map(({ assigned: { part, file }, heard, lagError }) => ({
    part: part.id,
    file: file.name,
    offset: heard.clock.offset,
    ppm: heard.clock.ppm,
    offsetError: heard.clock.offsetError,
    ppmError: heard.clock.ppmError,
    by: heard.clock.by,
    clicksHeard: heard.clock.clicksHeard,
    clicksExpected: heard.clock.clicksExpected,
    ...(lagError === undefined ? {} : { lagError }),
  }));
  const figures = figuresOf(worked, notes, clock, free);
  const parts = players.map(({ assigned: { part, file }, heard }) => ({
    id: part.id,
    name: part.name,
    file: file.name,
    reference: heard.reference,
  }));
  const reading: ReadingFigures = {
    format: 'levare.reading/4',
    title,
    bars,
    click: { placement, perBar: clicksPerBar(worked) },
    parts,
    clock,
    playing: free ? 'free' : 'click',
    notes,
    added: players
      .flatMap(({ assigned: { part }, heard }) => heard.added.map((note) => ({ part: part.id, ...note })))
      .sort((a, b) => a.time - b.time),
    ...figures,
    assumed: eachOnce([
      ...(players.length > 1 && !oneFile ? standing : standing.slice(0, 1)),
      ...assumed,
      ...leftOutOf(figures),
      ...freeSaid({ notes, parts, written: figures.written }),
    ]),
  };
  return { ...reading, findings: findingsOf(reading) };
};
