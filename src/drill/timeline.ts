/** From a laid-out drill to a timeline: every click and note gets its exact time and its sample. */
import { positionTimes } from './times.ts';
import type { Layout } from './layout.ts';
import type { ClickEvent, NoteEvent, Timeline } from './model.ts';
import { mapOfPieces } from './paces.ts';
import type { RoundClick } from './roundClicks.ts';
import type { RoundNote } from './roundNotes.ts';
import { F, minus, plus, samplesAt, seconds, type Beats } from '../units/index.ts';

/**
 * The timeline of a layout. `clicks` and `notes` are those of one round; they sound in every repetition, up to where
 * it is cut.
 */
export const timelineOf = (
  layout: Layout,
  round: { readonly clicks: readonly RoundClick[]; readonly notes: readonly RoundNote[] },
  sampleRate: number,
): Timeline => {
  const tempo = mapOfPieces(layout.paces);
  const timeOf = positionTimes(tempo);
  const timed = (click: RoundClick, at: Beats, rep: number): ClickEvent => {
    const time = timeOf(at);
    return { ...click, at, rep, time, sample: samplesAt(time, sampleRate) };
  };
  const played = layout.repetitions.flatMap(({ rep, at, length }) =>
    round.clicks
      .filter((click) => F.less(click.at, length))
      .map((click) => timed(click, plus(at, click.at), rep)),
  );
  const counted = layout.counts.map(({ rep, ...click }) => timed(click, click.at, rep));
  const clicks = [...counted, ...played].sort((a, b) => F.compare(a.time, b.time));

  const notes = layout.repetitions.flatMap(({ rep, at, length }) =>
    round.notes
      .filter((found) => F.less(found.at, length))
      .map((found): NoteEvent => {
        const begins = plus(at, found.at);
        const ends = plus(
          at,
          F.less(length, plus(found.at, found.length)) ? length : plus(found.at, found.length),
        );
        const time = timeOf(begins);
        return {
          ...found,
          id: `${found.note}-t${found.pass}-r${rep}`,
          at: begins,
          length: minus(ends, begins),
          time,
          duration: seconds(F.sub(timeOf(ends), time)),
          rep,
        };
      }),
  );
  return { sampleRate, bars: layout.bars, tempo, clicks, notes, duration: timeOf(layout.length) };
};
