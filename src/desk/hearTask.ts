/** From a drill to what each player is expected to play, and how its click sounds, for the ear. */
import type { WorkedDrill } from '../drill/workOut.ts';
import type { Task } from '../listen/locate.ts';
import { listeningRate, type ClickSound, type ExpectedClick, type ExpectedNote } from '../listen/model.ts';
import { resampled } from '../listen/resample.ts';
import { clickMaker, usualLevel, type ClickRegister } from '../sound/click.ts';
import { softness } from '../sound/clickQueue.ts';
import { accented } from '../sound/clickTrack.ts';
import { noteShapes } from '../sound/parts/shapes.ts';
import { isLight } from '../sound/registers.ts';
import { ok, secondsNumber, type Result } from '../units/index.ts';

/** The click as it lies in click.wav, brought to the listening rate. Errors: those of `clickMaker`. */
export const clickSound = (sampleRate: number, register: ClickRegister): Result<ClickSound> => {
  const maker = clickMaker(sampleRate, usualLevel, register);
  if (!maker.ok) return maker;
  const heard = (character: 'beat' | 'first beat'): Float32Array =>
    resampled(Float32Array.from(maker.value(character)), sampleRate, listeningRate);
  return ok({ beat: heard('beat'), first: heard('first beat') });
};

/** The notes that a player is to play, by time. */
export const expectedNotes = ({ timeline, parts }: WorkedDrill, part: string): readonly ExpectedNote[] => {
  const shapes = noteShapes(parts);
  const bars = new Set<string>();
  let bound = false;
  return timeline.notes
    .filter((note) => note.part === part && note.kept)
    .map((note) => {
      const bar = `${note.rep}/${note.pass}/${note.barIndex}`;
      const entry = !bars.has(bar);
      bars.add(bar);
      const slurred = bound;
      bound = shapes.get(note.note)?.slurred === true;
      return {
        id: note.id,
        time: secondsNumber(note.time),
        duration: secondsNumber(note.duration),
        midi: note.midi,
        slurred,
        entry,
      };
    });
};

/** The drill's clicks as they sound. */
export const expectedClicks = ({ timeline, drill }: WorkedDrill): readonly ExpectedClick[] =>
  accented(timeline.clicks, isLight(drill.click)).map(({ time, first, kind, word }) => ({
    time: secondsNumber(time),
    first,
    ...(kind === 'count-in' && word !== null ? { underWord: softness } : {}),
  }));

/** What the ear needs to know before it hears one player. */
export const taskOf = (worked: WorkedDrill, part: string, click: ClickSound, onClock: boolean): Task => ({
  notes: expectedNotes(worked, part),
  clicks: expectedClicks(worked),
  click,
  onClock,
});
