/** What had to be left out, mended or assumed, each kind said once with its count. */
import {
  countText,
  notKeptProblem,
  problem,
  timesText,
  type Problem,
  type Severity,
} from '../../../units/index.ts';
import type { CheckedFile } from './chunks.ts';
import type { RawMidi } from './events.ts';
import type { Placement } from './quantise.ts';

/** What the checks and the gathering left out or mended, each kind once. */
export const fileProblems = (file: CheckedFile, { counts }: RawMidi): Problem[] => {
  return [
    ...countedProblem(
      'repair',
      'file-truncated',
      file.tracksCut,
      'track breaks off or holds bytes that are no MIDI; what stands before is read.',
      'tracks break off or hold bytes that are no MIDI; what stands before is read.',
    ),
    ...countedProblem(
      'repair',
      'midi-tracks-missing',
      file.tracksMissing,
      'track is promised by the header and is not there. Was the file copied in full?',
      'tracks are promised by the header and are not there. Was the file copied in full?',
    ),
    ...countedProblem(
      'repair',
      'midi-tracks-extra',
      file.tracksExtra,
      'track more than the header promises is there; it is read.',
      'tracks more than the header promises are there; they are read.',
    ),
    ...countedProblem(
      'repair',
      'midi-event-broken',
      file.badEvents,
      'event has a wrong length; it is left out.',
      'events have a wrong length; they are left out.',
    ),
    ...countedProblem(
      'repair',
      'metre-unreadable',
      file.badMetres,
      'time signature has no beats, or beats shorter than a 1024th; it is left out.',
      'time signatures have no beats, or beats shorter than a 1024th; they are left out.',
    ),
    ...countedProblem(
      'repair',
      'key-unreadable',
      counts.badKeys,
      'key signature has more than 7 sharps or flats; it is left out.',
      'key signatures have more than 7 sharps or flats; they are left out.',
    ),
    ...countedProblem(
      'note',
      'text-shortened',
      file.longTexts,
      'text is longer than 4096 bytes; the rest of it is left out.',
      'texts are longer than 4096 bytes; the rest of them is left out.',
    ),
    ...countedProblem(
      'repair',
      'midi-note-unclosed',
      counts.unclosed,
      'note is never let go; it lasts until the end of its track.',
      'notes are never let go; they last until the end of their track.',
    ),
    ...countedProblem(
      'repair',
      'midi-note-unopened',
      counts.unopened,
      'note ends that never began; this end is passed over.',
      'notes end that never began; these ends are passed over.',
    ),
    ...countedProblem(
      'repair',
      'midi-note-crowded',
      counts.crowded,
      'note is struck while 16 of the same key still sound; the first of these is ended there.',
      'notes are struck while 16 of the same key still sound; the first of these is ended each time.',
    ),
    ...countedNotKept('A message to a certain machine (system exclusive)', file.exclusive),
    ...countedNotKept('What controllers and pressure say (pedal, volume and the like)', counts.controllers),
    ...countedNotKept('A bend of the pitch away from that of the key', counts.bends),
    ...countedNotKept('A change of sound within a part after its first', counts.programs),
    ...countedNotKept('A text or cue point that is no track name, marker or lyric', counts.texts),
  ];
};

/** A kind of finding with its count, if it was found at all, in words for one and for several. */
export const countedProblem = (
  severity: Severity,
  code: string,
  count: number,
  one: string,
  several: string,
): readonly Problem[] => (count > 0 ? [problem(severity, code, countText(count, one, several))] : []);

/** What the file holds and the model does not, if it is there at all, with how often. */
export const countedNotKept = (what: string, count: number): readonly Problem[] =>
  count > 0 ? [notKeptProblem(what, `found ${timesText(count)}`)] : [];

const quarters = (value: number): string => (value < 0.001 ? 'less than 0.001' : value.toFixed(3));

export const placementProblems = ({
  onsetsMoved,
  endsMoved,
  rounded,
  largest,
  written,
}: Placement): Problem[] => {
  const problems: Problem[] = [];
  if (onsetsMoved + endsMoved > 0)
    problems.push(
      problem(
        'assumption',
        'midi-quantised',
        `${written ? 'The file was written, not played, but not all of it lies on note values' : 'The file seems to be played, not written'}: ` +
          `${countText(onsetsMoved, 'onset', 'onsets')} and ${countText(endsMoved, 'end of a note', 'ends of notes')} are moved to the nearest note value, by up to ${quarters(largest)} of a quarter.`,
      ),
    );
  if (rounded > 0)
    problems.push(
      problem(
        'assumption',
        'midi-ticks-rounded',
        `${countText(rounded, 'onset or end lies between the ticks of the file; the note value that it stands for is', 'onsets and ends lie between the ticks of the file; the note values that they stand for are')} taken.`,
      ),
    );
  return problems;
};
