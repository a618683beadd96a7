/** How the notes of a drill are to sound: as written, and where dynamics count in some times only, time by time. */
import { timesNamed, timeThrough } from '../../drill/ownMarks.ts';
import type { Timeline } from '../../drill/model.ts';
import type { WorkedDrill } from '../../drill/workOut.ts';
import { noteShapes, type NoteShape } from './shapes.ts';

/** What is needed of a drill that was worked out. */
export interface ShapedDrill extends Pick<WorkedDrill, 'drill' | 'round' | 'parts'> {
  readonly timeline: Pick<Timeline, 'notes'>;
}

/** By the id of the written note, and by the id of the timeline's note where it sounds otherwise in that time. */
export const drillShapes = (worked: ShapedDrill): ReadonlyMap<string, NoteShape> => {
  const shapes = new Map(noteShapes(worked.parts));
  const named = timesNamed(worked.parts);
  if (named.size === 0) return shapes;
  const byTime = new Map([...named].map((time) => [time, noteShapes(worked.parts, time)]));
  const timeOf = timeThrough(worked);
  for (const event of worked.timeline.notes) {
    const shape = byTime.get(timeOf(event))?.get(event.note);
    if (shape !== undefined) shapes.set(event.id, shape);
  }
  return shapes;
};
